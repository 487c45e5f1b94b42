package pacing

import (
	"context"
	"math"
	"slices"
	"testing"
	"time"
)

// changed is a term that was laid out and then lost a lesson: each rung knows the week that it had.
func changed(t *testing.T, seed uint64, weeks, rungs int) (Problem, bool) {
	p := term(seed, weeks, rungs)
	before, ok := solved(t, p)
	if !ok {
		return p, false
	}
	p.Rungs = slices.Clone(p.Rungs)
	for i, r := range p.Rungs {
		p.Rungs[i].Was = before.Rungs[slices.IndexFunc(before.Rungs, func(x Placed) bool { return x.RungID == r.ID })].Week
	}
	return LoseWeek(p, p.Done+1+int(seed)%(weeks-p.Done)), true
}

// Against every plan there is: among the plans that are as good in peak, spread and lateness, the one that moves fewest rungs.
func TestFewestMovesAgainstEveryPlan(t *testing.T) {
	tried, fewest := 0, 0
	for seed := range uint64(300) {
		p, ok := changed(t, 11000+seed, 4+int(seed%2), 4+int(seed%3)/2)
		if !ok {
			continue
		}
		b := &brute{p: p}
		b.run(t)
		plan, err := Solve(context.Background(), p, Options{Seed: seed, Time: time.Minute})
		if (err == nil) != b.found || err != nil {
			if b.found {
				t.Errorf("seed %d: %v", seed, err)
			}
			continue
		}
		same := plan.Peak == b.peak && math.Abs(plan.Spread-b.spread) < 1e-9 && plan.Late == b.late
		if !same {
			continue // no plan is better in these; see TestPeakAgainstEveryPlan
		}
		tried++
		if plan.Moved < b.moved {
			t.Errorf("seed %d: %d moved, fewer than the fewest of all, %d", seed, plan.Moved, b.moved)
		}
		if plan.Moved == b.moved {
			fewest++
		}
	}
	if tried < 60 || fewest*100 < tried*99 {
		t.Errorf("of %d plans %d move as few as can be", tried, fewest)
	}
	t.Logf("of %d plans %d move as few as can be", tried, fewest)
}

// A term in which nothing changed stays as it is.
func TestNothingMovesWithoutNeed(t *testing.T) {
	for seed := range uint64(20) {
		p := term(12000+seed, 7, 9)
		before, ok := solved(t, p)
		if !ok {
			continue
		}
		for i, r := range p.Rungs {
			p.Rungs[i].Was = before.Rungs[slices.IndexFunc(before.Rungs, func(x Placed) bool { return x.RungID == r.ID })].Week
		}
		after, _ := solved(t, p)
		if better := after.Spread < before.Spread-1e-9 || after.Late < before.Late; after.Moved > 0 && !better {
			t.Errorf("seed %d: %d rungs moved for nothing", seed, after.Moved)
		}
	}
}
