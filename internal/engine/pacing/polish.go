package pacing

import (
	"math"
	"math/rand/v2"
	"slices"
)

// polish looks among the plans of the same peak for a smaller spread, and among those for focus rungs that come sooner.
func (s *solver) polish() {
	n := newNarrower(s.m, s.m.under(s.peak))
	if len(s.at) < 1 || len(s.m.weeks) < 2 {
		return
	}
	domain := slices.Clone(s.m.domain)
	if !n.narrow(domain) {
		return
	}
	b := newBoard(n, domain, rand.New(rand.NewPCG(s.seed, 1)))
	b.jump(s.at)
	s.at = b.smooth(polishSteps * len(b.at))
}

// jump puts every rung into the given slot.
func (b *board) jump(at []int) {
	for i, s := range at {
		b.put(i, b.at[i], -1)
		b.at[i] = s
		b.put(i, s, 1)
	}
}

// smooth lowers spread and lateness without overstepping a limit, and returns the best slots it saw.
func (b *board) smooth(steps int) []int {
	best, bestSpread, bestLate := slices.Clone(b.at), b.spread(), b.late()
	spread, late := bestSpread, bestLate
	hot := 1 + spread/50
	cooling := math.Pow(0.001, 1/float64(steps))
	for k := range steps {
		st, ok := b.try()
		if !ok {
			continue
		}
		newSpread, newLate := b.spread(), b.late()
		if b.cost > 0 || !b.accepts(newSpread-spread, newLate-late, hot, k > steps*2/3) {
			b.undo(st)
			continue
		}
		spread, late = newSpread, newLate
		if spread < bestSpread || spread == bestSpread && late < bestLate {
			best, bestSpread, bestLate = slices.Clone(b.at), spread, late
		}
		hot *= cooling
	}
	return best
}

func (b *board) accepts(spread, late float64, hot float64, cold bool) bool {
	switch {
	case spread < 0:
		return true
	case spread == 0:
		return late <= 0 || !cold
	}
	return !cold && b.rng.Float64() < math.Exp(-spread/hot)
}

// spread is the number of slots times the sum of the squared weighted loads, less the square of their sum: the square of
// Plan.Spread times the square of the number of slots.
func (b *board) spread() float64 {
	total := 0.0
	for r := 1; r < resources; r++ {
		sum, squares := 0, 0
		for s, w := range b.weighs[r] {
			w = b.m.weight[r] * (w + b.m.base[r][s])
			sum += w
			squares += w * w
		}
		total += float64(len(b.weighs[r]))*float64(squares) - float64(sum)*float64(sum)
	}
	return total
}

// late is the sum of the weeks of the focus rungs.
func (b *board) late() float64 {
	sum := 0
	for i, s := range b.at {
		if b.m.rungs[i].Focus {
			sum += b.m.weeks[s]
		}
	}
	return float64(sum)
}
