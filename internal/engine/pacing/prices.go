package pacing

import "math"

// prices put a value of at least 0 on every limit of every slot, and on every need by every slot (Lagrange multipliers).
// What all rungs cost where they are cheapest, less the value of all that the limits allow, is above 0 only when no plan
// keeps them: a plan pays each limit at most for what it allows, and a need at most nothing.
type prices struct {
	n     *narrower
	slots int
	ties  []needOf
	at    priceList // in force
	cost  []float64 // of a rung by slot where it is new, at [rung * slots + slot]
	fixed float64   // value of what the limits allow and demand, as a cost

	cheap  []int     // scratch: the cheapest slot of a rung
	weighs []float64 // scratch: what the cheapest slots weigh, by resource and slot
	slope  priceList // scratch: by how much each limit is overstepped there
	way    priceList // scratch: the direction of the last step
	best   priceList // scratch: the best that a run of steps saw
}

// priceList holds the prices of the most and the least of each resource and slot, then those of each need by slot.
type priceList []float64

// needOf is a need of a rung, for its prices.
type needOf struct {
	rung int
	tie
}

// How prices are looked for: each step aims so far above the best bound so far, and nearer when some steps were in vain.
const (
	priceSteps = 600
	nodeSteps  = 40  // in a node of a search
	firstAim   = 1.0 // points a week
	nodeAim    = 0.25
	lastAim    = 0.004
	inVain     = 8
	turnPrice  = 1.5 // how far a step turns away from the one before when they point against each other
)

// slack keeps rounding from ruling anything out; loads are whole and the prices of one set add up to 1.
const slack = 1e-7

// findPrices looks for prices that say most about domains, and reports whether they leave room for a plan.
func (n *narrower) findPrices(d []uint64) (*prices, bool) {
	p := newPrices(n)
	return p, p.improve(d, priceSteps, firstAim)
}

func newPrices(n *narrower) *prices {
	p := &prices{n: n, slots: len(n.m.weeks), cheap: make([]int, len(n.m.rungs))}
	for i, needs := range n.m.needs {
		for _, t := range needs {
			p.ties = append(p.ties, needOf{i, t})
		}
	}
	size := (2*resources + len(p.ties)) * p.slots
	p.at, p.best, p.slope, p.way = make(priceList, size), make(priceList, size), make(priceList, size), make(priceList, size)
	p.cost, p.weighs = make([]float64, len(n.m.rungs)*p.slots), make([]float64, resources*p.slots)
	for _, r := range n.active {
		for s := range p.slots {
			if r != count && n.most[r][s] < endless/2 {
				p.most(p.at, r)[s] = 1
			}
		}
	}
	p.scale()
	return p
}

func (p *prices) most(l priceList, r int) []float64 { return l[r*p.slots : (r+1)*p.slots] }

func (p *prices) least(l priceList, r int) []float64 { return p.most(l, resources+r) }

func (p *prices) tie(l priceList, k int) []float64 { return p.most(l, 2*resources+k) }

// improve takes steps towards prices that say more about domains (subgradient steps with a target that nears), leaves the best
// that it saw in force, and reports whether they leave room for a plan.
func (p *prices) improve(d []uint64, steps int, aim float64) bool {
	p.sum()
	copy(p.best, p.at)
	clear(p.way)
	bound := p.lookUp(d)
	for now, vain := bound, 0; steps > 0 && aim >= lastAim && bound <= slack; steps-- {
		p.step(now, bound+aim)
		p.sum()
		if now = p.lookUp(d); now > bound {
			if now > bound+aim/16 {
				vain = 0
			}
			bound = now
			copy(p.best, p.at)
		}
		if vain++; vain > inVain {
			aim, vain = aim/2, 0
			copy(p.at, p.best)
			p.sum()
			now = p.lookUp(d)
			clear(p.way)
		}
	}
	copy(p.at, p.best)
	p.sum()
	return bound <= slack
}

// scale makes the prices of limits add up to 1.
func (p *prices) scale() {
	sum := 0.0
	for _, v := range p.at[:2*resources*p.slots] {
		sum += v
	}
	if sum == 0 {
		return
	}
	for i := range p.at {
		p.at[i] /= sum
	}
}

// sum works out the cost of every rung in every slot.
func (p *prices) sum() {
	m := p.n.m
	clear(p.cost)
	p.fixed = 0
	for _, r := range p.n.active {
		most, least := p.most(p.at, r), p.least(p.at, r)
		net := p.weighs[:p.slots]
		for s := range net {
			net[s] = most[s] - least[s]
			if most[s] > 0 {
				p.fixed -= most[s] * float64(p.n.most[r][s])
			}
			p.fixed += least[s] * float64(p.n.least[r][s])
		}
		for i, seen := range m.seen {
			cost, load, again := p.of(i), float64(m.load[r][i]), float64(m.again[r][i])
			if load != 0 {
				for s, v := range net {
					cost[s] += load * v
				}
			}
			if seen == nil || again == 0 {
				continue
			}
			for s, later := range seen {
				for _, t := range later {
					cost[s] += again * net[t]
				}
			}
		}
	}
	p.sumTies()
}

