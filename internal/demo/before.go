package demo

import (
	"math"
	"time"

	"rungbook/internal/studio"
)

// before gives a child what it brought to the term: rungs made secure one after the other on days of their own, each after all it
// needs, and most of them seen once more shortly before the term. What was not seen again is due a recheck by now.
func (st *story) before(l *learner, termStart time.Time) {
	var course course
	for _, c := range courses() {
		if c.name == l.class {
			course = c
		}
	}
	known := st.upTo(course.knows)
	known = known[:min(len(known), int(math.Round(float64(len(known))*(0.55+0.5*l.gift))))]
	learned := st.learningDays(known)
	last := 0
	for _, days := range learned {
		last = max(last, days[len(days)-1])
	}
	zero := termStart.AddDate(0, 0, -20-last).Add(17 * time.Hour)
	for _, rung := range known {
		for _, day := range learned[rung] {
			st.cleanBefore(l, rung, zero.AddDate(0, 0, day), course)
		}
		if st.rng.Float64() < 0.85 {
			st.cleanBefore(l, rung, termStart.AddDate(0, 0, -4-st.rng.IntN(14)).Add(17*time.Hour), course)
		}
	}
}

// learningDays gives each rung four days, the first of them after the last of everything it needs.
func (st *story) learningDays(known []string) map[string][]int {
	days := map[string][]int{}
	for _, rung := range known {
		day := st.rng.IntN(3)
		for _, need := range st.rungs[rung].Needs {
			day = max(day, days[need][3]+1)
		}
		for range 4 {
			days[rung] = append(days[rung], day)
			day += 3 + st.rng.IntN(3)
		}
	}
	return days
}

func (st *story) cleanBefore(l *learner, rung string, at time.Time, c course) {
	for _, side := range st.sides(rung) {
		l.skill[spot{rung, side}] = 0.86
		at = at.Add(time.Minute)
		st.mark(l, seenTurn{meeting: -1, rung: rung, side: side, outcome: studio.Clean, by: staffEmail(c.teachers[0]), at: at}, nil)
	}
}
