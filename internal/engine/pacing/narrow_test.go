package pacing

import (
	"context"
	"slices"
	"testing"
)

// What narrowing, prices and shaving take away is in no plan of that peak: the slots of the plan at hand are always left.
// With symmetry broken there is still a plan.
func TestNarrowingLosesNoPlan(t *testing.T) {
	tried := 0
	for seed := range uint64(80) {
		p := term(8000+seed, 6+int(seed%6), 8+int(seed%12))
		plan, ok := solved(t, p)
		if !ok || !plan.Optimal {
			continue
		}
		tried++
		m := newModel(p, keepAll)
		n := newNarrower(m, m.under(plan.Peak))
		domain := slices.Clone(m.domain)
		if !n.price(domain) || !n.shave(context.Background(), domain) {
			t.Errorf("seed %d: nothing left at peak %d, and there is a plan", seed, plan.Peak)
			continue
		}
		for i, r := range m.rungs {
			week := plan.Rungs[slices.IndexFunc(plan.Rungs, func(p Placed) bool { return p.RungID == r.ID })].Week
			if slot := slices.Index(m.weeks, week); domain[i]>>slot&1 == 0 {
				t.Errorf("seed %d: %s lost week %d", seed, r.ID, week)
			}
		}
		n = newNarrower(m, m.under(plan.Peak))
		n.breakSymmetry()
		if domain = slices.Clone(m.domain); !n.price(domain) || !n.shave(context.Background(), domain) {
			t.Errorf("seed %d: nothing left with symmetry broken", seed)
		} else if _, found := n.find(context.Background(), domain, 0, nil); found != some {
			t.Errorf("seed %d: no plan found with symmetry broken", seed)
		}
	}
	if tried < 30 {
		t.Errorf("only %d terms had a plan", tried)
	}
}
