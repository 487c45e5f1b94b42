package pacing

import (
	"context"
	"fmt"
	"math/rand/v2"
	"slices"
)

// Solve lays out a term. It answers within Options.Time and the context's deadline, whichever is sooner: the best plan
// that it found by then. The error is an *InputError, a *CycleError, an *Infeasible, ErrNoTime, or the context's own when
// that ended.
func Solve(ctx context.Context, p Problem, o Options) (Plan, error) {
	if err := validate(p); err != nil {
		return Plan{}, err
	}
	if o.Time <= 0 {
		o.Time = DefaultTime
	}
	within, cancel := context.WithTimeout(ctx, o.Time)
	defer cancel()
	s := &solver{ctx: within, p: p, m: newModel(p, keepAll), seed: o.Seed}
	plan, found := s.solve()
	switch {
	case found == some:
		return plan, nil
	case ctx.Err() != nil:
		return Plan{}, fmt.Errorf("pacing: the search was called off: %w", ctx.Err())
	case found == unknown:
		return Plan{}, ErrNoTime
	}
	again, end := context.WithTimeout(ctx, o.Time) // as long again to say why
	defer end()
	s.ctx = again
	return Plan{}, s.whyNone()
}

// solver holds the lowest peak that is still possible and the best plan so far.
type solver struct {
	ctx  context.Context
	p    Problem
	m    *model
	seed uint64

	broken *narrower // has the ties that break symmetry
	low    int       // no plan has a lower peak
	at     []int     // slot of every free rung in the best plan; nil when there is none yet
	peak   int
}

func (s *solver) solve() (Plan, answer) {
	if !s.possible(endless) {
		return Plan{}, none
	}
	s.raiseLow()
	if !s.start() {
		if found := s.searchAny(); found != some {
			return Plan{}, found
		}
	}
	s.prove()
	s.polish()
	return s.plan(), some
}

// exact is a narrower for a peak with symmetry broken, which is the same for every peak.
func (s *solver) exact(peak int) *narrower {
	n := newNarrower(s.m, s.m.under(peak))
	if s.broken == nil {
		n.breakSymmetry()
		s.broken = n
	}
	n.after, n.needs = s.broken.after, s.broken.needs
	return n
}

// possible reports whether narrowing alone leaves room for plans of a peak.
func (s *solver) possible(peak int) bool {
	return s.exact(peak).narrow(slices.Clone(s.m.domain))
}

// raiseLow finds the lowest peak that narrowing does not rule out. A peak that is possible stays so when it is raised.
func (s *solver) raiseLow() {
	over := s.highest() + 1
	for s.low < over {
		middle := (s.low + over) / 2
		if s.possible(middle) {
			over = middle
		} else {
			s.low = middle + 1
		}
	}
}

// highest is a peak that no plan can pass.
func (s *solver) highest() int {
	most := 0
	for r := 1; r < resources; r++ {
		sum := 0
		for i := range s.m.rungs {
			sum += s.m.load[r][i] + s.m.again[r][i]
		}
		for _, b := range s.m.base[r] {
			most = max(most, s.m.weight[r]*(sum+b))
		}
	}
	return most
}

// start looks for a first plan: at the lowest peak, and at higher ones in growing strides until there is one.
func (s *solver) start() bool {
	high := s.highest()
	for peak, stride := s.low, 1; s.ctx.Err() == nil; peak += stride {
		peak = min(peak, high)
		switch s.attempt(peak, 0) {
		case some:
			return true
		case unknown:
			stride *= 2
		}
		if peak == high {
			return false
		}
	}
	return false
}

// How long the parts of the solver try: steps of the annealing per rung, and nodes of a first search.
const (
	settleSteps = 300
	searchNodes = 70
	polishSteps = 300
	leastPolish = 6000 // in all
)

// attempt looks for a plan of a peak by a short search and then by a short annealing, longer and otherwise shuffled in every
// round. The first search often says in a few nodes that there is none; later ones are prepared with more care.
func (s *solver) attempt(peak, round int) answer {
	shuffle := rand.New(rand.NewPCG(s.seed, uint64(peak)<<16+uint64(round)))
	n, domain, rng := s.exact(peak), slices.Clone(s.m.domain), shuffle
	if round == 0 {
		rng = nil
	} else if round > 1 && !n.prepare(s.ctx, domain) {
		return s.ruleOut(peak)
	}
	at, found := n.find(s.ctx, domain, searchNodes*(round+1)*(round+1), rng)
	switch {
	case found == some:
		s.take(at)
	case found == none:
		return s.ruleOut(peak)
	case s.settle(peak, settleSteps*(round+1), shuffle):
		return some
	}
	return found
}

func (s *solver) ruleOut(peak int) answer {
	s.low = max(s.low, peak+1)
	return none
}

// settle tries to find a plan of a peak by annealing.
func (s *solver) settle(peak, steps int, rng *rand.Rand) bool {
	n := newNarrower(s.m, s.m.under(peak))
	domain := slices.Clone(s.m.domain)
	if !n.narrow(domain) {
		return false
	}
	b := newBoard(n, domain, rng)
	if !b.settle(steps * len(b.at)) {
		return false
	}
	s.take(b.at)
	return true
}

// searchAny looks for any plan by search.
func (s *solver) searchAny() answer {
	at, found := s.exact(endless).find(s.ctx, slices.Clone(s.m.domain), 0, nil)
	if found == some {
		s.take(at)
	}
	return found
}

func (s *solver) take(at []int) { s.at, s.peak = slices.Clone(at), s.m.peak(at) }

// peak is the greatest weighted load of one kind in one slot.
func (m *model) peak(at []int) int {
	most := 0
	for r := 1; r < resources; r++ {
		weighs := slices.Clone(m.base[r])
		for i, s := range at {
			weighs[s] += m.load[r][i]
			if m.seen[i] != nil {
				for _, t := range m.seen[i][s] {
					weighs[t] += m.again[r][i]
				}
			}
		}
		for _, w := range weighs {
			most = max(most, m.weight[r]*w)
		}
	}
	return most
}

// prove closes the gap between the lowest possible peak and that of the best plan: from below, where most often the lowest
// can be reached, and every other time from just below the best.
func (s *solver) prove() {
	for round := 1; s.low < s.peak && s.ctx.Err() == nil; {
		peak := s.low
		if round%2 == 0 {
			peak = s.peak - 1
		}
		if s.attempt(peak, round) == unknown {
			round++
		}
	}
}
