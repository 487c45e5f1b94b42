package app

import (
	"slices"

	"github.com/google/uuid"
	"rungbook/internal/studio"
)

// nextRungs is how many of a child's next rungs on a ladder may be met in a term.
const nextRungs = 3

// RuleOfChoice says by which rule the rungs of a term are chosen first.
const RuleOfChoice = "On each ladder that the class leans on: the rungs that are among the next three for at least half of the children, and what these need " +
	"where at least half do not have it secure. What at least half of the class was first marked on in a lesson of this term counts as taught in that week. One week's room is kept for what gets lost; the last lessons before a showcase have nothing new, as many as the studio has set."

// choose picks the rungs of a term by the rule, with those that were taught in their weeks. The lowest of each ladder is in focus.
func (w *pacer) choose() []studio.PacedRung {
	p := studio.Pacing{}
	add := func(key string, focus bool) {
		if p.Rung(key) == nil {
			p.Rungs = append(p.Rungs, studio.PacedRung{RungKey: key, Focus: focus})
		}
	}
	taught := w.taught()
	for _, l := range w.termLadders() {
		first := true
		for _, r := range l.Rungs {
			if _, done := taught[r.Key]; done || !w.mostOf(w.near(l, r.Key)) {
				continue
			}
			add(r.Key, first)
			first = false
		}
	}
	for i := 0; i < len(p.Rungs); i++ { // what is added is looked at in its turn
		for _, need := range w.rungs[p.Rungs[i].RungKey].Needs {
			if _, done := taught[need]; !done && w.mostOf(len(w.pupils)-w.secureNow(need)) {
				add(need, false)
			}
		}
	}
	for key, week := range taught {
		add(key, false)
		p.Rung(key).WeekOf = w.monday(week)
	}
	slices.SortFunc(p.Rungs, func(a, b studio.PacedRung) int { return w.place(a.RungKey) - w.place(b.RungKey) })
	return p.Rungs
}

// near counts the children who have a rung among the next ones of its ladder.
func (w *pacer) near(l studio.Ladder, key string) int {
	n := 0
	for _, b := range w.boards {
		left := nextRungs
		for _, r := range l.Rungs {
			s, _ := b.On(r.Key)
			if s.Met() {
				continue
			}
			if left--; r.Key == key {
				n++
			}
			if left == 0 {
				break
			}
		}
	}
	return n
}

// taught finds the rungs of the class's ladders on which at least half of the class was first marked within the term, each with the
// week that is over by which half had been.
func (w *pacer) taught() map[string]int {
	type pair struct {
		child uuid.UUID
		rung  string
	}
	first := map[pair]int{}
	for _, m := range w.marks {
		at := pair{m.ChildID, m.RungKey}
		week := w.number(studio.MondayOf(dayIn(m.MarkedAt, w.Card.TimeZone)))
		if was, seen := first[at]; !seen || week < was {
			first[at] = week
		}
	}
	weeks := map[string][]int{}
	for at, week := range first {
		if week >= 1 && week <= w.done {
			weeks[at.rung] = append(weeks[at.rung], week)
		}
	}
	out := map[string]int{}
	for _, l := range w.termLadders() {
		for _, r := range l.Rungs {
			list := weeks[r.Key]
			if !w.mostOf(len(list)) {
				continue
			}
			slices.Sort(list)
			if week := list[(len(w.pupils)+1)/2-1]; w.has(week) {
				out[r.Key] = week
			}
		}
	}
	return out
}

// place orders the rungs as the library does.
func (w *pacer) place(key string) int {
	n := 0
	for _, l := range w.Ladders {
		for _, r := range l.Rungs {
			if n++; r.Key == key {
				return n
			}
		}
	}
	return n
}

// full reports whether the rungs that are not taught would not fit if one more week had nothing new.
func (w *pacer) full(p studio.Pacing) bool {
	room := len(w.ahead(len(w.weeks))) - 1
	if w.show > w.done {
		room -= w.rule.Quiet
	}
	left := 0
	for _, r := range p.Rungs {
		if w.placed(r) == 0 {
			left++
		}
	}
	return left > max(1, room)*p.MostNew
}

// leaveOut takes the rung out that the fewest children are near to, of those that nothing else of the term needs and that were not
// taught; the later one in the library of equals. ok is false when there is none.
func (w *pacer) leaveOut(p *studio.Pacing) (key string, ok bool) {
	needed := map[string]bool{}
	for _, r := range p.Rungs {
		for _, n := range w.needsIn(r.RungKey, *p) {
			needed[n] = true
		}
	}
	fewest, at := 0, -1
	for i, r := range p.Rungs {
		if needed[r.RungKey] || w.placed(r) > 0 {
			continue
		}
		if n := w.near(w.ladder[w.of[r.RungKey]], r.RungKey); at < 0 || n <= fewest {
			fewest, at = n, i
		}
	}
	if at < 0 {
		return "", false
	}
	key = p.Rungs[at].RungKey
	p.Rungs = slices.Delete(p.Rungs, at, at+1)
	return key, true
}
