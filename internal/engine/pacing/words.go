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

// sentences are two: the rules that clash, alike ones in one phrase, and what they leave.
func (s *solver) sentences(e *Infeasible, names map[string]string) string {
	var phrases []string
	if len(e.Chain) > 0 {
		phrases = append(phrases, chainWords(e, names))
	}
	for i, c := range e.Clashes {
		same := func(o Clash) bool { return o.alike(c) }
		if c.Rule == RuleNeed || slices.IndexFunc(e.Clashes, same) < i {
			continue
		}
		var list []Clash
		for _, o := range e.Clashes {
			if same(o) {
				list = append(list, o)
			}
		}
		phrases = append(phrases, together(list, names))
	}
	if e.hasRule(RuleMinNew) || e.hasRule(RuleMinLoad) {
		phrases = append(phrases, fmt.Sprintf("rungs that are left to meet: %d", len(s.m.rungs)))
	}
	first := strings.Join(phrases, "; ")
	first = strings.ToUpper(first[:1]) + first[1:] + "."
	if len(e.Chain) > 0 {
		if end := e.Chain[len(e.Chain)-1]; s.late(e, end) {
			return first + fmt.Sprintf(" That leaves %s week %d at the earliest, in a term of %s.", names[end.RungID], end.First, weeks(s.p.Weeks))
		}
	}
	switch len(e.Rungs) {
	case 0:
		return first
	case 1:
		return first + " That leaves no week for " + names[e.Rungs[0]] + "."
	}
	return first + " That leaves too little room for " + someNames(e.Rungs, names) + "."
}

// late reports whether the end of a chain comes after the term, or after a week that a clash sets for it.
func (s *solver) late(e *Infeasible, end Step) bool {
	return end.First > s.p.Weeks || slices.ContainsFunc(e.Clashes, func(c Clash) bool {
		return c.RungID == end.RungID && c.Rule != RuleNeed && c.Week > 0 && c.Week < end.First
	})
}

// alike reports whether two clashes can be said in one phrase: the same limit of several weeks, or the same week for several rungs.
func (c Clash) alike(o Clash) bool {
	if c.RungID == "" {
		return o.RungID == "" && o.Rule == c.Rule && o.Kind == c.Kind && o.Limit == c.Limit
	}
	return o.RungID != "" && o.Rule == c.Rule && o.Week == c.Week && o.Limit == c.Limit
}

// together is the phrase of clashes that are alike.
func together(list []Clash, names map[string]string) string {
	c := list[0]
	words := strings.TrimSuffix(c.Words, ".")
	if c.Rule == RuleTerm {
		return words
	}
	if c.RungID == "" {
		var numbers []int
		for _, o := range list {
			numbers = append(numbers, o.Week)
		}
		_, rest, _ := strings.Cut(words, " has ")
		return manyWeeks(numbers) + rest
	}
	if len(list) == 1 {
		return words
	}
	var ids []string
	for _, o := range list {
		ids = append(ids, o.RungID)
	}
	rest := strings.TrimPrefix(words, names[c.RungID])
	for one, many := range map[string]string{" is ": " are ", " comes ": " come "} {
		if strings.HasPrefix(rest, one) {
			rest = many + strings.TrimPrefix(rest, one)
		}
	}
	return someNames(ids, names) + rest
}

// chainWords says in what order the rungs of a chain come, and how far apart where that is more than a week.
func chainWords(e *Infeasible, names map[string]string) string {
	var ids []string
	for _, s := range e.Chain {
		ids = append(ids, s.RungID)
	}
	least, most := 0, 0
	for _, c := range e.Clashes {
		if c.Rule == RuleNeed {
			if least == 0 || c.Lag < least {
				least = c.Lag
			}
			most = max(most, c.Lag)
		}
	}
	words := someNames(ids, names) + " build on one another"
	if e.oneByOne() {
		words = someNames(ids, names) + " come one after the other"
	}
	switch {
	case least == most && most > 1:
		return words + fmt.Sprintf(", %s apart", weeks(most))
	case most > 1:
		return words + fmt.Sprintf(", up to %s apart", weeks(most))
	}
	return words
}

// mostNames bounds a list of names in a sentence.
const mostNames = 4

// oneByOne reports whether each rung of the chain needs the one before.
func (e *Infeasible) oneByOne() bool {
	for i := range e.Chain[1:] {
		if !slices.ContainsFunc(e.Clashes, func(c Clash) bool {
			return c.Rule == RuleNeed && c.RungID == e.Chain[i+1].RungID && c.NeedID == e.Chain[i].RungID
		}) {
			return false
		}
	}
	return true
}

// someNames lists names, the first three and how many more when they are many.
func someNames(ids []string, names map[string]string) string {
	var list []string
	for _, id := range ids {
		list = append(list, names[id])
	}
	if n := len(list); n > mostNames {
		list = append(list[:mostNames-1], fmt.Sprintf("%d more", n-mostNames+1))
	}
	if len(list) == 1 {
		return list[0]
	}
	return strings.Join(list[:len(list)-1], ", ") + " and " + list[len(list)-1]
}

// manyWeeks begins a phrase about weeks, given in order.
func manyWeeks(list []int) string {
	n := len(list)
	switch {
	case n == 1:
		return fmt.Sprintf("week %d has ", list[0])
	case n == 2:
		return fmt.Sprintf("weeks %d and %d have ", list[0], list[1])
	case list[n-1]-list[0] == n-1:
		return fmt.Sprintf("weeks %d to %d have ", list[0], list[n-1])
	}
	numbers := make([]string, n)
	for i, w := range list {
		numbers[i] = fmt.Sprint(w)
	}
	return "weeks " + strings.Join(numbers[:n-1], ", ") + " and " + numbers[n-1] + " have "
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
