package standing

import (
	"slices"
	"time"
)

// read fills in every number that comes from the rung's own marks, which are in time order.
func (st *Standing) read(marks []Mark, twoSided bool, s Settings, today time.Time) {
	windows := []*window{newWindow(NoSide, s.Rule)}
	if twoSided {
		windows = []*window{newWindow(Left, s.Rule), newWindow(Right, s.Rule)}
	}
	for _, m := range marks {
		for _, w := range windows {
			w.see(m, s)
		}
		if twoSided && m.Side == NoSide {
			st.Sideless++
		}
		if st.SecureSince.IsZero() && allMet(windows, s.Rule) {
			st.SecureSince = m.At
		}
	}
	for _, w := range windows {
		t := w.tally(s.Rule)
		st.Sides = append(st.Sides, t)
		st.Near += min(1, float64(t.Clean)/float64(s.Rule.Clean)) / float64(len(windows))
	}
	st.Weaker = weaker(st.Sides)
	st.remember(windows, dayNumber(today))
	st.rate(marks, s)
	if len(marks) > 0 {
		st.DaysUnseen = dayNumber(today) - dayNumber(marks[len(marks)-1].At)
	}
}

func allMet(windows []*window, r Rule) bool {
	for _, w := range windows {
		if !w.tally(r).Met {
			return false
		}
	}
	return true
}

// remember takes the recall of the side more likely lost, among those that were ever clean.
func (st *Standing) remember(windows []*window, today int) {
	for _, w := range windows {
		if w.memory.halfLife == 0 {
			continue
		}
		if p := w.memory.recall(today); st.HalfLife == 0 || p < st.Recall {
			st.Recall, st.HalfLife = p, w.memory.halfLife
		}
	}
}

func (st *Standing) rate(marks []Mark, s Settings) {
	recent := marks[max(0, len(marks)-s.Recent):]
	clean := 0
	var people []string
	for _, m := range recent {
		if m.good() {
			clean++
		}
		if !slices.Contains(people, m.By) {
			people = append(people, m.By)
		}
	}
	st.Recent, st.Markers = len(recent), len(people)
	st.Few = len(recent) < s.Few
	st.Low, st.High = wilson(clean, len(recent))
	if len(recent) > 0 {
		st.Rate = float64(clean) / float64(len(recent))
	}
}

func weaker(sides []Tally) Side {
	if len(sides) < 2 {
		return NoSide
	}
	left, right := sides[0], sides[1]
	switch {
	case left.Of+right.Of == 0:
		return NoSide
	case left.Of == 0:
		return Left
	case right.Of == 0:
		return Right
	case left.Clean*right.Of < right.Clean*left.Of:
		return Left
	case left.Clean*right.Of > right.Clean*left.Of:
		return Right
	}
	return NoSide
}
