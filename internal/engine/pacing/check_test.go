package pacing

import (
	"context"
	"errors"
	"slices"
	"strings"
	"testing"
)

// hand is a term of 6 weeks that a plan keeps: a 1, b 3, c 4, d 5; week 2 is a holiday, week 6 quiet.
func hand() (Problem, map[string]int) {
	return Problem{Weeks: 6, Holidays: []int{2}, Quiet: []int{6}, Showcase: Showcase{Week: 6, Rungs: []string{"c"}, Revisits: 1},
		Rungs: []Rung{
			{ID: "a", Load: Load{3, 1, 0}, Again: []int{1}, AgainLoad: Load{1, 0, 0}},
			{ID: "b", Load: Load{2, 0, 1}, Needs: []Need{{"a", 2}}},
			{ID: "c", Load: Load{2, 2, 2}, Needs: []Need{{"b", 0}}, Again: []int{1, 2}, AgainLoad: Load{0, 1, 1}},
			{ID: "d", Load: Load{1, 1, 1}, Earliest: 4, Latest: 5, Focus: true},
		}}, map[string]int{"a": 1, "b": 3, "c": 4, "d": 5}
}

// The sums of a plan, by hand: a is due again in week 2, a holiday, and comes in week 3; c comes again in 5 and 6.
func TestSumsByHand(t *testing.T) {
	p, at := hand()
	plan := Evaluate(p, at)
	var loads []Load
	for _, w := range plan.Weeks {
		loads = append(loads, w.Load)
	}
	want := []Load{{3, 1, 0}, {}, {3, 0, 1}, {2, 2, 2}, {1, 2, 2}, {0, 1, 1}}
	if !slices.Equal(loads, want) || plan.Peak != 3 || plan.Late != 5 {
		t.Errorf("%v, peak %d, late %d", loads, plan.Peak, plan.Late)
	}
	// Variances over the five lessons: 3 3 2 1 0: 1.36; 1 0 2 2 1: 0.56; 0 1 2 2 1: 0.56. The root of their sum is 1.5748.
	if plan.Spread < 1.5747 || plan.Spread > 1.5749 {
		t.Errorf("spread %v", plan.Spread)
	}
	if got, err := Check(p, plan); err != nil || len(got) > 0 {
		t.Errorf("%v %+v", err, got)
	}
}

// Each breach is named where it is.
func TestCheckNamesTheBreach(t *testing.T) {
	for _, c := range []struct {
		rule   Rule
		week   int
		rung   string
		change func(p *Problem, at map[string]int)
	}{
		{RuleTerm, 0, "d", func(_ *Problem, at map[string]int) { delete(at, "d") }},
		{RuleTerm, 1, "a", func(p *Problem, _ map[string]int) { p.Done = 1 }},
		{RuleTaught, 2, "a", func(p *Problem, at map[string]int) {
			p.Done, p.Rungs[0].Taught, p.Rungs[1].Needs, at["a"] = 1, 1, nil, 2
		}},
		{RuleNeed, 3, "b", func(p *Problem, _ map[string]int) { p.Rungs[1].Needs[0].Lag = 3 }},
		{RuleEarliest, 5, "d", func(p *Problem, _ map[string]int) { p.Rungs[3].Earliest, p.Rungs[3].Latest = 6, 0 }},
		{RuleLatest, 5, "d", func(p *Problem, _ map[string]int) { p.Rungs[3].Latest = 4 }},
		{RulePin, 5, "d", func(p *Problem, _ map[string]int) { p.Rungs[3].Pin = 4 }},
		{RuleHoliday, 5, "d", func(p *Problem, _ map[string]int) { p.Holidays = append(p.Holidays, 5) }},
		{RuleQuiet, 5, "d", func(p *Problem, _ map[string]int) { p.Quiet = append(p.Quiet, 5) }},
		{RuleMaxNew, 4, "", func(p *Problem, at map[string]int) { p.Limits.MaxNew, at["d"] = 1, 4 }},
		{RuleMinNew, 5, "", func(p *Problem, at map[string]int) { p.Limits.MinNew, at["d"] = 1, 4 }},
		{RuleMaxLoad, 4, "", func(p *Problem, _ map[string]int) {
			p.Limits.MaxLoad.New, p.Limits.MaxLoad.Wrists = 3, 1
			p.Rungs = p.Rungs[:3:3]
			p.Rungs[2].AgainLoad = Load{}
		}},
		{RuleMinLoad, 6, "", func(p *Problem, _ map[string]int) { p.Limits.MinLoad.New = 1 }},
		{RuleRevisits, 5, "d", func(p *Problem, _ map[string]int) { p.Limits.Revisits, p.Rungs[3].Again = 1, []int{2} }},
		{RuleShowcase, 4, "c", func(p *Problem, _ map[string]int) { p.Showcase.Week = 4 }},
		{RuleShowcase, 4, "c", func(p *Problem, _ map[string]int) { p.Showcase.Week = 3 }},
	} {
		p, at := hand()
		c.change(&p, at)
		got, err := Check(p, Evaluate(p, at))
		if err != nil {
			t.Errorf("%s: %v", c.rule, err)
			continue
		}
		if !slices.ContainsFunc(got, func(b Breach) bool {
			return b.Rule == c.rule && b.Week == c.week && b.RungID == c.rung && strings.HasSuffix(b.Words, ".")
		}) || slices.ContainsFunc(got, func(b Breach) bool { return b.Rule != c.rule }) {
			t.Errorf("%s in week %d: %+v", c.rule, c.week, got)
		}
	}
	p, _ := hand()
	got, err := Check(p, Plan{Rungs: []Placed{{RungID: "x", Week: 1}, {RungID: "a", Week: 1}, {RungID: "a", Week: 3}}})
	if err != nil || len(got) < 2 || got[0].RungID != "x" || got[1].RungID != "a" {
		t.Errorf("%v %+v", err, got)
	}
}

