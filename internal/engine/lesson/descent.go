package lesson

import (
	"math"
	"math/bits"
	"slices"
)

// Effort of the search for a tariff.
const (
	poolSize   = 1500
	poolSample = 8 // every so many columns tell how much the columns of the pool weigh at least
	poolRounds = 12
	firstStep  = 0.1 // as a share of the root of a child
	lastStep   = 0.001
	smoothing  = 0.3 // of a step
)

// descent looks for the tariff with the lowest bound. The bound is the greatest of many linear functions; it follows a
// smooth one above it, the logarithm of the sum of their powers, ever less smooth (Nesterov 2005), by steps of adapted
// length (Kingma and Ba 2015), over a pool of the columns that weigh most. Every round looks at all columns, which gives
// a valid bound and a new pool.
type descent struct {
	c        *columns
	pool     []int32
	worth    []float64  // by column of the pool, then class; below everything where it cannot be
	beyond   []float64  // by column of the pool: what it is worth beyond its prices
	use      [][8]int32 // by column of the pool: the classes of crews that it uses
	price    []float64  // by class: its cheapest crew with its station
	crew     []uint32   // by class: its cheapest crew
	d        []float64  // the prices of children, stations, people, adults
	slope    []float64
	mean, sq []float64
	steps    int
}

// tighten lowers root for so many steps, or until it is not above target, the worth of a plan that is known.
func (c *columns) tighten(target int64, steps int) {
	c.root = math.MaxInt64
	d := newDescent(c)
	for range poolRounds {
		if !d.look(target) {
			break
		}
		for range steps / poolRounds {
			d.step(firstStep * math.Pow(lastStep/firstStep, float64(d.steps)/float64(steps)))
		}
	}
	d.look(target)
	c.sortBySlack(target)
}

func newDescent(c *columns) *descent {
	p := c.s.p
	size := p.n + len(p.stations) + len(p.staff) + 1
	d := &descent{c: c, price: make([]float64, c.width), crew: make([]uint32, c.width), d: make([]float64, size),
		slope: make([]float64, size), mean: make([]float64, size), sq: make([]float64, size)}
	for i, beyond := range c.beyond(newTariff(p)) {
		each := float64(beyond) / float64(bits.OnesCount64(c.sets[i]))
		for m := c.sets[i]; m != 0; m &= m - 1 {
			at := bits.TrailingZeros64(m)
			d.d[at] = max(d.d[at], each)
		}
	}
	return d
}

// tariff rounds the prices.
func (d *descent) tariff() tariff {
	t := newTariff(d.c.s.p)
	at := 0
	for _, list := range [][]int64{t.child, t.station, t.person} {
		for i := range list {
			list[i] = int64(math.Round(d.d[at]))
			at++
		}
	}
	t.adult = int64(math.Round(d.d[at]))
	return t
}

// look goes over all columns: it keeps the tariff when its bound is the lowest, and renews the pool. It reports whether it
// is worth going on.
func (d *descent) look(target int64) bool {
	c, t := d.c, d.tariff()
	values := c.beyond(t)
	share := slices.Max(values)
	if share == never {
		c.root, c.share = 0, 0
		return false
	}
	if root := t.total(c.s.p) + int64(c.s.p.groups)*share; root < c.root {
		c.root, c.share, c.tariff = root, share, t
	}
	d.renew(values)
	return c.root > target && !c.s.stopped()
}

// renew takes the columns worth most into the pool.
func (d *descent) renew(values []int64) {
	sample := make([]int64, 0, len(values)/poolSample+1)
	for i := 0; i < len(values); i += poolSample {
		sample = append(sample, values[i])
	}
	slices.Sort(sample)
	limit := sample[max(0, len(sample)-poolSize/poolSample)]
	d.pool = d.pool[:0]
	for i, v := range values {
		if v >= limit && v != never {
			d.pool = append(d.pool, int32(i))
		}
	}
	d.worth = d.worth[:0]
	for _, i := range d.pool {
		for _, w := range d.c.row(int(i)) {
			if w < 0 {
				w = math.MinInt32
			}
			d.worth = append(d.worth, float64(w)*float64(d.c.grain))
		}
	}
}

