package pacing

import (
	"context"
	"math/bits"
	"math/rand/v2"
	"slices"
)

// answer is what a search can say.
type answer int

const (
	unknown answer = iota // it ended before it had seen everything
	some                  // there is a plan
	none                  // there is no plan
)

// search looks through every way to give the rungs slots, narrowing after every choice.
type search struct {
	ctx    context.Context
	n      *narrower
	stack  [][]uint64 // domains by depth
	nodes  int
	limit  int        // most nodes; 0 means no limit
	rng    *rand.Rand // shakes the order of slots; nil leaves it as it is
	priced bool       // looks for better prices in every node
	ended  bool
}

// find looks for slots of all rungs below a limit on nodes, starting from domains that it changes.
func (n *narrower) find(ctx context.Context, domain []uint64, limit int, rng *rand.Rand) ([]int, answer) {
	return (&search{ctx: ctx, n: n, limit: limit, rng: rng}).run(domain)
}

func (s *search) run(domain []uint64) ([]int, answer) {
	at, ok := s.dive(0, domain)
	switch {
	case ok:
		return at, some
	case s.ended:
		return nil, unknown
	}
	return nil, none
}

func (s *search) dive(depth int, d []uint64) ([]int, bool) {
	if s.nodes++; s.limit > 0 && s.nodes > s.limit || s.nodes%64 == 0 && s.ctx.Err() != nil {
		s.ended = true
		return nil, false
	}
	if !s.n.narrow(d) || s.priced && !s.n.reprice(d) {
		return nil, false
	}
	if fixed(d) {
		return slotsOf(d), true
	}
	i := s.choose(d)
	for len(s.stack) <= depth {
		s.stack = append(s.stack, make([]uint64, len(d)))
	}
	for _, slot := range s.ranked(d, i) {
		child := s.stack[depth]
		copy(child, d)
		child[i] = 1 << slot
		if at, ok := s.dive(depth+1, child); ok || s.ended {
			return at, ok
		}
	}
	return nil, false
}

func slotsOf(d []uint64) []int {
	at := make([]int, len(d))
	for i, set := range d {
		at[i] = first(set)
	}
	return at
}

// choose takes the rung with the fewest slots left, among those the one that weighs most.
func (s *search) choose(d []uint64) int {
	best, fewest, heaviest := -1, 65, -1
	for i, set := range d {
		size := bits.OnesCount64(set)
		if size < 2 || !s.priced && size > fewest {
			continue
		}
		if w := s.n.m.heft(i); !s.priced && size < fewest || w > heaviest {
			best, fewest, heaviest = i, size, w
		}
	}
	return best
}

// heft is all that a rung weighs when it is new.
func (m *model) heft(i int) int {
	sum := 0
	for r := 1; r < resources; r++ {
		sum += max(1, m.weight[r]) * m.load[r][i]
	}
	return sum
}

// ranked lists the slots of a rung, those first that have most room for what is not fixed yet.
func (s *search) ranked(d []uint64, i int) []int {
	var slots []int
	for set := d[i]; set != 0; set &= set - 1 {
		slots = append(slots, first(set))
	}
	taken := make([]int, len(s.n.m.weeks))
	for j, set := range d {
		if set&(set-1) == 0 {
			taken[first(set)] += s.n.m.heft(j)
		}
	}
	if s.rng != nil {
		for t := range taken {
			taken[t] += s.rng.IntN(4)
		}
	}
	slices.SortStableFunc(slots, func(a, b int) int { return taken[a] - taken[b] })
	return slots
}

// reprice sees what prices say about the domains of a node, and reports whether every rung still has a slot.
func (n *narrower) reprice(d []uint64) bool {
	return n.prices.improve(d, nodeSteps, nodeAim) && n.narrow(d)
}

// price narrows by limits and then by prices, and reports whether every rung still has a slot.
func (n *narrower) price(d []uint64) bool {
	if !n.narrow(d) {
		return false
	}
	ok := false
	n.prices, ok = n.findPrices(d)
	return ok && n.narrow(d)
}

// shave tries every rung in its first and its last slot and takes away those that narrowing shows to be impossible, until
// nothing changes. It reports whether every rung still has a slot.
func (n *narrower) shave(ctx context.Context, d []uint64) bool {
	if !n.narrow(d) {
		return false
	}
	try := make([]uint64, len(d))
	for changed := true; changed; {
		changed = false
		for i := range d {
			for _, end := range []func(uint64) int{first, last} {
				if d[i]&(d[i]-1) == 0 || ctx.Err() != nil {
					continue
				}
				copy(try, d)
				try[i] = 1 << end(d[i])
				if n.narrow(try) {
					continue
				}
				if d[i] &^= 1 << end(d[i]); !n.narrow(d) {
					return false
				}
				changed = true
			}
		}
	}
	return true
}
