package lesson

import (
	"cmp"
	"math"
	"math/bits"
	"runtime"
	"slices"
	"sync"
)

// column is a possible group. Its slack is what a partition loses against root, at least, by having it.
type column struct {
	set   uint64
	slack int64
}

// columns is every possible group, and what each is worth at each station by class of crew. With the tariff found, no
// partition can be worth more than root; one whose columns have slack x together cannot be worth more than root - x.
type columns struct {
	s         *solver
	sets      []uint64
	stands    []stand
	width     int
	stationOf []int   // by class
	grain     int64   // the unit of worth, in millionths: 1 unless worths are enormous
	worth     []int32 // by set, then class; rounded up; -1 where it cannot be
	tariff    tariff
	share     int64
	root      int64
	first     [][]column // by smallest child, least slack first
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

// newColumns prices every possible group. ok is false when time ran out or there is too much to keep.
func newColumns(s *solver) (c *columns, ok bool) {
	c = &columns{s: s, grain: 1, tariff: newTariff(s.p)}
	c.grow(0, 0)
	c.stands, c.width = newStands(s)
	for st, d := range c.stands {
		c.stationOf = append(c.stationOf, slices.Repeat([]int{st}, len(d.classes))...)
	}
	if len(c.sets)*c.width > worthLimit {
		return c, false
	}
	for most := c.mostWorth(); most/c.grain >= math.MaxInt32; {
		c.grain *= 2
	}
	c.worth = make([]int32, len(c.sets)*c.width)
	return c, c.priceAll() && !s.look()
}

// priceAll prices the groups on all processors and reports whether there was time to.
func (c *columns) priceAll() bool {
	workers := runtime.GOMAXPROCS(0)
	until := c.s.until()
	var all sync.WaitGroup
	for w := range workers {
		all.Go(func() {
			prices := newPricer(c.s.p)
			for i := w; i < len(c.sets); i += workers {
				if i/workers%64 == 0 && until.Err() != nil {
					return
				}
				c.price(prices, c.sets[i], c.row(i))
			}
		})
	}
	all.Wait()
	return until.Err() == nil
}

func (c *columns) grow(from int, set uint64) {
	size := bits.OnesCount64(set)
	if size >= c.s.p.least && c.s.p.wholeGroup(set) {
		c.sets = append(c.sets, set)
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

// mostWorth is more than any cell can be worth.
func (c *columns) mostWorth() int64 {
	var sum int64
	for i := range c.s.p.n {
		var most int64
		for _, list := range c.s.p.options[i] {
			for _, o := range list {
				most = max(most, o.worth[len(o.worth)-1])
			}
		}
		sum += most
	}
	return sum
}

func (c *columns) row(i int) []int32 { return c.worth[i*c.width : (i+1)*c.width] }

// price fills in the row of a group.
func (c *columns) price(prices *pricer, set uint64, row []int32) {
	var options [maxChildren][]option
	out := make([]int64, c.width)
	kids := members(set)
	for st := range c.stands {
		d := &c.stands[st]
		for j, child := range kids {
			options[j] = c.s.p.options[child][st]
		}
		d.price(prices, set, kids, options[:len(kids)], out[d.offset:d.offset+len(d.classes)])
	}
	for i, w := range out {
		row[i] = -1
		if w >= 0 {
			row[i] = int32((w + c.grain - 1) / c.grain)
		}
	}
}

// sortBySlack lists the columns that a plan worth more than target could have.
func (c *columns) sortBySlack(target int64) {
	c.first = make([][]column, c.s.p.n)
	for i, beyond := range c.beyond(c.tariff) {
		if slack := c.share - beyond; beyond != never && c.root-slack > target {
			at := bits.TrailingZeros64(c.sets[i])
			c.first[at] = append(c.first[at], column{c.sets[i], slack})
		}
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
