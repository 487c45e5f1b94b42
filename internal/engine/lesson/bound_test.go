package lesson

import (
	"context"
	"testing"
	"time"
)

// Every price of the children gives a bound, so none may come out below the worth of a plan that is there.
func TestDualBoundIsNeverBelowAPlan(t *testing.T) {
	for seed := range uint64(8) {
		in := evening(seed, 12, 3, 3)
		in.Budget = time.Minute
		s := newSolver(context.Background(), newProblem(in))
		s.climbs(1, 500)
		cols, ok := newColumns(s)
		if !ok || !s.found {
			t.Fatalf("seed %d: no columns or no plan", seed)
		}
		for steps := range 60 {
			cols.tighten(s.bestScore.worth, steps*7+1)
			if cols.root < s.bestScore.worth {
				t.Fatalf("seed %d: bound %d after %d steps is below a plan worth %d", seed, cols.root, steps*7+1, s.bestScore.worth)
			}
			for _, list := range cols.first {
				for _, col := range list {
					if col.slack < 0 {
						t.Fatalf("seed %d: a group with slack %d", seed, col.slack)
					}
				}
			}
		}
	}
}

// What is called optimal must not be beaten by a search that goes on for longer from other starts.
func TestLongerSearchNeverBeatsAnOptimum(t *testing.T) {
	for seed := range uint64(6) {
		in := evening(seed, 9, 3, 3)
		in.Budget = time.Minute
		res, err := Propose(context.Background(), in)
		if err != nil {
			t.Fatal(err)
		}
		in.Seed += 100
		s := newSolver(context.Background(), newProblem(in))
		s.climbs(4, 3000)
		longer := s.p.plan(s.best)
		if res.Optimal && (longer.Short < res.Plan.Short || longer.Short == res.Plan.Short && longer.Worth > res.Plan.Worth+1e-9) {
			t.Errorf("seed %d: called optimal with %d, %v; there is %d, %v", seed, res.Plan.Short, res.Plan.Worth, longer.Short, longer.Worth)
		}
		if longer.Worth > res.Bound+1e-9 {
			t.Errorf("seed %d: a plan worth %v is above the bound %v", seed, longer.Worth, res.Bound)
		}
	}
}
