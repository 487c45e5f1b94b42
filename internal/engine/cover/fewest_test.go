package cover

import (
	"fmt"
	"math/bits"
	"slices"
	"testing"
	"time"

	"pgregory.net/rapid"
)

// Against every group of the people there are: none that covers all rungs is smaller, and the one given does.
func TestFewestAgainstEveryGroup(t *testing.T) {
	day := time.Date(2026, 3, 28, 0, 0, 0, 0, time.UTC)
	rapid.Check(t, func(t *rapid.T) {
		n := Night{Date: day}
		people, count := rapid.IntRange(0, 6).Draw(t, "people"), rapid.IntRange(0, 5).Draw(t, "rungs")
		var rungs []Rung
		signed := map[[2]string]bool{}
		for i := range people {
			n.Present = append(n.Present, Person{ID: fmt.Sprint("p", i), Age: 30})
		}
		for i := range count {
			r := Rung{ID: fmt.Sprint("r", i), Spotters: rapid.IntRange(0, 2).Draw(t, "spotters")}
			rungs = append(rungs, r)
			for _, p := range n.Present {
				if rapid.Bool().Draw(t, "signed") {
					n.SignOffs = append(n.SignOffs, SignOff{Person: p.ID, Rungs: []string{r.ID}, Until: day})
					signed[[2]string{p.ID, r.ID}] = true
				}
			}
		}
		got, short := n.Fewest(rungs)
		covers := func(group []string) bool {
			for _, r := range rungs {
				have := 0
				for _, p := range group {
					if signed[[2]string{p, r.ID}] {
						have++
					}
				}
				if have < r.Spotters && !slices.Contains(short, r.ID) {
					return false
				}
			}
			return true
		}
		if !covers(got) {
			t.Fatalf("%v leaves a rung without its spotters", got)
		}
		for set := range uint(1) << people {
			var group []string
			for i, p := range n.Present {
				if set>>i&1 == 1 {
					group = append(group, p.ID)
				}
			}
			if bits.OnesCount(set) < len(got) && covers(group) {
				t.Fatalf("%v, though %v will do", got, group)
			}
		}
	})
}
