package pacing

import (
	"fmt"
	"slices"
)

// mostHelp bounds how many ways out are named, mostMore how many weeks or rungs a week more are tried.
const (
	mostHelp = 3
	mostMore = 4
)

// help lists changes that give a plan each by itself: every one was tried. Those that give up least come first.
func (s *solver) help(e *Infeasible) []string {
	var out []string
	for _, try := range []func(*Infeasible) []wayOut{s.letGo, s.moreOf, s.leaveOut} {
		for _, w := range try(e) {
			if len(out) < mostHelp && s.ctx.Err() == nil && validate(w.p) == nil && s.hasPlan(newModel(w.p, keepAll)) == some {
				out = append(out, w.words)
				if w.enough {
					break
				}
			}
		}
	}
	return out
}

// wayOut is a changed problem in words. When it helps, enough says that those after it ask for more of the same.
type wayOut struct {
	words  string
	p      Problem
	enough bool
}

// letGo are the pins, latest weeks and quiet weeks among the clashes.
func (s *solver) letGo(e *Infeasible) []wayOut {
	var out []wayOut
	for _, c := range e.Clashes {
		name := s.nameOf(c.RungID)
		switch c.Rule {
		case RulePin:
			out = append(out, wayOut{words: "letting the pin of " + name + " go", p: s.p.with(c.RungID, func(r *Rung) { r.Pin = 0 })})
		case RuleLatest:
			out = append(out, wayOut{words: "letting " + name + " come later", p: s.p.with(c.RungID, func(r *Rung) { r.Latest = 0 })})
		case RuleEarliest:
			out = append(out, wayOut{words: "letting " + name + " come sooner", p: s.p.with(c.RungID, func(r *Rung) { r.Earliest = 0 })})
		}
	}
	return out
}

// moreOf are a later showcase, more weeks, and more new rungs a week.
func (s *solver) moreOf(e *Infeasible) []wayOut {
	var out []wayOut
	if show := s.p.Showcase.Week; show > 0 && show < s.p.Weeks && e.hasRule(RuleShowcase) {
		out = append(out, wayOut{words: "a showcase one week later", p: MoveShowcase(s.p, show+1)})
	}
	if e.hasRule(RuleMaxNew) {
		p := s.p
		p.Limits.MaxNew++
		out = append(out, wayOut{words: "one more new rung a week", p: p})
	}
	if e.hasRule(RuleMinNew) {
		p := s.p
		p.Limits.MinNew--
		out = append(out, wayOut{words: "one new rung a week fewer at the least", p: p})
	}
	for more := 1; more <= mostMore; more++ {
		p := s.p
		p.Weeks += more
		words := "one week more"
		if more > 1 {
			words = fmt.Sprintf("%d weeks more", more)
		}
		out = append(out, wayOut{words, p, true})
	}
	return out
}

// leaveOut are the rungs in question that no other rung needs.
func (s *solver) leaveOut(e *Infeasible) []wayOut {
	needed := map[string]bool{}
	for _, r := range s.p.Rungs {
		for _, n := range r.Needs {
			needed[n.ID] = true
		}
	}
	var out []wayOut
	for _, id := range e.Rungs {
		if !needed[id] {
			out = append(out, wayOut{"leaving " + s.nameOf(id) + " out", s.p.without(id), true})
		}
	}
	return out
}

func (s *solver) nameOf(id string) string {
	for _, r := range s.p.Rungs {
		if r.ID == id {
			return r.name()
		}
	}
	return id
}

// with is the problem with one rung changed.
func (p Problem) with(id string, change func(*Rung)) Problem {
	p.Rungs = slices.Clone(p.Rungs)
	for i := range p.Rungs {
		if p.Rungs[i].ID == id {
			change(&p.Rungs[i])
		}
	}
	return p
}

// without is the problem without a rung that no other needs.
func (p Problem) without(id string) Problem {
	p.Rungs = slices.DeleteFunc(slices.Clone(p.Rungs), func(r Rung) bool { return r.ID == id })
	p.Showcase.Rungs = slices.DeleteFunc(slices.Clone(p.Showcase.Rungs), func(r string) bool { return r == id })
	return p
}
