package demo

import (
	"math"
	"math/rand/v2"
	"slices"
	"time"

	"rungbook/internal/studio"
)

// before gives a child what it brought to the term: rungs made secure one after the other on days of their own, each after all it
// needs, and most of them seen once more shortly before the term. What was not seen again is due a recheck by now.
func (st *story) before(l *learner, termStart time.Time) []learnt {
	var came []learnt
	first := len(st.turns)
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
		k := learnt{rung: rung}
		for _, day := range learned[rung] {
			k.days = append(k.days, zero.AddDate(0, 0, day))
			st.cleanBefore(l, rung, zero.AddDate(0, 0, day), course)
		}
		if k.again = st.rng.Float64() < 0.85; k.again {
			st.cleanBefore(l, rung, termStart.AddDate(0, 0, -4-st.rng.IntN(14)).Add(17*time.Hour), course)
		}
		came = append(came, k)
	}
	st.longAgo(came, st.turns[first:])
	return came
}

// longAgo moves what a child knew first back, to before the earlier term. Only what was seen once more since may move, and what it needs
// with it: memory is then the same, and so is the order.
func (st *story) longAgo(came []learnt, turns []seenTurn) {
	const days, part = 98, 0.85
	moved := map[string]bool{}
	for i, k := range came {
		if float64(i) >= part*float64(len(came)) || !k.again || slices.ContainsFunc(st.rungs[k.rung].Needs, func(need string) bool { return !moved[need] }) {
			continue
		}
		moved[k.rung] = true
		last := k.days[len(k.days)-1]
		for j := range turns {
			if t := &turns[j]; t.rung == k.rung && !dayOf(t.at).After(dayOf(last)) {
				t.at = t.at.AddDate(0, 0, -days)
				t.id = stamped(t.id, t.at)
			}
		}
		for j := range k.days {
			k.days[j] = k.days[j].AddDate(0, 0, -days)
		}
	}
}

// formerPupils gives those who are there no longer what they knew, from dice of their own, and adds to known when they came by it. Their
// marks come back, until they went.
func (st *story) formerPupils(known map[string][]learnt, termStart time.Time) []seenTurn {
	term, _ := earlierTerm(termStart)
	old := &story{skills: st.skills, rng: rand.New(rand.NewPCG(seed, 4))}
	for _, p := range former() {
		known[p.fullName()] = old.before(newLearner(p), termStart)
	}
	return slices.DeleteFunc(old.turns, func(t seenTurn) bool { return dayOf(t.at).After(term.EndsOn) })
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
