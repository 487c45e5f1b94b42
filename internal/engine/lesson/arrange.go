package lesson

import (
	"context"
	"math"
	"math/bits"
	"slices"
)

// solver holds what one call of Propose shares between its parts: the problem, prices, and the best layout so far. The search ends
// with budget once a plan was found, and with ctx while none was.
type solver struct {
	ctx    context.Context
	budget context.Context
	p      *problem
	prices *pricer
	crew   *staffer
	ways   map[cellKey][]way

	best      *layout
	bestScore score
	found     bool
	tariff    tariff // of stations and people; none until one is found
	leastMiss int    // turns that every plan misses to the floor, at least
	late      bool
	ticks     int
}

func newSolver(ctx context.Context, p *problem) *solver {
	prices := newPricer(p)
	return &solver{ctx: ctx, budget: ctx, p: p, prices: prices, crew: newStaffer(p, prices), ways: map[cellKey][]way{}, best: newLayout(p), tariff: newTariff(p)}
}

// stopped reports whether time is up; it looks at the clock now and then.
func (s *solver) stopped() bool {
	s.ticks++
	if s.ticks%64 == 0 {
		s.look()
	}
	return s.late
}

// look reads the clock now.
func (s *solver) look() bool {
	s.late = s.late || s.until().Err() != nil
	return s.late
}

// until is what ends the search.
func (s *solver) until() context.Context {
	if s.found {
		return s.budget
	}
	return s.ctx
}

// offer keeps a layout when it breaks nothing and is better than the best so far.
func (s *solver) offer(l *layout, v score) bool {
	if v.broken > 0 || s.found && !v.betterThan(s.bestScore) {
		return false
	}
	s.best.copyFrom(l)
	s.bestScore, s.found = v, true
	return true
}

// hopeless reports whether nothing worth at most this can beat the best so far.
func (s *solver) hopeless(worth int64) bool {
	return s.found && s.bestScore.short <= s.leastMiss && worth <= s.bestScore.worth
}

// arrangement searches every way to lay out a fixed partition: stations, spotters, activities. It is exact unless it runs
// out of nodes; open is then the most that the part not seen could be worth.
type arrangement struct {
	*solver
	l     *layout
	most  [][]int64 // by group and station: the most a cell is worth in any rotation, or -1
	paid  [][]int64 // by group and station: the most that it is worth beyond its prices, below everything where it cannot be
	price int64     // what a rotation pays at most
	nodes *int
	open  int64
}

// arrange searches the partition in l, using up the nodes it looks at. The result is -1 when all was seen, else
// the most that what was left out could be worth.
func (s *solver) arrange(l *layout, nodes *int) int64 {
	a := &arrangement{solver: s, l: l, nodes: nodes, open: -1, most: filled(s.p.groups, len(s.p.stations), int64(-1)),
		paid: filled(s.p.groups, len(s.p.stations), int64(math.MinInt64)), price: s.tariff.always(s.p)}
	for g := range a.most {
		for st := range a.most[g] {
			a.priceCell(g, st)
		}
	}
	a.rotation(0, 0)
	return a.open
}

func (a *arrangement) priceCell(g, st int) {
	for r := range a.p.rots {
		for _, c := range a.crew.crews(a.l.sets[g], r, st) {
			a.most[g][st] = max(a.most[g][st], c.worth)
			a.paid[g][st] = max(a.paid[g][st], c.worth-a.tariff.crew(a.p, c.spot)-a.tariff.station[st])
		}
	}
}

// spend uses up a node; when none is left, what could be worth this much stays open.
func (a *arrangement) spend(worth int64) bool {
	*a.nodes--
	if *a.nodes < 0 || a.stopped() {
		a.open = max(a.open, worth)
		return false
	}
	return true
}

