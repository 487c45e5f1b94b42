package pacing

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
)

// explain puts the clashes into words and the rungs of a chain into order.
func (s *solver) explain(e *Infeasible) {
	slices.SortFunc(e.Clashes, func(a, b Clash) int {
		return cmp.Or(ease(b.Rule)-ease(a.Rule), a.Week-b.Week, cmp.Compare(a.RungID, b.RungID), cmp.Compare(a.NeedID, b.NeedID), cmp.Compare(a.Kind, b.Kind), a.Lag-b.Lag)
	})
	s.follow(e)
	slices.SortStableFunc(e.Clashes, func(a, b Clash) int {
		if a.Rule == RuleNeed && b.Rule == RuleNeed {
			return e.at(a.RungID) - e.at(b.RungID)
		}
		return 0
	})
	names := map[string]string{}
	for _, r := range s.p.Rungs {
		names[r.ID] = r.name()
	}
	for i, c := range e.Clashes {
		e.Clashes[i].Words = s.say(c, names)
	}
	if len(e.Clashes) == 0 {
		e.Clashes = []Clash{{Rule: RuleTerm, Week: s.p.Weeks, Words: "No week with a lesson is left in the term."}}
	}
	e.Words = s.sentences(e, names)
}

// sentences are the words of the clashes, those of weeks with the same limit in one, and where a chain ends.
func (s *solver) sentences(e *Infeasible, names map[string]string) string {
	var out []string
	for i, c := range e.Clashes {
		same := func(o Clash) bool { return o.Rule == c.Rule && o.Kind == c.Kind && o.Limit == c.Limit }
		limit := c.RungID == "" && c.Rule != RuleTerm
		if !limit {
			out = append(out, c.Words)
			continue
		}
		if slices.IndexFunc(e.Clashes, same) < i {
			continue
		}
		var weeks []int
		for _, o := range e.Clashes {
			if same(o) {
				weeks = append(weeks, o.Week)
			}
		}
		_, rest, _ := strings.Cut(c.Words, " has ")
		out = append(out, manyWeeks(weeks)+rest)
	}
	if e.hasRule(RuleMinNew) || e.hasRule(RuleMinLoad) {
		out = append(out, fmt.Sprintf("Rungs that are left to meet: %d.", len(s.m.rungs)))
	}
	if len(e.Chain) > 0 {
		end := e.Chain[len(e.Chain)-1]
		out = append(out, fmt.Sprintf("That leaves %s week %d at the earliest; the term has %s.", names[end.RungID], end.First, weeks(s.p.Weeks)))
	} else if len(e.Rungs) > 0 {
		list := make([]string, len(e.Rungs))
		for i, id := range e.Rungs {
			list[i] = names[id]
		}
		out = append(out, "The rungs in question: "+strings.Join(list, ", ")+".")
	}
	return strings.Join(out, " ")
}

// manyWeeks begins a sentence about weeks, given in order.
func manyWeeks(list []int) string {
	n := len(list)
	switch {
	case n == 1:
		return fmt.Sprintf("Week %d has ", list[0])
	case n == 2:
		return fmt.Sprintf("Weeks %d and %d have ", list[0], list[1])
	case list[n-1]-list[0] == n-1:
		return fmt.Sprintf("Weeks %d to %d have ", list[0], list[n-1])
	}
	numbers := make([]string, n)
	for i, w := range list {
		numbers[i] = fmt.Sprint(w)
	}
	return "Weeks " + strings.Join(numbers[:n-1], ", ") + " and " + numbers[n-1] + " have "
}

func (e *Infeasible) at(id string) int {
	return slices.IndexFunc(e.Chain, func(s Step) bool { return s.RungID == id })
}

// follow finds the first week of every rung that the needs, pins and earliest weeks among the clashes leave it.
func (s *solver) follow(e *Infeasible) {
	needs, starts, closed := map[string][]Clash{}, map[string]int{}, map[int]bool{}
	for _, c := range e.Clashes {
		switch c.Rule {
		case RuleNeed:
			needs[c.RungID] = append(needs[c.RungID], c)
		case RuleEarliest, RulePin:
			starts[c.RungID] = max(starts[c.RungID], c.Week)
		case RuleHoliday, RuleQuiet:
			closed[c.Week] = true
		}
	}
	if len(needs) == 0 {
		return
	}
	firsts := map[string]int{}
	for _, r := range s.p.Rungs {
		if r.Taught > 0 {
			firsts[r.ID] = r.Taught
		}
	}
	var reach func(id string) int
	reach = func(id string) int {
		if w, known := firsts[id]; known {
			return w
		}
		w := max(s.p.Done+1, starts[id])
		for _, c := range needs[id] {
			w = max(w, reach(c.NeedID)+c.Lag)
		}
		for closed[w] {
			w++
		}
		firsts[id] = w
		return w
	}
	for id := range needs {
		for _, c := range needs[id] {
			for _, end := range []string{c.NeedID, id} {
				if e.at(end) < 0 {
					e.Chain = append(e.Chain, Step{end, reach(end)})
				}
			}
		}
	}
	slices.SortFunc(e.Chain, func(a, b Step) int {
		if a.First != b.First {
			return a.First - b.First
		}
		return cmp.Compare(a.RungID, b.RungID)
	})
}

func (s *solver) say(c Clash, names map[string]string) string {
	rung := names[c.RungID]
	switch c.Rule {
	case RuleNeed:
		return fmt.Sprintf("%s comes at least %s after %s.", rung, weeks(c.Lag), names[c.NeedID])
	case RuleEarliest:
		return fmt.Sprintf("%s comes in week %d at the earliest.", rung, c.Week)
	case RuleLatest:
		return fmt.Sprintf("%s comes in week %d at the latest.", rung, c.Week)
	case RulePin:
		if c.Week <= s.p.Done {
			return fmt.Sprintf("%s is pinned to week %d, which is over.", rung, c.Week)
		}
		return fmt.Sprintf("%s is pinned to week %d.", rung, c.Week)
	case RuleHoliday:
		return fmt.Sprintf("Week %d has no lesson.", c.Week)
	case RuleQuiet:
		return fmt.Sprintf("Week %d has nothing new.", c.Week)
	case RuleMinNew:
		return fmt.Sprintf("Week %d has at least %d new.", c.Week, c.Limit)
	case RuleMaxNew:
		return fmt.Sprintf("Week %d has at most %d new.", c.Week, c.Limit)
	case RuleMinLoad:
		return fmt.Sprintf("Week %d has a load of at least %d on %s.", c.Week, c.Limit, c.Kind)
	case RuleMaxLoad:
		return fmt.Sprintf("Week %d has a load of at most %d on %s.", c.Week, c.Limit, c.Kind)
	case RuleRevisits:
		return fmt.Sprintf("%s is seen again %s within the term.", rung, times(c.Limit))
	case RuleShowcase:
		if c.Limit == 0 {
			return fmt.Sprintf("%s is in by the showcase in week %d.", rung, c.Week)
		}
		return fmt.Sprintf("%s is in and seen again %s by the showcase in week %d.", rung, times(c.Limit), c.Week)
	}
	return ""
}
