package pacing

import "math"

// prices put a value of at least 0 on every limit of every slot, and on every need by every slot (Lagrange multipliers).
// What all rungs cost where they are cheapest, less the value of all that the limits allow, is above 0 only when no plan
// keeps them: a plan pays each limit at most for what it allows, and a need at most nothing.
type prices struct {
	n     *narrower
	most  [resources][]float64 // price of the most, by slot
	least [resources][]float64 // price of the least, by slot
	ties  [][][]float64        // price of a need kept, by rung, its needs, and slot by which the rung is in
	cost  [][]float64          // of a rung by slot where it is new
	fixed float64              // value of what the limits allow and demand, as a cost
}

// priceSteps is how often prices are raised where too much falls and lowered where there is room (subgradient steps).
const priceSteps = 200

// slack keeps rounding from ruling anything out; loads are whole and the prices of one set add up to 1.
const slack = 1e-7

// findPrices looks for prices that say most about domains, and reports whether they leave room for a plan.
func (n *narrower) findPrices(d []uint64) (*prices, bool) {
	p := n.evenPrices()
	best, bestAt := p, math.Inf(-1)
	for k := range priceSteps {
		p.sum()
		at := p.bound(d)
		if at > bestAt {
			best, bestAt = p, at
		}
		if at > slack {
			return p, false
		}
		p = p.next(d, 0.5/(1+float64(k)/10))
	}
	return best, true
}

func (n *narrower) evenPrices() *prices {
	p := &prices{n: n}
	for r := range resources {
		p.most[r], p.least[r] = make([]float64, len(n.m.weeks)), make([]float64, len(n.m.weeks))
	}
	for _, r := range n.active {
		for s := range p.most[r] {
			p.most[r][s] = float64(one(n.most[r][s] < endless/2 && r != count))
		}
	}
	p.ties = make([][][]float64, len(n.m.rungs))
	for i, needs := range n.m.needs {
		for range needs {
			p.ties[i] = append(p.ties[i], make([]float64, len(n.m.weeks)))
		}
	}
	p.scale()
	return p
}

func one(yes bool) int {
	if yes {
		return 1
	}
	return 0
}

// scale makes the prices add up to 1.
func (p *prices) scale() {
	sum := 0.0
	for _, r := range p.n.active {
		for s := range p.most[r] {
			sum += p.most[r][s] + p.least[r][s]
		}
	}
	if sum == 0 {
		return
	}
	for _, r := range p.n.active {
		for s := range p.most[r] {
			p.most[r][s] /= sum
			p.least[r][s] /= sum
		}
	}
	for i := range p.ties {
		for k := range p.ties[i] {
			for s := range p.ties[i][k] {
				p.ties[i][k][s] /= sum
			}
		}
	}
}

// sum works out the cost of every rung in every slot.
func (p *prices) sum() {
	m := p.n.m
	p.fixed, p.cost = 0, make([][]float64, len(m.rungs))
	for _, r := range p.n.active {
		for s := range p.most[r] {
			if p.most[r][s] > 0 {
				p.fixed -= p.most[r][s] * float64(p.n.most[r][s])
			}
			p.fixed += p.least[r][s] * float64(p.n.least[r][s])
		}
	}
	for i := range m.rungs {
		p.cost[i] = make([]float64, len(m.weeks))
		for s := range m.weeks {
			for _, r := range p.n.active {
				p.cost[i][s] += float64(m.load[r][i]) * (p.most[r][s] - p.least[r][s])
				if m.seen[i] == nil {
					continue
				}
				for _, t := range m.seen[i][s] {
					p.cost[i][s] += float64(m.again[r][i]) * (p.most[r][t] - p.least[r][t])
				}
			}
		}
	}
	p.sumTies()
}

// sumTies adds the prices of the needs. A rung that is in by a slot pays for it; what it needs earns as much when it is in
// far enough before.
func (p *prices) sumTies() {
	for i, needs := range p.n.m.needs {
		for k, need := range needs {
			in, before := 0.0, 0.0
			for s := len(p.n.m.weeks) - 1; s >= 0; s-- {
				in += p.ties[i][k][s]
				p.cost[i][s] += in
			}
			for s, at := len(p.n.m.weeks)-1, len(p.n.m.weeks)-1; s >= 0; s-- {
				for ; at >= 0 && p.n.prev[need.lag][at] >= s; at-- {
					before += p.ties[i][k][at]
				}
				p.cost[need.rung][s] -= before
			}
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
	for ; d != 0; d &= d - 1 {
		if s := first(d); p.cost[i][s] < cost {
			slot, cost = s, p.cost[i][s]
		}
	}
	return slot, cost
}

// next are the prices after a step: up where the cheapest slots overstep a limit, down where they leave room.
func (p *prices) next(d []uint64, step float64) *prices {
	m := p.n.m
	var weighs [resources][]float64
	for r := range resources {
		weighs[r] = make([]float64, len(m.weeks))
	}
	at := make([]int, len(d))
	for i := range d {
		s, _ := p.cheapest(d[i], i)
		at[i] = s
		for _, r := range p.n.active {
			weighs[r][s] += float64(m.load[r][i])
			if m.seen[i] == nil {
				continue
			}
			for _, t := range m.seen[i][s] {
				weighs[r][t] += float64(m.again[r][i])
			}
		}
	}
	out, length := p.n.evenPrices(), 0.0
	for _, r := range p.n.active {
		for s, w := range weighs[r] {
			over := w - float64(p.n.most[r][s])
			length += over * over * float64(one(p.n.most[r][s] < endless/2))
		}
	}
	step /= 1 + math.Sqrt(length+float64(p.broken(at)))
	for _, r := range p.n.active {
		for s, w := range weighs[r] {
			out.most[r][s], out.least[r][s] = 0, 0
			if p.n.most[r][s] < endless/2 {
				out.most[r][s] = max(0, p.most[r][s]+step*(w-float64(p.n.most[r][s])))
			}
			if p.n.least[r][s] > 0 {
				out.least[r][s] = max(0, p.least[r][s]+step*(float64(p.n.least[r][s])-w))
			}
		}
	}
	for i, needs := range m.needs {
		for k, need := range needs {
			for s := range m.weeks {
				late := one(at[i] <= s) - one(at[need.rung] <= p.n.prev[need.lag][s])
				out.ties[i][k][s] = max(0, p.ties[i][k][s]+step*float64(late))
			}
		}
	}
	out.scale()
	return out
}

// broken counts by how many slots the rungs come sooner than their needs allow.
func (p *prices) broken(at []int) int {
	sum := 0
	for i, needs := range p.n.m.needs {
		for _, need := range needs {
			sum += max(0, p.n.next[need.lag][at[need.rung]]-at[i])
		}
	}
	return sum
}

// keepCheap takes the slots that cost more than any plan can, and reports whether every rung still has one.
func (p *prices) keepCheap(d []uint64) (ok, changed bool) {
	bound := p.bound(d)
	if bound > slack {
		return false, true
	}
	for i := range d {
		_, least := p.cheapest(d[i], i)
		for set := d[i]; set != 0; set &= set - 1 {
			if s := first(set); bound+p.cost[i][s]-least > slack {
				d[i] &^= 1 << s
				changed = true
			}
		}
	}
	return true, changed
}