// step moves against the slope of the smoothed bound over the pool. Far is how far, as a share of the root of a child.
func (d *descent) step(far float64) {
	p := d.c.s.p
	scale := float64(d.c.root) / float64(p.n)
	d.weigh(far * scale * smoothing)
	d.steps++
	for i, g := range d.slope {
		d.mean[i] = 0.9*d.mean[i] + 0.1*g
		d.sq[i] = 0.99*d.sq[i] + 0.01*g*g
		mean, sq := d.mean[i]/(1-math.Pow(0.9, float64(d.steps))), d.sq[i]/(1-math.Pow(0.99, float64(d.steps)))
		d.d[i] -= far * scale * mean / (math.Sqrt(sq) + 0.1)
		if i >= p.n {
			d.d[i] = max(0, d.d[i])
		}
	}
}

// weigh works out the slope: every column of the pool counts by the power of what it is worth beyond its prices.
func (d *descent) weigh(smooth float64) {
	most, sum := d.value(), 0.0
	for i, v := range d.beyond {
		d.beyond[i] = math.Exp((v - most) / smooth)
		sum += d.beyond[i]
	}
	p, c := d.c.s.p, d.c
	for i := range d.slope {
		d.slope[i] = 1
		if i >= p.n {
			d.slope[i] = float64(p.rots)
		}
	}
	d.slope[len(d.slope)-1] = float64(p.rots * max(0, p.spare))
	for i, w := range d.beyond {
		w *= float64(p.groups) / sum
		if w < 1e-6 {
			continue
		}
		for m := c.sets[d.pool[i]]; m != 0; m &= m - 1 {
			d.slope[bits.TrailingZeros64(m)] -= w
		}
		d.spend(d.use[i], w)
	}
}

// spend takes what a column uses, so many times, from the slope.
func (d *descent) spend(use [8]int32, times float64) {
	p, last := d.c.s.p, len(d.slope)-1
	for _, k := range use[:p.rots] {
		d.slope[p.n+d.c.stationOf[k]] -= times
		for m := d.crew[k]; m != 0; m &= m - 1 {
			d.slope[p.n+len(p.stations)+bits.TrailingZeros32(m)] -= times
		}
		d.slope[last] -= times * float64(bits.OnesCount32(d.crew[k]&p.adults))
	}
}

// value works out what the columns of the pool are worth beyond their prices, and gives the most.
func (d *descent) value() float64 {
	d.priceCrews()
	most := math.Inf(-1)
	d.beyond = slices.Grow(d.beyond[:0], len(d.pool))[:len(d.pool)]
	d.use = slices.Grow(d.use[:0], len(d.pool))[:len(d.pool)]
	for j, i := range d.pool {
		v := d.best(d.worth[j*d.c.width:(j+1)*d.c.width], &d.use[j])
		for m := d.c.sets[i]; m != 0; m &= m - 1 {
			v -= d.d[bits.TrailingZeros64(m)]
		}
		d.beyond[j] = v
		most = max(most, v)
	}
	return most
}

func (d *descent) priceCrews() {
	p := d.c.s.p
	people := d.d[p.n+len(p.stations):]
	for st := range d.c.stands {
		for i, class := range d.c.stands[st].classes {
			k := d.c.stands[st].offset + i
			d.price[k] = math.Inf(1)
			for _, crew := range class.crews {
				v := d.d[p.n+st] + people[len(p.staff)]*float64(bits.OnesCount32(crew&p.adults))
				for m := crew; m != 0; m &= m - 1 {
					v += people[bits.TrailingZeros32(m)]
				}
				if v < d.price[k] {
					d.price[k], d.crew[k] = v, crew
				}
			}
		}
	}
}

// best is what a group is worth beyond the prices of stations and crews at its best stations.
func (d *descent) best(row []float64, use *[8]int32) float64 {
	var top [8]float64
	n, rots, visits := 0, d.c.s.p.rots, d.c.s.p.visits()
	for st := range d.c.stands {
		from, to := d.c.stands[st].offset, d.c.stands[st].offset+len(d.c.stands[st].classes)
		best, at := math.Inf(-1), from
		price := d.price[from:to]
		for k, w := range row[from:to] {
			if v := w - price[k]; v > best {
				best, at = v, from+k
			}
		}
		for range visits {
			i := n
			for ; i > 0 && top[i-1] < best; i-- {
				if i < rots {
					top[i], use[i] = top[i-1], use[i-1]
				}
			}
			if i < rots {
				top[i], use[i] = best, int32(at)
				n = min(n+1, rots)
			}
		}
	}
	sum := 0.0
	for _, v := range top[:n] {
		sum += v
	}
	return sum
}
