package pacing

import (
	"context"
	"errors"
	"slices"
	"strings"
	"testing"
	"time"
)

// hasPlan reports whether there is a plan that keeps these rules, whatever it does to the others: every plan is tried.
func (c clashSet) hasPlan(t *testing.T, p Problem) bool {
	b := &brute{p: p, first: true, only: func(b Breach) bool {
		return slices.ContainsFunc(c, func(k Clash) bool {
			if k.Rule == RuleHoliday || k.Rule == RuleQuiet {
				return k.Rule == b.Rule && k.Week == b.Week
			}
			if k.Rule != b.Rule || k.RungID != b.RungID || k.NeedID != b.NeedID || k.Kind != b.Kind {
				return false
			}
			return k.RungID != "" || k.Week == b.Week
		})
	}}
	b.run(t)
	return b.found
}

type clashSet []Clash

func withoutRung(p Problem, id string) Problem {
	p.Rungs = slices.DeleteFunc(slices.Clone(p.Rungs), func(r Rung) bool { return r.ID == id })
	p.Showcase.Rungs = slices.DeleteFunc(slices.Clone(p.Showcase.Rungs), func(r string) bool { return r == id })
	for i, r := range p.Rungs {
		p.Rungs[i].Needs = slices.DeleteFunc(slices.Clone(r.Needs), func(n Need) bool { return n.ID == id })
	}
	return p
}

// The clashes alone leave no plan, and none of them can be left out; both by trying every plan.
func TestClashesAreEnoughAndAllNeeded(t *testing.T) {
	tried := 0
	for seed := range uint64(260) {
		p := term(7000+seed, 4+int(seed%2), 4)
		_, err := Solve(context.Background(), p, Options{Time: time.Minute})
		var no *Infeasible
		if !errors.As(err, &no) {
			continue
		}
		tried++
		if !no.Tight || len(no.Clashes) == 0 || no.Words == "" {
			t.Errorf("seed %d: %+v", seed, no)
		}
		if clashSet(no.Clashes).hasPlan(t, p) {
			t.Errorf("seed %d: there is a plan that keeps %v", seed, no)
		}
		floors := false
		for i, c := range no.Clashes {
			floors = floors || c.Rule == RuleMinNew || c.Rule == RuleMinLoad
			if fewer := slices.Delete(slices.Clone(no.Clashes), i, i+1); c.Rule != RuleTerm && !clashSet(fewer).hasPlan(t, p) {
				t.Errorf("seed %d: without %q there is still no plan: %v", seed, c.Words, no)
			}
		}
		for _, id := range no.Rungs {
			if !floors && !clashSet(no.Clashes).hasPlan(t, withoutRung(p, id)) {
				t.Errorf("seed %d: without %s there is still no plan: %v", seed, id, no)
			}
		}
	}
	if tried < 40 {
		t.Errorf("only %d terms had no plan", tried)
	}
}

