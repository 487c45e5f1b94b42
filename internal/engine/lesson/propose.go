package lesson

import (
	"cmp"
	"context"
	"fmt"
	"math"
)

// Effort of a search, in steps: fixed, so that the same input gives the same plan on every machine that is quick enough.
const (
	climbRuns    = 3
	climbSteps   = 120_000 // over all runs, divided by the children
	stepsAChild  = 300     // over all runs, at most
	columnLimit  = 250_000
	blindLimit   = 20_000     // columns while there is no plan to compare with
	worthLimit   = 16_000_000 // worths of columns to keep: 64 MB
	manyColumns  = 3000       // from here on looking at every partition takes long
	tightenSteps = 240
	nodeLimit    = 400_000
)

// patience is how many Budgets may go by while there is no plan at all.
const patience = 10

// Propose plans a lesson. It answers within the Budget and the context's deadline, whichever is sooner: the best plan it
// has then, with a proven bound. Where there is no plan by then it looks on, for ten Budgets at most, until there is one or
// it is clear that there is none. The error is an *InputError, an *Infeasible, or the context's own when it ended before
// any plan was found.
func Propose(ctx context.Context, in Input) (Result, error) {
	if err := validate(in); err != nil {
		return Result{}, err
	}
	budget := cmp.Or(in.Budget, DefaultBudget)
	ctx, cancel := context.WithTimeout(ctx, patience*budget)
	defer cancel()
	s := newSolver(ctx, newProblem(in))
	var end context.CancelFunc
	s.budget, end = context.WithTimeout(ctx, budget)
	defer end()
	if conflicts := s.p.obvious(); len(conflicts) > 0 {
		return Result{}, &Infeasible{Conflicts: conflicts, Proven: true}
	}
	bound, all := s.solve()
	if !s.found {
		return Result{}, s.whyNone(all)
	}
	return s.result(bound), nil
}

// solve looks for the best layout and gives the most that any can be worth, and whether everything was seen.
func (s *solver) solve() (bound int64, all bool) {
	c := newCeiling(s.p)
	s.leastMiss = c.missed(s.p.in.TurnFloor)
	bound = c.total()
	s.climbs(climbRuns, min(climbSteps/s.p.n, stepsAChild*s.p.n)/climbRuns)
	limit := columnLimit
	if !s.found {
		limit = blindLimit
	}
	if s.p.countSets(limit+1) > limit || s.stopped() {
		return bound, false
	}
	cols, ok := newColumns(s)
	if !ok {
		return bound, false
	}
	if len(cols.sets) == 0 {
		return bound, true
	}
	cols.tighten(s.bestScore.worth, tightenSteps)
	s.tariff = cols.tariff
	if len(cols.sets) > manyColumns && s.found && cols.root > s.bestScore.worth {
		s.regroups(cols)
	}
	return s.close(cols, min(bound, cols.root))
}

// close goes through the partitions that could still be better, the most promising first, and lowers the bound as it goes.
func (s *solver) close(cols *columns, bound int64) (int64, bool) {
	nodes, open, seen := nodeLimit, int64(-1), int64(math.MinInt64)
	for part := int64(1); part <= 8; part++ {
		reach := cols.root // everything
		if s.found && s.bestScore.short <= s.leastMiss {
			reach = (cols.root - s.bestScore.worth) * part / 8
		}
		all := cols.partitions(seen, reach, nodeLimit, func(sets []uint64, slack int64) bool {
			if s.hopeless(cols.root - slack) {
				return true
			}
			left := s.partition(sets, &nodes)
			open = max(open, min(left, cols.root-slack))
			return nodes > 0 && !s.stopped()
		})
		if !all {
			return min(bound, max(cols.root-max(seen, 0), open, s.bestScore.worth)), false
		}
		seen = max(seen, reach)
		if reach == cols.root {
			break
		}
	}
	if !s.found {
		return bound, open < 0
	}
	return min(bound, max(open, s.bestScore.worth)), open < 0
}

// partition arranges a partition under every naming of its groups that the pins tell apart.
func (s *solver) partition(sets []uint64, nodes *int) int64 {
	open := int64(-1)
	l := newLayout(s.p)
	var name func(left []uint64)
	name = func(left []uint64) {
		g := s.p.groups - len(left)
		if len(left) == 0 {
			open = max(open, s.arrange(l, nodes))
			return
		}
		for i, set := range left {
			if !s.p.mayBe(set, g) {
				continue
			}
			for _, child := range members(set) {
				l.group[child] = g
			}
			l.sets[g] = set
			rest := append(append([]uint64{}, left[:i]...), left[i+1:]...)
			name(rest)
			if !s.p.labelled {
				return
			}
		}
	}
	name(sets)
	return open
}

// mayBe reports whether a set may be the group of that number.
func (p *problem) mayBe(set uint64, g int) bool {
	for _, i := range members(set) {
		if p.groupPin[i] != none && p.groupPin[i] != g {
			return false
		}
	}
	return true
}

// result puts the best layout into words and numbers.
func (s *solver) result(bound int64) Result {
	best := s.bestScore
	bound = max(bound, best.worth)
	out := Result{Plan: s.p.plan(s.best), Bound: float64(bound) / unit, Complete: !s.late,
		Optimal: bound == best.worth && best.short <= s.leastMiss}
	if bound > 0 {
		out.Gap = float64(bound-best.worth) / float64(bound)
	}
	switch {
	case out.Optimal:
		out.Words = "No better plan exists."
	case best.short > s.leastMiss:
		out.Words = fmt.Sprintf("Within %.1f%% of the best possible; whether fewer turns could be missing is not proven.", math.Ceil(out.Gap*1000)/10)
	default:
		out.Words = fmt.Sprintf("Within %.1f%% of the best possible.", math.Ceil(out.Gap*1000)/10)
	}
	return out
}
