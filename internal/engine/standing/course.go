package standing

import (
	"slices"
	"time"
)

// Came is a rung that a child made secure at some time. Since is the moment of the mark that first met the rule. Due says for each of
// the days asked for whether the rung was due a recheck at its end; before Since it is false.
type Came struct {
	RungID string
	Since  time.Time
	Due    []bool
}

// Course lists the rungs that a child ever made secure, in topological order, with how they stood at the end of each of the days, which
// must be in order. Marks after the last day are left out. It says the same as a Board of each day, in one pass over the marks.
func (g *Graph) Course(marks []Mark, s Settings, days []time.Time) ([]Came, error) {
	if err := s.Validate(); err != nil || len(days) == 0 {
		return nil, err
	}
	byRung, err := g.deal(marks, days[len(days)-1])
	if err != nil {
		return nil, err
	}
	ends := make([]int, len(days))
	for i, day := range days {
		ends[i] = dayNumber(day)
	}
	var came []Came
	for i, of := range byRung {
		if c := g.follow(i, of, s, ends); !c.Since.IsZero() {
			came = append(came, c)
		}
	}
	return came, nil
}

// follow takes one rung through its marks, which are in order of time, and looks at it at the end of each day.
func (g *Graph) follow(i int, marks []Mark, s Settings, ends []int) Came {
	c := Came{RungID: g.rungs[i].ID}
	if len(marks) == 0 {
		return c
	}
	c.Due = make([]bool, 0, len(ends))
	windows := newWindows(g.rungs[i].TwoSided, s.Rule)
	for _, m := range marks {
		for day := dayNumber(m.At); ends[len(c.Due)] < day; {
			c.Due = append(c.Due, !c.Since.IsZero() && lapsed(windows, s, ends[len(c.Due)]))
		}
		for _, w := range windows {
			w.see(m, s)
		}
		if c.Since.IsZero() && allMet(windows, s.Rule) {
			c.Since = m.At
		}
	}
	for len(c.Due) < len(ends) {
		c.Due = append(c.Due, !c.Since.IsZero() && lapsed(windows, s, ends[len(c.Due)]))
	}
	return c
}

func newWindows(twoSided bool, r Rule) []*window {
	if twoSided {
		return []*window{newWindow(Left, r), newWindow(Right, r)}
	}
	return []*window{newWindow(NoSide, r)}
}

// lapsed reports whether a rung that was secure once is due a recheck on a day.
func lapsed(windows []*window, s Settings, day int) bool {
	if !allMet(windows, s.Rule) {
		return true
	}
	var st Standing
	st.remember(windows, day)
	return st.Recall < s.Memory.Recheck
}

// Quartiles are the least of the counts that a quarter, half and three quarters of them do not exceed; all 0 without counts. Source:
// the inverse of the empirical distribution, number 1 of Hyndman and Fan 1996, The American Statistician 50:361-365 (from memory).
func Quartiles(counts []int) (lower, median, upper int) {
	if len(counts) == 0 {
		return 0, 0, 0
	}
	sorted := slices.Sorted(slices.Values(counts))
	at := func(quarters int) int { return sorted[(quarters*len(sorted)+3)/4-1] }
	return at(1), at(2), at(3)
}
