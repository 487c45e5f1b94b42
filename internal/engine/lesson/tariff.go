package lesson

import (
	"math"
	"math/bits"
	"runtime"
	"sync"
)

// tariff is prices in millionths: for having a child, for being at a station, for having a person spot, and for taking an
// adult from watching. Only those of children may be below 0. What all groups together use of each is limited, so any
// tariff bounds what a plan can be worth (Lagrangian relaxation; Geoffrion 1974).
type tariff struct {
	child   []int64
	station []int64
	person  []int64
	adult   int64
}

func newTariff(p *problem) tariff {
	return tariff{child: make([]int64, p.n), station: make([]int64, len(p.stations)), person: make([]int64, len(p.staff))}
}

// total is what a whole lesson pays at most: every child once, and what every rotation pays.
func (t tariff) total(p *problem) int64 { return sumOf(t.child) + int64(p.rots)*t.always(p) }

// always is what a rotation pays at most: for every station, person and adult who may spot.
func (t tariff) always(p *problem) int64 {
	return sumOf(t.station) + sumOf(t.person) + t.adult*int64(max(0, p.spare))
}

func sumOf(list []int64) int64 {
	var sum int64
	for _, v := range list {
		sum += v
	}
	return sum
}

// crew is the price of a crew.
func (t tariff) crew(p *problem, crew uint32) int64 {
	sum := t.adult * int64(bits.OnesCount32(crew&p.adults))
	for m := crew; m != 0; m &= m - 1 {
		sum += t.person[bits.TrailingZeros32(m)]
	}
	return sum
}

// cheapest is the price of the cheapest crew of every class, and of its station.
func (c *columns) cheapest(t tariff) []int64 {
	out := make([]int64, 0, c.width)
	for st := range c.stands {
		for _, class := range c.stands[st].classes {
			least := int64(math.MaxInt64)
			for _, crew := range class.crews {
				least = min(least, t.crew(c.s.p, crew))
			}
			out = append(out, least+t.station[st])
		}
	}
	return out
}

// never stands for what cannot be.
const never = math.MinInt64

// beyond is what every column is worth beyond its prices, never where there are too few stations for it.
func (c *columns) beyond(t tariff) []int64 {
	out := make([]int64, len(c.sets))
	prices := c.cheapest(t)
	share := len(out)/runtime.GOMAXPROCS(0) + 1
	var all sync.WaitGroup
	for from := 0; from < len(out); from += share {
		all.Go(func() {
			for i := from; i < min(from+share, len(out)); i++ {
				out[i] = c.beyondOf(i, t, prices)
			}
		})
	}
	all.Wait()
	return out
}

func (c *columns) beyondOf(i int, t tariff, prices []int64) int64 {
	var top [8]int64
	n, visits, rots := 0, c.s.p.visits(), c.s.p.rots
	row := c.row(i)
	for st := range c.stands {
		d := &c.stands[st]
		from, to := d.offset, d.offset+len(d.classes)
		best, price := int64(never), prices[from:to]
		for k, w := range row[from:to] {
			if v := int64(w)*c.grain - price[k]; w >= 0 && v > best {
				best = v
			}
		}
		for v := 0; v < visits && best != never; v++ {
			n = keepTop(&top, n, best, rots)
		}
	}
	if n < rots {
		return never
	}
	return sumOf(top[:n]) - priceOf(t.child, c.sets[i])
}

// keepTop puts v among the n greatest values, greatest first, of which there are never more than most.
func keepTop(top *[8]int64, n int, v int64, most int) int {
	i := n
	for ; i > 0 && top[i-1] < v; i-- {
		if i < most {
			top[i] = top[i-1]
		}
	}
	if i < most {
		top[i] = v
		n = min(n+1, most)
	}
	return n
}

func priceOf(dual []int64, set uint64) int64 {
	var sum int64
	for ; set != 0; set &= set - 1 {
		sum += dual[bits.TrailingZeros64(set)]
	}
	return sum
}
