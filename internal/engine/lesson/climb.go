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
	warmth  float64 // of the start; 1 forgets where it started
	still   bool    // leaves the groups as they are
}

// climbs runs so many climbs of so many steps.
func (s *solver) climbs(runs, steps int) {
	s.apart(runs, func(t *solver, run int) {
		c := &climb{solver: t, rng: t.dice(run), l: newLayout(t.p), next: newLayout(t.p), warmth: 1}
		if c.start() {
			c.run(steps)
		}
	})
}

// dice is a source of chance for a run.
func (s *solver) dice(run int) *rand.Rand {
	return rand.New(rand.NewPCG(uint64(s.p.in.Seed), uint64(run)))
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
	start := c.warmth * 0.02 * math.Max(float64(c.score.worth), unit) / math.Sqrt(float64(c.p.n))
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
	case k < 75 && !c.still:
		return c.moveChildren()
	case k < 85:
		return c.swapRotations()
	case k < 90:
		return c.swapGroups()
	case k < 96:
		return c.swapStations()
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
	return c.reroute(1<<q | 1<<r)
}

// swapGroups lets two groups exchange their stations in one rotation, and in as many more as it takes for neither to come
// to a station twice.
func (c *climb) swapGroups() bool {
	l, g, h := c.next, c.rng.IntN(c.p.groups), c.rng.IntN(c.p.groups)
	if g == h {
		return false
	}
	swapped := uint32(0)
	for r := c.rng.IntN(c.p.rots); r != none; r = c.twice(g, h, swapped) {
		l.st[r][g], l.st[r][h] = l.st[r][h], l.st[r][g]
		swapped |= 1 << r
	}
	return c.reroute(swapped)
}

// twice is a rotation, not yet swapped, in which one of two groups is at a station that it is at in a swapped one too.
func (c *climb) twice(g, h int, swapped uint32) int {
	if c.p.in.AllowRepeatStation {
		return none
	}
	for r := range c.p.rots {
		for q := range c.p.rots {
			if swapped>>r&1 == 0 && swapped>>q&1 == 1 && (c.next.st[r][g] == c.next.st[q][g] || c.next.st[r][h] == c.next.st[q][h]) {
				return r
			}
		}
	}
	return none
}

// swapStations lets two stations change places in one rotation, and in as many more as it takes for no group to come to
// one of them twice.
func (c *climb) swapStations() bool {
	l, r := c.next, c.rng.IntN(c.p.rots)
	a, b := l.st[r][c.rng.IntN(c.p.groups)], c.rng.IntN(len(c.p.stations))
	if a == b {
		return false
	}
	swapped := uint32(0)
	for r != none {
		for g, st := range l.st[r] {
			switch st {
			case a:
				l.st[r][g] = b
			case b:
				l.st[r][g] = a
			}
		}
		swapped |= 1 << r
		r = none
		for q := range c.p.rots {
			if swapped>>q&1 == 0 && !c.p.in.AllowRepeatStation && c.meets(swapped, q, a, b) {
				r = q
			}
		}
	}
	return c.reroute(swapped)
}

// meets reports whether a group is at a or b in rotation q and at the same one in a swapped rotation.
func (c *climb) meets(swapped uint32, q, a, b int) bool {
	for r := range c.p.rots {
		for g, st := range c.next.st[q] {
			if swapped>>r&1 == 1 && (st == a || st == b) && c.next.st[r][g] == st {
				return true
			}
		}
	}
	return false
}

// reroute staffs and fills the rotations whose stations changed, if the rules for stations still hold.
func (c *climb) reroute(changed uint32) bool {
	if !c.p.stationsHold(c.next) {
		return false
	}
	for r := range c.p.rots {
		if changed>>r&1 == 1 {
			c.restaff(c.next, r)
		}
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
