package people

import (
	"strings"
	"testing"

	"rungbook/internal/app"
)

// The page's words for a lesson: what is short is said as a breach, and nobody under 18 is counted as an adult.
func TestNightWords(t *testing.T) {
	n := app.CoverNight{Children: 9, Spare: 0, Here: []app.CoverPerson{{Name: "Ana", Counts: "adult"}, {Name: "Di", Counts: "under 18: may spot, does not count as an adult"}}}
	n.Verdict.Enough = true
	v := newNightView(n)
	if v.Short || !strings.Contains(v.Spare, "only somebody under 18") || v.People != "Ana (adult) and Di (under 18: may spot, does not count as an adult)" {
		t.Errorf("%+v", v)
	}
	n.Spare = 2
	if v = newNightView(n); !strings.Contains(v.Spare, "2 adults more") {
		t.Errorf("%+v", v)
	}
	n.Verdict.Enough = false
	if v = newNightView(n); !v.Short || v.Spare != "" {
		t.Errorf("%+v", v)
	}
}