// ahead is the most that the rotations from r on could be worth: for all groups, without regard to each other, at no price
// or at the prices of the tariff, whichever tells more. It is -1 when a group has too few stations left.
func (a *arrangement) ahead(r int) int64 {
	left := a.p.rots - r
	free, paid := int64(0), a.price*int64(left)
	for g := range a.p.groups {
		var tops, paidTops [8]int64
		n := 0
		for st, v := range a.most[g] {
			if v < 0 || !a.p.in.AllowRepeatStation && a.visited(g, r, st) {
				continue
			}
			for range a.p.visits() {
				keepTop(&tops, n, v, left)
				n = keepTop(&paidTops, n, a.paid[g][st], left)
			}
		}
		if n < left {
			return -1
		}
		free, paid = free+sumOf(tops[:left]), paid+sumOf(paidTops[:left])
	}
	return min(free, paid)
}

// insertTop keeps the n greatest values in a list, greatest first.
func insertTop(list []int64, v int64, n int) []int64 {
	at := len(list)
	for at > 0 && list[at-1] < v {
		at--
	}
	if at >= n {
		return list
	}
	list = slices.Insert(list, at, v)
	return list[:min(len(list), n)]
}

func (a *arrangement) visited(g, before, st int) bool {
	for r := range before {
		if a.l.st[r][g] == st {
			return true
		}
	}
	return false
}

// rotation lays out rotation r and those after it; sum is what the ones before are worth.
func (a *arrangement) rotation(r int, sum int64) {
	rest := a.ahead(r)
	if rest < 0 || a.hopeless(sum+rest) || !a.spend(sum+rest) {
		return
	}
	if r == a.p.rots {
		a.leaf(sum)
		return
	}
	a.station(r, 0, sum, 0)
}

// station chooses a station for group g in rotation r.
func (a *arrangement) station(r, g int, sum int64, taken uint64) {
	if g == a.p.groups {
		a.people(r, sum)
		return
	}
	for st := range a.p.stations {
		pin := a.p.stationPin[r][g]
		if taken>>st&1 == 1 || a.most[g][st] < 0 || pin != none && pin != st || !a.p.in.AllowRepeatStation && a.visited(g, r, st) {
			continue
		}
		a.l.st[r][g] = st
		if a.stationsUsed(r, g) <= a.p.maxStations {
			a.station(r, g+1, sum, taken|1<<st)
		}
	}
}

// stationsUsed counts the stations set up so far: in the rotations before r, and for groups up to g in r.
func (a *arrangement) stationsUsed(r, g int) int {
	var used uint64
	for q := range r {
		for h := range a.p.groups {
			used |= 1 << a.l.st[q][h]
		}
	}
	for h := range g + 1 {
		used |= 1 << a.l.st[r][h]
	}
	return bits.OnesCount64(used)
}

// people chooses the spotters of a rotation as well as can be, and goes on to the next.
func (a *arrangement) people(r int, sum int64) {
	if !a.p.dutiesMet(r, a.l.st[r]) {
		return
	}
	spot, worth, ok := a.crew.staff(r, a.l.sets, a.l.st[r])
	if !ok {
		return
	}
	copy(a.l.spot[r], spot)
	stations := slices.Clone(a.l.st[r])
	a.rotation(r+1, sum+worth)
	copy(a.l.st[r], stations)
}

// leaf fills in the activities. When the cells get into each other's way (equipment, hard in a row, caps, the floor), it
// searches spotters and activities of this arrangement one by one.
func (a *arrangement) leaf(sum int64) {
	for r := range a.p.rots {
		for g, set := range a.l.sets {
			v := a.prices.cell(set, r, a.l.st[r][g], a.l.spot[r][g])
			for i, child := range members(set) {
				a.l.act[r][child] = v.acts[i]
			}
		}
	}
	v := a.p.score(a.l)
	a.offer(a.l, v)
	if v.broken == 0 && v.worth == sum && v.short <= a.leastMiss {
		return
	}
	spots := filled(0, 0, uint32(0))
	for _, row := range a.l.spot {
		spots = append(spots, slices.Clone(row))
	}
	d := &detail{arrangement: a}
	d.run()
	for r := range spots {
		copy(a.l.spot[r], spots[r])
	}
}
