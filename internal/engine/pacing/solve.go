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
	framed *frame    // of the peak that was looked at last
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

// frame is what narrowing and prices leave for plans of a peak; nil when that is none.
func (s *solver) frame(peak int) *frame {
	if s.framed != nil && s.framed.peak == peak {
		return s.framed
	}
	f := &frame{peak: peak, n: s.exact(peak), domain: slices.Clone(s.m.domain)}
	if !f.n.price(f.domain) {
		return nil
	}
	s.framed = f
	return f
}

// frame is a narrower with prices for a peak, and what it leaves of the domains.
type frame struct {
	peak   int
	n      *narrower
	domain []uint64
	shaved bool
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

// start looks for a first plan: by a short search at the lowest peak, then by annealing there and at higher ones in growing strides.
// Between the two, prices raise the lowest peak as far as they can.
func (s *solver) start() bool {
	if s.glance() {
		return true
	}
	high := s.highest()
	for s.low < high && s.ctx.Err() == nil && s.frame(s.low) == nil {
		s.low++
	}
	for peak, round := min(s.low, high), 0; s.ctx.Err() == nil; round++ {
		if s.settle(peak, settleSteps, s.shuffle(peak, round)) {
			return true
		}
		if peak == high {
			return false
		}
		peak = min(high, peak+1<<(round/3))
	}
	return false
}

// glance tries the lowest peaks by a few nodes of search, which most often find a plan of a small term or say that there is none.
func (s *solver) glance() bool {
	for high := s.highest(); s.low <= high && s.ctx.Err() == nil; s.low++ {
		at, found := s.exact(s.low).find(s.ctx, slices.Clone(s.m.domain), searchNodes, nil)
		switch found {
		case some:
			s.take(at)
			return true
		case unknown:
			return s.settle(s.low, settleSteps/2, s.shuffle(s.low, 0))
		}
	}
	return false
}

// How long the parts of the solver try: steps of the annealing per rung, and nodes of a first search.
const (
	settleSteps = 600
	searchNodes = 80
	polishSteps = 300
	leastPolish = 6000 // in all
)

func (s *solver) shuffle(peak, round int) *rand.Rand {
	return rand.New(rand.NewPCG(s.seed, uint64(peak)<<16+uint64(round)))
}

// attempt looks for a plan of a peak by search, longer and otherwise shuffled in every round.
func (s *solver) attempt(peak, round int) answer {
	f := s.frame(peak)
	if f == nil {
		return s.ruleOut(peak)
	}
	if round > 1 && !f.shaved {
		if f.shaved = true; !f.n.shave(s.ctx, f.domain) {
			return s.ruleOut(peak)
		}
	}
	for _, priced := range []bool{false, true} {
		limit := searchNodes << (2 * round)
		if priced {
			limit /= 4
		}
		f.n.brief = priced
		look := &search{ctx: s.ctx, n: f.n, limit: limit, rng: s.shuffle(peak, round), priced: priced}
		at, found := look.run(slices.Clone(f.domain))
		switch found {
		case some:
			s.take(at)
			return some
		case none:
			return s.ruleOut(peak)
		}
	}
	return unknown
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

// prove closes the gap between the lowest possible peak and that of the best plan: it anneals just below the best, and searches at
// the lowest, where most often the truth is; each round takes longer.
func (s *solver) prove() {
	for round := 0; s.low < s.peak && s.ctx.Err() == nil; round++ {
		for s.low < s.peak && s.settle(s.peak-1, settleSteps<<(2*round+1), s.shuffle(s.peak-1, round+1000)) {
		}
		for s.low < s.peak && s.attempt(s.low, round) == none {
		}
	}
}
