package lesson

import (
	"cmp"
	"math"
	"math/bits"
	"slices"
)

// column is a possible group and the most that it can be worth over the lesson, without regard to the other groups.
type column struct {
	set   uint64
	worth int64
	slack int64
}

// columns is every possible group. With prices for the children (dual) and for a group (share), no partition can be worth
// more than root; a partition whose columns have slack x together cannot be worth more than root - x.
type columns struct {
	s     *solver
	list  []column
	dual  []int64
	share int64
	root  int64
	first [][]column // by smallest child, least slack first
}

// countSets is how many sets of children there are by size alone, capped.
func (p *problem) countSets(limit int) int {
	total := 0.0
	for size := p.least; size <= p.most; size++ {
		ways := 1.0
		for i := range size {
			ways = ways * float64(p.n-i) / float64(i+1)
		}
		total += ways
	}
	return int(math.Min(total, float64(limit)))
}

// newColumns prices every possible group. ok is false when time ran out.
func newColumns(s *solver) (c *columns, ok bool) {
	c = &columns{s: s, dual: make([]int64, s.p.n)}
	c.grow(0, 0)
	return c, !s.look()
}

func (c *columns) grow(from int, set uint64) {
	size := bits.OnesCount64(set)
	if size >= c.s.p.least && c.s.p.wholeGroup(set) {
		if w := c.s.groupWorth(set); w >= 0 {
			c.list = append(c.list, column{set: set, worth: w})
		}
	}
	if size == c.s.p.most || c.s.stopped() {
		return
	}
	for i := from; i < c.s.p.n; i++ {
		if c.s.p.apart[i]&set == 0 {
			c.grow(i+1, set|1<<i)
		}
	}
}

// groupWorth is the most that a group can be worth over the lesson: its best stations, the best spotters at each. It is
// -1 when there are not enough stations for it.
func (s *solver) groupWorth(set uint64) int64 {
	var top []int64
	for st := range s.p.stations {
		best := int64(-1)
		for r := range s.p.rots {
			best = max(best, s.crew.most(set, r, st))
		}
		for i := 0; i < s.p.visits() && best >= 0; i++ {
			top = insertTop(top, best, s.p.rots)
		}
	}
	if len(top) < s.p.rots {
		return -1
	}
	var sum int64
	for _, v := range top {
		sum += v
	}
	return sum
}

// tighten lowers root by pricing the children: subgradient steps towards the target, the worth of a plan that is known.
// Every step gives a valid bound; the lowest is kept. (Held, Wolfe, Crowder 1974 give the method.)
func (c *columns) tighten(target int64, steps int) {
	n, groups := c.s.p.n, int64(c.s.p.groups)
	dual, good := make([]int64, n), make([]int64, n)
	for _, col := range c.list {
		for m := col.set; m != 0; m &= m - 1 {
			i := bits.TrailingZeros64(m)
			dual[i] = max(dual[i], col.worth/int64(bits.OnesCount64(col.set)))
		}
	}
	c.root = math.MaxInt64
	scale, stale := 1.0, 0
	step := make([]float64, n)
	for range steps {
		share, at := c.dearest(dual)
		bound := groups * share
		for _, d := range dual {
			bound += d
		}
		if stale++; bound < c.root {
			c.root, c.share, stale = bound, share, 0
			copy(good, dual)
		}
		if stale > 15 {
			scale, stale = scale/1.6, 0
			copy(dual, good)
		}
		if c.s.stopped() || bound <= target || scale < 1e-4 {
			break
		}
		norm := 0.0
		for i := range step {
			step[i] = 0.7*step[i] + 0.3*(1-float64(groups)*float64(c.list[at].set>>i&1))
			norm += step[i] * step[i]
		}
		move := scale * float64(c.root-target) / max(norm, 1) // no longer than the gap is wide, so that it cannot run away
		for i := range dual {
			dual[i] -= int64(move * step[i])
		}
	}
	copy(c.dual, good)
	c.sortBySlack()
}

// dearest is the column worth most beyond the prices of its children.
func (c *columns) dearest(dual []int64) (share int64, at int) {
	share = math.MinInt64
	for i := range c.list {
		if v := c.list[i].worth - priceOf(dual, c.list[i].set); v > share {
			share, at = v, i
		}
	}
	return share, at
}

func priceOf(dual []int64, set uint64) int64 {
	var sum int64
	for ; set != 0; set &= set - 1 {
		sum += dual[bits.TrailingZeros64(set)]
	}
	return sum
}

func (c *columns) sortBySlack() {
	c.first = make([][]column, c.s.p.n)
	for _, col := range c.list {
		col.slack = priceOf(c.dual, col.set) + c.share - col.worth
		i := bits.TrailingZeros64(col.set)
		c.first[i] = append(c.first[i], col)
	}
	for _, list := range c.first {
		slices.SortFunc(list, func(a, b column) int { return cmp.Or(cmp.Compare(a.slack, b.slack), cmp.Compare(a.set, b.set)) })
	}
}

// partitions calls see for every partition with a slack above more and at most upTo, until it answers false. It reports
// whether all were seen within so many nodes.
func (c *columns) partitions(more, upTo int64, nodes int, see func(sets []uint64, slack int64) bool) bool {
	all, full := uint64(1)<<c.s.p.n-1, true
	if c.s.p.n == 64 {
		all = math.MaxUint64
	}
	sets := make([]uint64, 0, c.s.p.groups)
	var walk func(taken uint64, slack int64)
	walk = func(taken uint64, slack int64) {
		if len(sets) == c.s.p.groups {
			if taken == all && slack > more {
				full = see(sets, slack) && full
			}
			return
		}
		if taken == all {
			return
		}
		for _, col := range c.first[bits.TrailingZeros64(^taken)] {
			if slack+col.slack > upTo || !full {
				return
			}
			if nodes--; nodes < 0 || c.s.stopped() {
				full = false
				return
			}
			if col.set&taken == 0 {
				sets = append(sets, col.set)
				walk(taken|col.set, slack+col.slack)
				sets = sets[:len(sets)-1]
			}
		}
	}
	walk(0, 0)
	return full
}
