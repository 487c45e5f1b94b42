package pacing

import (
	"fmt"
	"slices"
)

// Breach is a rule that a plan breaks, and where. Fields that do not apply are zero.
type Breach struct {
	Rule   Rule
	Week   int
	RungID string
	NeedID string
	Kind   Kind
	Words  string
}

// Check judges where a plan puts the rungs, also one that people have changed, rung by rung and then week by week. It reads
// only Plan.Rungs and of these only the rung and its week; it shares no code with the solver.
func Check(p Problem, plan Plan) ([]Breach, error) {
	if err := validate(p); err != nil {
		return nil, err
	}
	c := &checker{p: p, week: map[string]int{}}
	c.places(plan)
	for _, r := range sortedRungs(p) {
		c.rung(r)
	}
	for w := p.Done + 1; w <= p.Weeks; w++ {
		if !slices.Contains(p.Holidays, w) {
			c.inWeek(w)
		}
	}
	return c.out, nil
}

type checker struct {
	p    Problem
	week map[string]int
	out  []Breach
}

func (c *checker) add(b Breach, format string, args ...any) {
	b.Words = fmt.Sprintf(format, args...)
	c.out = append(c.out, b)
}

// places finds the week of every rung.
func (c *checker) places(plan Plan) {
	known := map[string]bool{}
	for _, r := range c.p.Rungs {
		known[r.ID] = true
	}
	for _, r := range plan.Rungs {
		switch {
		case !known[r.RungID]:
			c.add(Breach{Rule: RuleTerm, RungID: r.RungID, Week: r.Week}, "There is no rung %q in this term.", r.RungID)
		case c.week[r.RungID] != 0:
			c.add(Breach{Rule: RuleTerm, RungID: r.RungID, Week: r.Week}, "%q is in the plan twice.", r.RungID)
		default:
			c.week[r.RungID] = r.Week
		}
	}
}

func (c *checker) rung(r Rung) {
	w, p := c.week[r.ID], c.p
	at := Breach{RungID: r.ID, Week: w}
	breach := func(rule Rule) Breach { at.Rule = rule; return at }
	if r.Taught > 0 {
		if w != r.Taught {
			c.add(breach(RuleTaught), "%s was taught in week %d and stays there.", r.name(), r.Taught)
		}
		return
	}
	if w < 1 || w > p.Weeks {
		c.add(breach(RuleTerm), "%s has no week of the term.", r.name())
		return
	}
	if w <= p.Done {
		c.add(breach(RuleTerm), "%s was not taught in week %d, and that week is over.", r.name(), w)
	}
	if slices.Contains(p.Holidays, w) {
		c.add(breach(RuleHoliday), "%s is in week %d, which has no lesson.", r.name(), w)
	} else if slices.Contains(p.Quiet, w) {
		c.add(breach(RuleQuiet), "%s is in week %d, which has nothing new.", r.name(), w)
	}
	if r.Earliest > w {
		c.add(breach(RuleEarliest), "%s is in week %d, before its earliest, %d.", r.name(), w, r.Earliest)
	}
	if r.Latest > 0 && r.Latest < w {
		c.add(breach(RuleLatest), "%s is in week %d, after its latest, %d.", r.name(), w, r.Latest)
	}
	if r.Pin > 0 && r.Pin != w {
		c.add(breach(RulePin), "%s is pinned to week %d and is in week %d.", r.name(), r.Pin, w)
	}
	c.needs(r, w)
	c.revisits(r, w)
}

func (c *checker) needs(r Rung, w int) {
	for _, n := range r.Needs {
		lag, before := max(n.Lag, 1), c.week[n.ID]
		if before > 0 && before+lag > w {
			c.add(Breach{Rule: RuleNeed, RungID: r.ID, NeedID: n.ID, Week: w}, "%s is in week %d; what it needs, %s, is in week %d and should be at least %s before.",
				r.name(), w, c.name(n.ID), before, weeks(lag))
		}
	}
}