// What makes no sense is refused with the field and what it may be.
func TestRefusals(t *testing.T) {
	for field, change := range map[string]func(p *Problem){
		"Weeks":                             func(p *Problem) { p.Weeks = 61 },
		"Done":                              func(p *Problem) { p.Done = 7 },
		"Holidays[0]":                       func(p *Problem) { p.Holidays = []int{7} },
		"Quiet[1]":                          func(p *Problem) { p.Quiet = []int{1, 0} },
		"Weights (back)":                    func(p *Problem) { p.Weights.Back = 101 },
		"Limits.MinNew":                     func(p *Problem) { p.Limits.MinNew, p.Limits.MaxNew = 3, 2 },
		"Limits.MaxLoad (wrists)":           func(p *Problem) { p.Limits.MaxLoad.Wrists = -1 },
		"Rungs[a]":                          func(p *Problem) { p.Rungs[1].ID = "a" },
		"Rungs[]":                           func(p *Problem) { p.Rungs[0].ID = "" },
		"Rungs[b].Latest":                   func(p *Problem) { p.Rungs[1].Latest = 7 },
		"Rungs[b].Taught":                   func(p *Problem) { p.Rungs[1].Taught = 1 },
		"Rungs[b].Needs[0]":                 func(p *Problem) { p.Rungs[1].Needs[0].ID = "x" },
		"Rungs[b].Needs[0].Lag":             func(p *Problem) { p.Rungs[1].Needs[0].Lag = -1 },
		"Rungs[c].Again[1]":                 func(p *Problem) { p.Rungs[2].Again[1] = 0 },
		"Rungs[d].AgainLoad (new material)": func(p *Problem) { p.Rungs[3].AgainLoad.New = 1001 },
		"Showcase.Week":                     func(p *Problem) { p.Showcase.Week = 7 },
		"Showcase.Rungs":                    func(p *Problem) { p.Showcase.Rungs = []string{"x"} },
	} {
		p, _ := hand()
		change(&p)
		_, err := Solve(context.Background(), p, Options{})
		var wrong *InputError
		if !errors.As(err, &wrong) || wrong.Field != field {
			t.Errorf("%s: %v", field, err)
		}
	}
	p, _ := hand()
	p.Rungs[0].Needs = []Need{{ID: "c"}}
	_, err := Solve(context.Background(), p, Options{})
	var circle *CycleError
	if !errors.As(err, &circle) || !slices.Equal(circle.IDs, []string{"a", "c", "b"}) {
		t.Errorf("a circle: %v", err)
	}
}
