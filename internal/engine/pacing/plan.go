package pacing

import (
	"cmp"
	"fmt"
	"math"
	"slices"
)

// plan writes the best plan down.
func (s *solver) plan() Plan {
	weeks := map[string]int{}
	for _, r := range s.p.Rungs {
		if r.Taught > 0 {
			weeks[r.ID] = r.Taught
		}
	}
	for i, slot := range s.at {
		weeks[s.m.rungs[i].ID] = s.m.weeks[slot]
	}
	plan := Evaluate(s.p, weeks)
	plan.Bound, plan.Optimal = s.low, s.low == plan.Peak
	if plan.Peak > 0 {
		plan.Gap = float64(plan.Peak-plan.Bound) / float64(plan.Peak)
	}
	plan.Words = plan.words()
	return plan
}

func (p Plan) words() string {
	if p.Optimal {
		return "No plan has a lighter heaviest week."
	}
	return fmt.Sprintf("The heaviest week is within %.1f%% of the lightest possible.", 100*p.Gap)
}

// Evaluate does the sums of a plan that people have made or changed: the week of every rung by id. Rungs without a week are
// left out, and so is what has no place in the term; Check says what is wrong. Of such a plan nothing is proven: Bound is 0,
// Gap 1 and Words are empty.
func Evaluate(p Problem, weeks map[string]int) Plan {
	plan := Plan{Gap: 1}
	has := lessons(p)
	for w := 1; w <= p.Weeks; w++ {
		plan.Weeks = append(plan.Weeks, Week{Number: w, Lesson: has[w]})
	}
	for _, r := range sortedRungs(p) {
		w := weeks[r.ID]
		if w < 1 || w > p.Weeks {
			continue
		}
		placed := Placed{r.ID, w, againWeeks(has, w, r.Again)}
		plan.Rungs = append(plan.Rungs, placed)
		plan.Weeks[w-1].New = append(plan.Weeks[w-1].New, r.ID)
		plan.Weeks[w-1].Load = plan.Weeks[w-1].Load.plus(r.Load)
		for _, a := range placed.Again {
			plan.Weeks[a-1].Again = append(plan.Weeks[a-1].Again, r.ID)
			plan.Weeks[a-1].Load = plan.Weeks[a-1].Load.plus(r.AgainLoad)
		}
		if r.Focus && r.Taught == 0 {
			plan.Late += w
		}
		if r.Was > 0 && r.Taught == 0 && r.Was != w {
			plan.Moved++
		}
	}
	plan.Peak, plan.Spread = measures(p, plan.Weeks)
	return plan
}

func (l Load) plus(o Load) Load { return Load{l.New + o.New, l.Back + o.Back, l.Wrists + o.Wrists} }

// measures are the peak and the spread over the weeks that are still to come and have a lesson.
func measures(p Problem, weeks []Week) (peak int, spread float64) {
	weights := p.weights().kinds()
	for k, weight := range weights {
		n, sum, squares := 0.0, 0.0, 0.0
		for _, w := range weeks {
			if !w.Lesson || w.Number <= p.Done {
				continue
			}
			load := weight * w.Load.kinds()[k]
			peak = max(peak, load)
			n, sum, squares = n+1, sum+float64(load), squares+float64(load)*float64(load)
		}
		if n > 0 {
			spread += squares/n - sum/n*sum/n
		}
	}
	return peak, math.Sqrt(max(0, spread))
}

// Move is a rung that has another week than before. A week of 0 means that it has none.
type Move struct {
	RungID   string
	From, To int
}

// Moves lists what differs between two plans, by rung.
func Moves(before, after Plan) []Move {
	weeks := map[string]Move{}
	for _, r := range before.Rungs {
		weeks[r.RungID] = Move{r.RungID, r.Week, 0}
	}
	for _, r := range after.Rungs {
		weeks[r.RungID] = Move{r.RungID, weeks[r.RungID].From, r.Week}
	}
	var out []Move
	for _, m := range weeks {
		if m.From != m.To {
			out = append(out, m)
		}
	}
	slices.SortFunc(out, func(a, b Move) int { return cmp.Compare(a.RungID, b.RungID) })
	return out
}

// LoseWeek is the problem when a week has no lesson after all. A pin to that week is taken away.
func LoseWeek(p Problem, week int) Problem {
	p.Holidays = append(slices.Clone(p.Holidays), week)
	p.Rungs = slices.Clone(p.Rungs)
	for i, r := range p.Rungs {
		if r.Pin == week && r.Taught == 0 {
			p.Rungs[i].Pin = 0
		}
	}
	return p
}

// MoveShowcase is the problem with the showcase in another week; 0 means without it. The quiet weeks that end with the showcase move
// with it: there are as many before it as before, if the term has them.
func MoveShowcase(p Problem, week int) Problem {
	has, was, number := lessons(p), p.Showcase.Week, 0
	p.Showcase.Week = week
	var quiet []int
	for w := was; w > 0 && (!has[w] || slices.Contains(p.Quiet, w)); w-- {
		if has[w] {
			number++
		}
	}
	before := QuietBefore(p, was, number)
	for _, w := range p.Quiet {
		if !slices.Contains(before, w) {
			quiet = append(quiet, w)
		}
	}
	for _, w := range QuietBefore(p, week, number) {
		if !slices.Contains(quiet, w) {
			quiet = append(quiet, w)
		}
	}
	p.Quiet = quiet
	return p
}

// QuietBefore lists the last weeks with a lesson up to a showcase, so many of them or as many as there are, the last first.
func QuietBefore(p Problem, week, number int) []int {
	var out []int
	for has, w := lessons(p), min(week, p.Weeks); w > 0 && len(out) < number; w-- {
		if has[w] {
			out = append(out, w)
		}
	}
	return out
}
