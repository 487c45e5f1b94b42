package app

import (
	"slices"
	"testing"

	"rungbook/internal/studio"
	"rungbook/internal/testkit"
)

func TestLadderPageCountsOnesOwnClasses(t *testing.T) {
	d := openDesk(t)
	for name, c := range map[string]struct {
		actor studio.Actor
		want  []string
	}{
		"owner": {d.owner, []string{"Amberclass", "Berylclass"}}, "teacher of A": {d.teacher, []string{"Amberclass"}},
		"teacher of B": {d.actor(t, "ac03"), []string{"Berylclass"}}, "assistant is told of no class": {d.assistant, nil},
	} {
		page, err := d.LadderPageOf(t.Context(), c.actor, "handstand", false)
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		var names []string
		for _, class := range page.Classes {
			names = append(names, class.Name)
			for _, r := range class.Rungs {
				if sum := r.Waiting + r.Open + r.Working + r.Secure + r.Recheck; sum != class.Children {
					t.Errorf("%s: %s counts %d of %d children at %s", name, class.Name, sum, class.Children, r.Name)
				}
			}
		}
		if !slices.Equal(names, c.want) {
			t.Errorf("%s: classes %v, want %v", name, names, c.want)
		}
	}
	_, err := d.LadderPageOf(t.Context(), d.parent, "handstand", false)
	wantCode(t, "a parent reads no ladder", err, studio.NotFound)
	_, err = d.LadderPageOf(t.Context(), d.owner, "no-ladder", false)
	wantCode(t, "no such ladder", err, studio.NotFound)
}

// The counts, from few marks read, are those that the class page finds from all of them.
func TestLadderPageAgreesWithTheClassPage(t *testing.T) {
	d := openDesk(t)
	page, err := d.LadderPageOf(t.Context(), d.teacher, "handstand", true)
	if err != nil {
		t.Fatal(err)
	}
	class, err := d.ClassOf(t.Context(), d.teacher, testkit.SampleID("c0a0"), ClassAsk{})
	if err != nil {
		t.Fatal(err)
	}
	for i, r := range page.Classes[0].Rungs {
		found := map[string]int{}
		for _, c := range class.Children {
			found[c.Cells[0].States[i]]++
		}
		if want := map[string]int{"waiting": r.Waiting, "open": r.Open, "working": r.Working, "secure": r.Secure, "recheck": r.Recheck}; !sameCounts(found, want) {
			t.Errorf("%s: %v on the ladder's page, %v on the class's", r.Name, want, found)
		}
	}
}

func sameCounts(a, b map[string]int) bool {
	for key := range b {
		if a[key] != b[key] {
			return false
		}
	}
	return true
}

// Every ladder of the starter library is drawn with what it needs beneath it, at once and the whole way.
func TestMapsOfTheStarterLibrary(t *testing.T) {
	library, err := newLadders(starter(t))
	if err != nil {
		t.Fatal(err)
	}
	for _, ladder := range library.Ladders {
		near, err := library.mapOf(ladder, false)
		if err != nil {
			t.Fatal(err)
		}
		whole, err := library.mapOf(ladder, true)
		if err != nil {
			t.Fatal(err)
		}
		if len(whole.Rungs) != len(near.Rungs)+near.Further {
			t.Errorf("%s: %d rungs the whole way, %d at once and %d further", ladder.Name, len(whole.Rungs), len(near.Rungs), near.Further)
		}
		y := map[string]float64{}
		for _, r := range whole.Rungs {
			y[r.Key] = r.Y
		}
		for _, r := range whole.Rungs {
			for _, need := range library.rungs[r.Key].Needs {
				if y[need] <= y[r.Key] {
					t.Errorf("%s: %s is not beneath %s", ladder.Name, need, r.Key)
				}
			}
		}
		t.Logf("%s: %d rungs with %d crossings, the whole way %d with %d", ladder.Key, len(near.Rungs), near.Crossings, len(whole.Rungs), whole.Crossings)
	}
}
