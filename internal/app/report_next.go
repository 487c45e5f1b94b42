package app

import (
	"cmp"
	"slices"
	"strings"

	"rungbook/internal/engine/standing"
	"rungbook/internal/report"
)

// mostNext bounds how many rungs a child's report names as next.
const mostNext = 4

// coming is a rung that may come next; steps is how far away it is: 0 begun, 1 may start, 2 opens with one rung in work.
type coming struct {
	report.Next
	steps int
	near  float64
	order int // 0 on a ladder of the term, else 1
}

// next names the rungs that come next on the ladders that the child meets, nearest first: begun before this term, open, then those
// that one rung in work will open. Rungs that a care limit forbids today are left out. Among equals, those of the term's own ladders
// and then the order of the library decide.
func (t childTerm) next() []report.Next {
	var all []coming
	for _, ladder := range t.Ladders {
		if !t.meets(ladder) {
			continue
		}
		order := 1
		if slices.Contains(t.focus, ladder.Key) {
			order = 0
		}
		for _, r := range ladder.Rungs {
			s, _ := t.board.On(r.Key)
			why, steps := t.why(s)
			if why == "" || forbids(t.limits[t.id], r.Load, r.Inverted) {
				continue
			}
			all = append(all, coming{report.Next{Ladder: ladder.Name, Rung: r.Name, Why: why}, steps, s.Near, order})
		}
	}
	slices.SortStableFunc(all, func(x, y coming) int {
		return cmp.Or(cmp.Compare(x.steps, y.steps), cmp.Compare(y.near, x.near), cmp.Compare(x.order, y.order))
	})
	var next []report.Next
	for _, c := range all[:min(len(all), mostNext)] {
		next = append(next, c.Next)
	}
	return next
}

// why says in a sentence why a rung comes next and how many steps it is away; "" when it does not.
func (t childTerm) why(s standing.Standing) (string, int) {
	switch {
	case s.State == standing.Working && t.turns[s.RungID].of == 0:
		return "Begun before this term: " + lowerFirst(s.Reason), 0
	case s.State == standing.Open:
		return t.opened(s), 1
	case s.State == standing.Waiting && len(s.Missing) == 1 && t.inWork(s.Missing[0]):
		return "Opens once “" + t.rungs[s.Missing[0]].Name + "” is secure.", 2
	}
	return "", 0
}

func (t childTerm) inWork(rung string) bool {
	s, _ := t.board.On(rung)
	return s.State == standing.Working && t.turns[rung].of > 0
}

func (t childTerm) opened(s standing.Standing) string {
	needs := t.rungNames(t.rungs[s.RungID].Needs)
	why := "May start: it needs no other rung first."
	switch len(needs) {
	case 0:
	case 1:
		why = "May start: " + needs[0] + " has been secured."
	default:
		why = "May start: " + listOf(needs) + " have been secured."
	}
	if len(s.NeedsRecheck) > 0 {
		why += " Before that, another look at " + listOf(t.rungNames(s.NeedsRecheck)) + "."
	}
	return why
}

func (t childTerm) rungNames(keys []string) []string {
	var names []string
	for _, k := range keys {
		names = append(names, "“"+t.rungs[k].Name+"”")
	}
	return names
}

func lowerFirst(s string) string {
	if s == "" {
		return s
	}
	return strings.ToLower(s[:1]) + s[1:]
}