func (c *checker) revisits(r Rung, w int) {
	p := c.p
	all, byShow := 0, 0
	for v := w + 1; v <= p.Weeks; v++ {
		if !c.sees(r, w, v) {
			continue
		}
		all++
		if v <= p.Showcase.Week {
			byShow++
		}
	}
	if want := min(p.Limits.Revisits, len(r.Again)); all < want {
		c.add(Breach{Rule: RuleRevisits, RungID: r.ID, Week: w}, "%s is new in week %d and then seen again %s in this term; it should be %s.", r.name(), w, times(all), times(want))
	}
	if p.Showcase.Week == 0 || !slices.Contains(p.Showcase.Rungs, r.ID) {
		return
	}
	if w > p.Showcase.Week {
		c.add(Breach{Rule: RuleShowcase, RungID: r.ID, Week: w}, "%s is in week %d, after the showcase in week %d.", r.name(), w, p.Showcase.Week)
	} else if want := min(p.Showcase.Revisits, len(r.Again)); byShow < want {
		c.add(Breach{Rule: RuleShowcase, RungID: r.ID, Week: w}, "%s is new in week %d and then seen again %s by the showcase in week %d; it should be %s.", r.name(), w, times(byShow), p.Showcase.Week, times(want))
	}
}

// sees reports whether a rung that is new in week w is seen again in week v: it was due then, or in a week since the last
// lesson.
func (c *checker) sees(r Rung, w, v int) bool {
	if slices.Contains(c.p.Holidays, v) {
		return false
	}
	for due := v; due > w; due-- {
		if due < v && !slices.Contains(c.p.Holidays, due) {
			return false
		}
		if slices.Contains(r.Again, due-w) {
			return true
		}
	}
	return false
}

func (c *checker) inWeek(w int) {
	p, number, load := c.p, 0, Load{}
	for _, r := range p.Rungs {
		switch at := c.week[r.ID]; {
		case at == w:
			number++
			load = Load{load.New + r.Load.New, load.Back + r.Load.Back, load.Wrists + r.Load.Wrists}
		case at > 0 && c.sees(r, at, w):
			load = Load{load.New + r.AgainLoad.New, load.Back + r.AgainLoad.Back, load.Wrists + r.AgainLoad.Wrists}
		}
	}
	quiet := slices.Contains(p.Quiet, w)
	if number < p.Limits.MinNew && !quiet {
		c.add(Breach{Rule: RuleMinNew, Week: w}, "Week %d has %d new; the least is %d.", w, number, p.Limits.MinNew)
	}
	if p.Limits.MaxNew > 0 && number > p.Limits.MaxNew && !quiet {
		c.add(Breach{Rule: RuleMaxNew, Week: w}, "Week %d has %d new; the most is %d.", w, number, p.Limits.MaxNew)
	}
	for _, k := range Kinds() {
		if got, least := load.Of(k), p.Limits.MinLoad.Of(k); got < least {
			c.add(Breach{Rule: RuleMinLoad, Week: w, Kind: k}, "Week %d has a load of %d on %s; the least is %d.", w, got, k, least)
		}
		if got, most := load.Of(k), p.Limits.MaxLoad.Of(k); most > 0 && got > most {
			c.add(Breach{Rule: RuleMaxLoad, Week: w, Kind: k}, "Week %d has a load of %d on %s; the most is %d.", w, got, k, most)
		}
	}
}

func (c *checker) name(id string) string {
	for _, r := range c.p.Rungs {
		if r.ID == id {
			return r.name()
		}
	}
	return id
}

func weeks(n int) string {
	if n == 1 {
		return "1 week"
	}
	return fmt.Sprintf("%d weeks", n)
}

func times(n int) string {
	if n == 1 {
		return "once"
	}
	return fmt.Sprintf("%d times", n)
}
