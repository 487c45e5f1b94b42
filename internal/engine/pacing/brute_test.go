package pacing

import (
	"context"
	"errors"
	"math"
	"slices"
	"testing"
	"time"
)

// brute tries every way to give the free rungs weeks and judges each by Check, which shares no code with the solver.
type brute struct {
	p      Problem
	free   []int
	found  bool
	peak   int
	spread float64
	late   int
	moved  int
	only   func(Breach) bool // breaches that count; nil means all
	first  bool              // one plan is enough
}

func (b *brute) run(t testing.TB) {
	for i, r := range b.p.Rungs {
		if r.Taught == 0 {
			b.free = append(b.free, i)
		}
	}
	at := map[string]int{}
	for _, r := range b.p.Rungs {
		at[r.ID] = r.Taught
	}
	b.next(t, at, 0)
}

func (b *brute) next(t testing.TB, at map[string]int, k int) {
	if b.found && b.first {
		return
	}
	if k < len(b.free) {
		for w := b.p.Done + 1; w <= b.p.Weeks; w++ {
			at[b.p.Rungs[b.free[k]].ID] = w
			b.next(t, at, k+1)
		}
		return
	}
	plan := Evaluate(b.p, at)
	breaches, err := Check(b.p, plan)
	if err != nil {
		t.Fatal(err)
	}
	if b.only == nil && len(breaches) > 0 || b.only != nil && slices.ContainsFunc(breaches, b.only) {
		return
	}
	better := !b.found || plan.Peak < b.peak
	if b.found && plan.Peak == b.peak {
		better = plan.Spread < b.spread-1e-9 || math.Abs(plan.Spread-b.spread) < 1e-9 && (plan.Late < b.late || plan.Late == b.late && plan.Moved < b.moved)
	}
	if b.found = true; better {
		b.peak, b.spread, b.late, b.moved = plan.Peak, plan.Spread, plan.Late, plan.Moved
	}
}

// The peak against every plan there is, on small terms with every extra. Spread and lateness are sought and not proven:
// they are never better than the best of all, and most often as good.
func TestPeakAgainstEveryPlan(t *testing.T) {
	plans, impossible, asGood := 0, 0, 0
	for seed := range uint64(400) {
		p := term(seed, 4+int(seed%2), 4+int(seed%3)/2)
		b := &brute{p: p}
		b.run(t)
		plan, err := Solve(context.Background(), p, Options{Seed: seed, Time: time.Minute})
		var no *Infeasible
		switch {
		case !b.found:
			if !errors.As(err, &no) {
				t.Errorf("seed %d: %v, and there is no plan", seed, err)
			}
			impossible++
			continue
		case err != nil:
			t.Errorf("seed %d: %v, and there is a plan with peak %d", seed, err, b.peak)
			continue
		case plan.Peak != b.peak || !plan.Optimal || plan.Bound != b.peak || plan.Gap != 0:
			t.Errorf("seed %d: peak %d, bound %d, want %d", seed, plan.Peak, plan.Bound, b.peak)
		case plan.Spread < b.spread-1e-9 || math.Abs(plan.Spread-b.spread) < 1e-9 && plan.Late < b.late:
			t.Errorf("seed %d: spread %v, late %d: better than the best, %v and %d", seed, plan.Spread, plan.Late, b.spread, b.late)
		}
		plans++
		if math.Abs(plan.Spread-b.spread) < 1e-9 && plan.Late == b.late {
			asGood++
		}
	}
	if plans < 150 || impossible < 50 || asGood*10 < plans*9 {
		t.Errorf("of %d plans %d were as good as the best in everything; %d terms had none", plans, asGood, impossible)
	}
	t.Logf("of %d plans %d were as good as the best in everything; %d terms had none", plans, asGood, impossible)
}
