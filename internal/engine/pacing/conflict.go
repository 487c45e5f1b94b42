package pacing

import (
	"cmp"
	"slices"
)

// clashNodes is how far a search goes to see whether fewer rules still leave no plan.
const clashNodes = 500

// whyNone finds a smallest set of rules that leaves no plan. It drops one rule after the other, for good when there is still
// no plan without it (deletion filter); of what remains no rule can be left out. It does so in two orders and keeps the
// shorter list. The problem must have no plan.
func (s *solver) whyNone() error {
	all := s.rules()
	best := s.filter(all)
	slices.Reverse(all)
	if other := s.filter(all); other.Tight && (!best.Tight || other.size() < best.size()) {
		best = other
	}
	s.explain(best)
	best.Help = s.help(best)
	return best
}

func (e *Infeasible) size() int { return len(e.Clashes) + len(e.Rungs) }

// rules lists every rule of the problem, those that are the easiest to do without first.
func (s *solver) rules() []Clash {
	p := s.p
	var out []Clash
	for w := 1; w <= p.Weeks; w++ {
		out = append(out, s.weekRules(w)...)
	}
	rungs := sortedRungs(p)
	for _, r := range rungs {
		if r.Taught > 0 {
			continue
		}
		if p.Limits.Revisits > 0 && len(r.Again) > 0 {
			out = append(out, revisitsClash(p, r))
		}
		if p.Showcase.Week > 0 && slices.Contains(p.Showcase.Rungs, r.ID) {
			out = append(out, showcaseClash(p, r))
		}
		for _, b := range []Clash{{Rule: RuleEarliest, Week: r.Earliest}, {Rule: RuleLatest, Week: r.Latest}, {Rule: RulePin, Week: r.Pin}} {
			if b.RungID = r.ID; b.Week > 0 {
				out = append(out, b)
			}
		}
	}
	for _, w := range slices.Sorted(slices.Values(p.Holidays)) {
		out = append(out, Clash{Rule: RuleHoliday, Week: w})
	}
	for _, r := range rungs {
		needs := slices.SortedFunc(slices.Values(r.Needs), func(a, b Need) int {
			return cmp.Or(cmp.Compare(a.ID, b.ID), a.Lag-b.Lag)
		})
		for _, n := range needs {
			out = append(out, needClash(r, n))
		}
	}
	slices.SortStableFunc(out, func(a, b Clash) int { return ease(a.Rule) - ease(b.Rule) })
	return slices.Compact(out)
}

// ease orders rules: the limits of weeks first, so that what is left is as far as can be about rungs.
func ease(r Rule) int {
	order := []Rule{RuleMinLoad, RuleMinNew, RuleMaxLoad, RuleMaxNew, RuleQuiet, RuleRevisits, RuleEarliest, RuleLatest, RuleHoliday, RuleShowcase, RulePin, RuleNeed}
	return slices.Index(order, r)
}

func (s *solver) weekRules(w int) []Clash {
	p := s.p
	if w <= p.Done || slices.Contains(p.Holidays, w) {
		return nil
	}
	var out []Clash
	for _, k := range Kinds() {
		if v := p.Limits.MinLoad.Of(k); v > 0 {
			out = append(out, Clash{Rule: RuleMinLoad, Week: w, Kind: k, Limit: v})
		}
		if v := p.Limits.MaxLoad.Of(k); v > 0 {
			out = append(out, Clash{Rule: RuleMaxLoad, Week: w, Kind: k, Limit: v})
		}
	}
	if slices.Contains(p.Quiet, w) {
		return append(out, Clash{Rule: RuleQuiet, Week: w})
	}
	if p.Limits.MinNew > 0 {
		out = append(out, Clash{Rule: RuleMinNew, Week: w, Limit: p.Limits.MinNew})
	}
	if p.Limits.MaxNew > 0 {
		out = append(out, Clash{Rule: RuleMaxNew, Week: w, Limit: p.Limits.MaxNew})
	}
	return out
}

// filter drops rules in the order of the list. Rungs go last, and only while no week must have a least of anything: then a
// rung less cannot be what leaves no plan.
func (s *solver) filter(all []Clash) *Infeasible {
	f := &filter{s: s, out: map[Clash]bool{}, tight: true}
	e := &Infeasible{Clashes: f.needed(all)}
	floors := e.hasRule(RuleMinNew) || e.hasRule(RuleMinLoad)
	var rungs []Clash
	for _, r := range sortedRungs(s.p) {
		if r.Taught == 0 && (!floors || e.names(r.ID)) {
			rungs = append(rungs, Clash{Rule: RuleTerm, RungID: r.ID})
		}
	}
	if !floors {
		rungs = f.needed(rungs)
	}
	for _, c := range rungs {
		e.Rungs = append(e.Rungs, c.RungID)
	}
	e.Tight = f.tight
	return e
}

// filter is what has been dropped so far; tight until a search could not tell.
type filter struct {
	s     *solver
	out   map[Clash]bool
	tight bool
}

// needed drops what it can of a list, all at once where that leaves no plan, else half by half: what one by one would drop.
func (f *filter) needed(list []Clash) []Clash {
	if len(list) == 0 {
		return nil
	}
	for _, c := range list {
		f.out[c] = true
	}
	found := f.s.without(f.out)
	if found == none {
		return nil
	}
	for _, c := range list {
		delete(f.out, c)
	}
	if len(list) == 1 {
		f.tight = f.tight && found == some
		return list
	}
	kept := slices.Clone(f.needed(list[:len(list)/2]))
	return append(kept, f.needed(list[len(list)/2:])...)
}

func (e *Infeasible) hasRule(r Rule) bool {
	return slices.ContainsFunc(e.Clashes, func(c Clash) bool { return c.Rule == r })
}

// names reports whether a rung is named by a clash.
func (e *Infeasible) names(id string) bool {
	return slices.ContainsFunc(e.Clashes, func(c Clash) bool { return c.RungID == id || c.NeedID == id })
}

// without looks for a plan when some rules do not hold.
func (s *solver) without(out map[Clash]bool) answer {
	return s.hasPlan(newModel(s.p, func(c Clash) bool { return out[c] }))
}

// hasPlan looks a little while for any plan of a model.
func (s *solver) hasPlan(m *model) answer {
	n := newNarrower(m, m.most)
	domain := slices.Clone(m.domain)
	if !n.narrow(domain) {
		return none
	}
	if newBoard(n, domain, nil).cost == 0 {
		return some
	}
	n.breakSymmetry()
	_, found := n.find(s.ctx, domain, clashNodes, nil)
	return found
}