func (p *prices) of(i int) []float64 { return p.cost[i*p.slots : (i+1)*p.slots] }

// sumTies adds the prices of the needs. A rung that is in by a slot pays for it; what it needs earns as much when it is in
// far enough before.
func (p *prices) sumTies() {
	for k, need := range p.ties {
		price, prev := p.tie(p.at, k), p.n.prev[need.lag]
		later, first := p.of(need.rung), p.of(need.tie.rung)
		in, before := 0.0, 0.0
		for s, at := p.slots-1, p.slots-1; s >= 0; s-- {
			in += price[s]
			later[s] += in
			for ; at >= 0 && prev[at] >= s; at-- {
				before += price[at]
			}
			first[s] -= before
		}
	}
}

// bound is what all rungs cost where they are cheapest: above 0 there is no plan within the domains.
func (p *prices) bound(d []uint64) float64 {
	sum := p.fixed
	for i := range d {
		_, cost := p.cheapest(d[i], i)
		sum += cost
	}
	return sum
}

func (p *prices) cheapest(d uint64, i int) (slot int, cost float64) {
	cost = math.Inf(1)
	for of := p.of(i); d != 0; d &= d - 1 {
		if s := first(d); of[s] < cost {
			slot, cost = s, of[s]
		}
	}
	return slot, cost
}

// lookUp is the bound, and keeps by how much the cheapest slots overstep each limit.
func (p *prices) lookUp(d []uint64) float64 {
	m, sum := p.n.m, p.fixed
	clear(p.weighs)
	for i := range d {
		s, cost := p.cheapest(d[i], i)
		p.cheap[i] = s
		sum += cost
		for _, r := range p.n.active {
			w := p.weighs[r*p.slots : (r+1)*p.slots]
			w[s] += float64(m.load[r][i])
			if m.seen[i] == nil {
				continue
			}
			for _, t := range m.seen[i][s] {
				w[t] += float64(m.again[r][i])
			}
		}
	}
	for _, r := range p.n.active {
		most, least := p.most(p.slope, r), p.least(p.slope, r)
		for s, w := range p.weighs[r*p.slots : (r+1)*p.slots] {
			most[s], least[s] = 0, 0
			if p.n.most[r][s] < endless/2 {
				most[s] = w - float64(p.n.most[r][s])
			}
			if p.n.least[r][s] > 0 {
				least[s] = float64(p.n.least[r][s]) - w
			}
		}
	}
	for k, need := range p.ties {
		slope, prev, in, before := p.tie(p.slope, k), p.n.prev[need.lag], p.cheap[need.rung], p.cheap[need.tie.rung]
		for s := range slope {
			slope[s] = float64(one(in <= s) - one(before <= prev[s]))
		}
	}
	return sum
}

func one(yes bool) int {
	if yes {
		return 1
	}
	return 0
}

// step moves the prices from a bound towards another: up where the cheapest slots overstep a limit, down where they leave room,
// turned away from the step before where that pointed against it.
func (p *prices) step(bound, aim float64) {
	along, square := 0.0, 0.0
	for i, g := range p.slope {
		if p.at[i] == 0 && g < 0 {
			p.slope[i], p.way[i] = 0, 0
			continue
		}
		along += g * p.way[i]
		square += p.way[i] * p.way[i]
	}
	turn := 0.0
	if along < 0 {
		turn = -turnPrice * along / square
	}
	square = 0
	for i, g := range p.slope {
		p.way[i] = g + turn*p.way[i]
		square += p.way[i] * p.way[i]
	}
	if square == 0 {
		return
	}
	length := (aim - bound) / square
	for i, w := range p.way {
		p.at[i] = max(0, p.at[i]+length*w)
	}
	p.scale()
}

// keepCheap takes the slots that cost more than any plan can, and reports whether every rung still has one.
func (p *prices) keepCheap(d []uint64) (ok, changed bool) {
	bound := p.bound(d)
	if bound > slack {
		return false, true
	}
	for i := range d {
		_, least := p.cheapest(d[i], i)
		for set, of := d[i], p.of(i); set != 0; set &= set - 1 {
			if s := first(set); bound+of[s]-least > slack {
				d[i] &^= 1 << s
				changed = true
			}
		}
	}
	return true, changed
}