// Worked by hand.
func TestWordsOfWhatIsInTheWay(t *testing.T) {
	three := func(change func(p *Problem)) Problem {
		p := Problem{Weeks: 6, Rungs: []Rung{
			{ID: "a", Name: "Tuck sit"},
			{ID: "b", Name: "Shoulder roll", Needs: []Need{{"a", 2}}},
			{ID: "c", Name: "Bridge", Needs: []Need{{"b", 2}}},
			{ID: "d", Name: "Balance"},
		}}
		change(&p)
		return p
	}
	for _, c := range []struct {
		what  string
		p     Problem
		words string
		rungs string
		help  string
	}{
		{"a chain to a showcase", three(func(p *Problem) { p.Showcase = Showcase{Week: 4, Rungs: []string{"c", "d"}} }),
			"Tuck sit, Shoulder roll and Bridge come one after the other, 2 weeks apart; Bridge is in by the showcase in week 4. That leaves Bridge week 5 at the earliest, in a term of 6 weeks.", "a b c", "a showcase one week later, leaving Bridge out"},
		{"a chain past the end of the term", three(func(p *Problem) { p.Done = 2 }),
			"Tuck sit, Shoulder roll and Bridge come one after the other, 2 weeks apart. That leaves Bridge week 7 at the earliest, in a term of 6 weeks.", "a b c", "one week more, leaving Bridge out"},
		{"a pin in a holiday", three(func(p *Problem) { p.Holidays, p.Rungs[3].Pin = []int{2}, 2 }),
			"Balance is pinned to week 2; week 2 has no lesson. That leaves no week for Balance.", "d", "letting the pin of Balance go, leaving Balance out"},
		{"a pin in the past", three(func(p *Problem) { p.Weeks, p.Done, p.Rungs[3].Pin = 9, 1, 1 }),
			"Balance is pinned to week 1, which is over. That leaves no week for Balance.", "d", "letting the pin of Balance go, leaving Balance out"},
		{"too many for a week", three(func(p *Problem) { p.Limits.MaxNew, p.Rungs[0].Pin, p.Rungs[3].Pin = 1, 1, 1 }),
			"Tuck sit and Balance are pinned to week 1; week 1 has at most 1 new. That leaves too little room for Tuck sit and Balance.", "a d", "letting the pin of Tuck sit go, letting the pin of Balance go, one more new rung a week"},
		{"too few for every week", three(func(p *Problem) { p.Limits.MinNew = 1 }),
			"Weeks 1 to 5 have at least 1 new; rungs that are left to meet: 4.", "", "one new rung a week fewer at the least"},
		{"a term that is over", three(func(p *Problem) { p.Done = 6 }),
			"No week with a lesson is left in the term. That leaves no week for a rung.", "?", ""},
	} {
		_, err := Solve(context.Background(), c.p, Options{Time: time.Minute})
		var no *Infeasible
		if !errors.As(err, &no) {
			t.Errorf("%s: %v", c.what, err)
			continue
		}
		if c.rungs == "?" { // any rung will do
			if len(no.Rungs) != 1 || !strings.HasPrefix(no.Words, "No week with a lesson is left in the term.") {
				t.Errorf("%s: %+v", c.what, no)
			}
			continue
		}
		if help := strings.Join(no.Help, ", "); no.Words != c.words || help != c.help || strings.Join(no.Rungs, " ") != c.rungs {
			t.Errorf("%s:\n%s (%v; %s)\nwant\n%s (%s; %s)", c.what, no.Words, no.Rungs, help, c.words, c.rungs, c.help)
		}
	}
}

// What is said to help does, by a search of its own; the words are two sentences at most.
func TestHelpHelps(t *testing.T) {
	tried, helped := 0, 0
	for seed := range uint64(60) {
		_, err := Solve(context.Background(), term(seed+7000, 10, 16), Options{Time: time.Minute})
		var no *Infeasible
		if !errors.As(err, &no) {
			continue
		}
		if tried++; strings.Count(no.Words, ". ") > 1 || len(no.Help) > mostHelp {
			t.Errorf("seed %d: %q, %q", seed, no.Words, no.Help)
		}
		if len(no.Help) > 0 {
			helped++
		}
		s := &solver{ctx: context.Background(), p: term(seed+7000, 10, 16)}
		for _, ways := range [][]wayOut{s.letGo(no), s.moreOf(no), s.leaveOut(no)} {
			for _, w := range ways {
				if !slices.Contains(no.Help, w.words) {
					continue
				}
				if _, err := Solve(context.Background(), w.p, Options{}); err != nil {
					t.Errorf("seed %d: %s does not help: %v", seed, w.words, err)
				}
			}
		}
	}
	if tried < 10 || helped*2 < tried {
		t.Errorf("of %d terms without a plan %d have a way out", tried, helped)
	}
	t.Logf("of %d terms without a plan %d have a way out", tried, helped)
}
