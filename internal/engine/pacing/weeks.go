package pacing

import "slices"

// AgainWeeks lists the weeks in which a rung is seen again that is new in the given week: so many weeks after it, or in the
// next week with a lesson when that one has none; each week once. What falls past the last lesson is left to the next term.
func AgainWeeks(p Problem, week int, again []int) []int {
	return againWeeks(lessons(p), week, again)
}

// lessons says for each week from 1 whether it has a lesson; number 0 is unused.
func lessons(p Problem) []bool {
	has := make([]bool, p.Weeks+1)
	for w := 1; w <= p.Weeks; w++ {
		has[w] = !slices.Contains(p.Holidays, w)
	}
	return has
}

func againWeeks(lesson []bool, week int, again []int) []int {
	var out []int
	for _, after := range again {
		w := week + after
		for w < len(lesson) && !lesson[w] {
			w++
		}
		if w < len(lesson) && !slices.Contains(out, w) {
			out = append(out, w)
		}
	}
	slices.Sort(out)
	return out
}

func countUpTo(weeks []int, last int) int {
	n := 0
	for _, w := range weeks {
		if w <= last {
			n++
		}
	}
	return n
}
