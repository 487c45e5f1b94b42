package home

import (
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// excepted is a drill that breaks every rule which an exception lifts, with a child for whom it was ticked.
func excepted() (Drill, Child) {
	d, c := allowed(), child()
	d.HomeSafe, d.HomeReason = false, "upside down"
	d.Inverted, d.BackBend, d.Flight, d.Partner = true, true, true, true
	c.Excepted = []string{d.ID}
	return d, c
}

// The rule, "no inversion, no back-bend over the head, no flight, no partner lifts, unless a teacher has ticked it for that child and an
// adult is present", is common practice, no source; that no parent stands in for a spotter is a cautious choice of ours.
func TestAnExceptionLiftsOneRuleOnly(t *testing.T) {
	d, c := excepted()
	got := Suggest(c, []Drill{d})
	if len(got.Suggested) != 1 || !got.Suggested[0].Adult || !got.Suggested[0].Excepted || !strings.Contains(got.Suggested[0].Reason, "an adult must be in the room") {
		t.Fatalf("a ticked drill: %+v", got)
	}
	for _, x := range []struct {
		name   string
		change func(*Drill, *Child)
		want   Rule
	}{
		{"ticked for no drill", func(_ *Drill, c *Child) { c.Excepted = nil }, NotMarked},
		{"ticked for another drill", func(_ *Drill, c *Child) { c.Excepted = []string{"wall-walk"} }, NotMarked},
		{"marked safe, and upside down without a tick", func(d *Drill, c *Child) { d.HomeSafe, c.Excepted = true, nil }, Inversion},
		{"a spotter is needed", func(d *Drill, _ *Child) { d.Spotters = 1 }, Spotter},
		{"equipment that is not listed", func(d *Drill, _ *Child) { d.Equipment = []string{"trampoline"} }, NotListed},
		{"no dose", func(d *Drill, _ *Child) { d.Dose.Repeats = 0 }, NoDose},
		{"back to be spared", func(d *Drill, c *Child) { d.Load, c.Limits.AvoidBack = Load{Back: 1}, true }, CareLimit},
		{"wrists to be spared", func(_ *Drill, c *Child) { c.Limits.AvoidWrists = true }, CareLimit},
		{"landings to be spared", func(d *Drill, c *Child) { d.Load, c.Limits.AvoidLanding = Load{Landing: 1}, true }, CareLimit},
		{"not upside down for now", func(_ *Drill, c *Child) { c.Limits.AvoidInverted = true }, CareLimit},
		{"at home already", func(d *Drill, c *Child) { c.Has = []string{d.ID} }, AlreadyHas},
		{"answers nothing", func(_ *Drill, c *Child) { c.Seen, c.Goals = nil, nil }, NoUse},
		{"past the week", func(_ *Drill, c *Child) { c.Left.Wrists = 11 }, WeekLoadCap},
	} {
		d, c := excepted()
		x.change(&d, &c)
		if got := Suggest(c, []Drill{d}); len(got.Suggested) != 0 || len(got.Refused) != 1 || got.Refused[0].Rule != x.want {
			t.Errorf("%s: got %+v, want refused by %q", x.name, got, x.want)
		}
	}
}

func TestATickForASafeDrillChangesNothing(t *testing.T) {
	d, c := allowed(), child()
	c.Excepted = []string{d.ID}
	if got := Suggest(c, []Drill{d}).Suggested; len(got) != 1 || got[0].Excepted || got[0].Adult {
		t.Errorf("got %+v", got)
	}
}

// randomDrills break any rules, randomly.
func randomDrills(t *rapid.T) []Drill {
	b, n := rapid.Bool(), rapid.IntRange(0, 2)
	drills := make([]Drill, rapid.IntRange(0, 6).Draw(t, "drills"))
	for i := range drills {
		drills[i] = Drill{ID: string(rune('a' + i)), Name: "x", HomeSafe: b.Draw(t, "safe"), HomeReason: "why", Inverted: b.Draw(t, "inv"), BackBend: b.Draw(t, "bend"),
			Flight: b.Draw(t, "fly"), Partner: b.Draw(t, "two"), Spotters: n.Draw(t, "spot"), Equipment: rapid.SampledFrom([][]string{nil, {"cushion"}, {"bench"}}).Draw(t, "with"),
			Load: Load{n.Draw(t, "b"), n.Draw(t, "w"), n.Draw(t, "l")}, Answers: rapid.SampledFrom([][]string{nil, {"soft-middle"}}).Draw(t, "answers"),
			Dose: Dose{n.Draw(t, "sets"), n.Draw(t, "reps"), 0, n.Draw(t, "days")}}
	}
	return drills
}

func randomChild(t *rapid.T) Child {
	b, n := rapid.Bool(), rapid.IntRange(0, 12)
	c := child()
	c.Limits = Limits{b.Draw(t, "no back"), b.Draw(t, "no wrists"), b.Draw(t, "no landing"), b.Draw(t, "no inv")}
	c.Left = Load{n.Draw(t, "left b"), n.Draw(t, "left w"), n.Draw(t, "left l")}
	c.Excepted = rapid.SliceOf(rapid.SampledFrom([]string{"a", "b", "c"})).Draw(t, "ticked")
	return c
}

// breaks says anew, in words of its own, which rule a suggestion breaks; "" for none.
func breaks(d Drill, c Child, ticked bool) string {
	l := c.Limits
	switch {
	case (!d.HomeSafe || d.Inverted || d.BackBend || d.Flight || d.Partner) && !ticked:
		return "unsafe without a tick"
	case d.Spotters != 0:
		return "needs a spotter"
	case len(d.Equipment) == 1 && d.Equipment[0] != "cushion":
		return "needs what is not there"
	case l.AvoidBack && d.Load.Back > 0 || l.AvoidWrists && d.Load.Wrists > 0 || l.AvoidLanding && d.Load.Landing > 0 || l.AvoidInverted && d.Inverted:
		return "against a care limit"
	case d.WeekLoad().Back > c.Left.Back || d.WeekLoad().Wrists > c.Left.Wrists || d.WeekLoad().Landing > c.Left.Landing:
		return "past the week"
	}
	return ""
}

func TestNothingForbiddenIsSuggestedToAChildOrAClass(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		drills := randomDrills(t)
		byID := map[string]Drill{}
		for _, d := range drills {
			byID[d.ID] = d
		}
		children := []Child{randomChild(t), randomChild(t)}
		for _, c := range children {
			for _, s := range Suggest(c, drills).Suggested {
				d := byID[s.Drill]
				ticked := slices.Contains(c.Excepted, d.ID)
				if rule := breaks(d, c, ticked); rule != "" || s.Excepted && !s.Adult {
					t.Fatalf("%s: %+v for %+v", rule, d, c)
				}
			}
		}
		for _, s := range ForClass(children, drills) {
			for _, i := range s.Suits {
				if rule := breaks(byID[s.Drill], children[i], false); rule != "" {
					t.Fatalf("for the class, %s: %+v for %+v", rule, byID[s.Drill], children[i])
				}
			}
		}
	})
}

func TestForClassPutsWhatAnswersMostFirst(t *testing.T) {
	one, two, none := child(), child(), child()
	two.Seen = []Seen{{"soft-middle", "a soft middle", 1}}
	none.Limits.AvoidWrists, none.Goals = true, nil
	wide, narrow, safe := allowed(), allowed(), allowed()
	narrow.ID, narrow.Answers = "narrow", nil
	safe.ID, safe.Load, safe.Prepares = "light", Load{}, nil
	got := ForClass([]Child{one, two, none}, []Drill{narrow, safe, wide})
	// light: 2·3 + 2·1 + 2·3 for all three; hollow: (6+1) + (2+1) for the first two; narrow: 1 + 1.
	want := []Shared{{"light", 14, []int{0, 1, 2}}, {"hollow", 10, []int{0, 1}}, {"narrow", 2, []int{0, 1}}}
	if len(got) != len(want) {
		t.Fatalf("got %+v", got)
	}
	for i := range want {
		if got[i].Drill != want[i].Drill || got[i].Worth != want[i].Worth || len(got[i].Suits) != len(want[i].Suits) {
			t.Errorf("place %d: got %+v, want %+v", i+1, got[i], want[i])
		}
	}
}
