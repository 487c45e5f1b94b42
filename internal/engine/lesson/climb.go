package lesson

import (
	"math"
	"math/bits"
	"math/rand/v2"
	"slices"
)

// climb looks for good layouts: from a random start it changes the best it has step by step, taking a step back now and
// then, less and less often. The steps are counted, not timed, so that the same input gives the same plan.
type climb struct {
	*solver
	rng     *rand.Rand
	l, next *layout
	score   score
	heat    float64
}

// climbs runs so many climbs of so many steps.
func (s *solver) climbs(runs, steps int) {
	for run := range runs {
		c := &climb{solver: s, rng: rand.New(rand.NewPCG(uint64(s.p.in.Seed), uint64(run))), l: newLayout(s.p), next: newLayout(s.p)}
		if !c.start() {
			continue
		}
		c.run(steps)
		if s.look() {
			return
		}
	}
}

func (c *climb) start() bool {
	for range 20 {
		if c.deal(c.l, c.rng) && c.route(c.l, c.rng) {
			c.score = c.p.score(c.l)
			c.offer(c.l, c.score)
			return true
		}
	}
	return false
}

func (c *climb) run(steps int) {
	start := 0.02 * math.Max(float64(c.score.worth), unit) / math.Sqrt(float64(c.p.n))
	for step := range steps {
		c.heat = start * math.Pow(0.002, float64(step)/float64(steps))
		if c.stopped() {
			return
		}
		c.next.copyFrom(c.l)
		if !c.change() {
			continue
		}
		v := c.p.score(c.next)
		if c.accept(v) {
			c.l, c.next, c.score = c.next, c.l, v
			c.offer(c.l, v)
		}
	}
}

func (c *climb) accept(v score) bool {
	worse := v.cost() - c.score.cost()
	return worse <= 0 || c.rng.Float64() < math.Exp(-worse/c.heat)
}

// change makes one random change to next and reports whether it could.
func (c *climb) change() bool {
	switch k := c.rng.IntN(100); {
	case k < 75:
		return c.moveChildren()
	case k < 85:
		return c.swapRotations()
	case k < 90:
		return c.swapStations()
	case k < 96:
		return c.otherStation()
	default:
		c.restaff(c.next, c.rng.IntN(c.p.rots))
		return true
	}
}

// moveChildren moves a child, with those who stay together, to another group, mostly in exchange for others.
func (c *climb) moveChildren() bool {
	if c.p.groups < 2 {
		return false
	}
	l := c.next
	unit := c.p.together[c.rng.IntN(c.p.n)]
	from := l.group[bits.TrailingZeros64(unit)]
	to := c.rng.IntN(c.p.groups - 1)
	if to >= from {
		to++
	}
	back := uint64(0)
	if c.rng.IntN(5) > 0 || bits.OnesCount64(l.sets[to]|unit) > c.p.most || bits.OnesCount64(l.sets[from]&^unit) < c.p.least {
		kids := members(l.sets[to])
		for bits.OnesCount64(back) < min(bits.OnesCount64(unit), len(kids)) {
			back |= c.p.together[kids[c.rng.IntN(len(kids))]]
		}
	}
	if c.pinnedIn(unit|back) || !c.p.wholeGroup(l.sets[from]&^unit|back) || !c.p.wholeGroup(l.sets[to]&^back|unit) {
		return false
	}
	for _, i := range members(unit) {
		l.put(i, to)
	}
	for _, i := range members(back) {
		l.put(i, from)
	}
	for r := range c.p.rots {
		c.refill(r, from)
		c.refill(r, to)
	}
	return true
}

func (c *climb) pinnedIn(set uint64) bool {
	for _, i := range members(set) {
		if c.p.groupPin[i] != none {
			return true
		}
	}
	return false
}

// refill fills a cell with the spotters it has; when they do not do, the rotation is staffed anew.
func (c *climb) refill(r, g int) {
	l := c.next
	if !slices.Contains(l.act[r], none) && c.prices.cell(l.sets[g], r, l.st[r][g], l.spot[r][g]).ok {
		c.fill(l, r, g)
	} else {
		c.restaff(l, r)
	}
}

// swapRotations lets a group exchange two of its rotations, and with it the groups whose stations that touches.
func (c *climb) swapRotations() bool {
	if c.p.rots < 2 {
		return false
	}
	l := c.next
	q, r := c.rng.IntN(c.p.rots), c.rng.IntN(c.p.rots)
	if q == r {
		return false
	}
	chain := uint32(1) << c.rng.IntN(c.p.groups)
	for grown := true; grown; {
		grown = false
		for g := range c.p.groups {
			for h := range c.p.groups {
				touch := l.st[q][g] == l.st[r][h] || l.st[r][g] == l.st[q][h]
				if chain>>g&1 == 1 && chain>>h&1 == 0 && touch {
					chain |= 1 << h
					grown = true
				}
			}
		}
	}
	for g := range c.p.groups {
		if chain>>g&1 == 1 {
			l.st[q][g], l.st[r][g] = l.st[r][g], l.st[q][g]
		}
	}
	return c.reroute(q, r)
}

// swapStations lets two groups exchange their stations in one rotation.
func (c *climb) swapStations() bool {
	l, r := c.next, c.rng.IntN(c.p.rots)
	g, h := c.rng.IntN(c.p.groups), c.rng.IntN(c.p.groups)
	if g == h {
		return false
	}
	l.st[r][g], l.st[r][h] = l.st[r][h], l.st[r][g]
	return c.reroute(r, r)
}

// otherStation sends a group to a station that nobody is at.
func (c *climb) otherStation() bool {
	l, r, g := c.next, c.rng.IntN(c.p.rots), c.rng.IntN(c.p.groups)
	l.st[r][g] = c.rng.IntN(len(c.p.stations))
	return c.reroute(r, r)
}

// reroute staffs and fills two rotations whose stations changed, if the rules for stations still hold.
func (c *climb) reroute(q, r int) bool {
	if !c.p.stationsHold(c.next) {
		return false
	}
	c.restaff(c.next, q)
	if r != q {
		c.restaff(c.next, r)
	}
	return true
}

// stationsHold reports whether the rules for stations hold over the whole layout.
func (p *problem) stationsHold(l *layout) bool {
	var all uint64
	for r := range p.rots {
		if !p.dutiesMet(r, l.st[r]) {
			return false
		}
		for g := range p.groups {
			all |= 1 << l.st[r][g]
			if !p.mayVisit(l, r, g, l.st[r][g]) {
				return false
			}
		}
	}
	return bits.OnesCount64(all) <= p.maxStations
}
