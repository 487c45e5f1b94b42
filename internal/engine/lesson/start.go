package lesson

import (
	"math/bits"
	"math/rand/v2"
)

// deal puts the children into groups at random, as the rules for groups ask. It reports whether it could.
func (s *solver) deal(l *layout, rng *rand.Rand) bool {
	units := s.p.units()
	rng.Shuffle(len(units), func(i, j int) { units[i], units[j] = units[j], units[i] })
	d := dealer{p: s.p, units: units, rng: rng, nodes: 4000}
	for i := range l.group {
		l.group[i] = none
	}
	d.sets = make([]uint64, s.p.groups)
	if !d.place(0) {
		return false
	}
	for g, set := range d.sets {
		l.sets[g] = 0
		for _, i := range members(set) {
			l.put(i, g)
		}
	}
	return true
}

// units are the children who stay together, as sets.
func (p *problem) units() []uint64 {
	var units []uint64
	for i := range p.n {
		if bits.TrailingZeros64(p.together[i]) == i {
			units = append(units, p.together[i])
		}
	}
	return units
}

// dealer places units one by one and takes back what does not work out.
type dealer struct {
	p     *problem
	units []uint64
	sets  []uint64
	rng   *rand.Rand
	nodes int
}

func (d *dealer) place(u int) bool {
	if u == len(d.units) {
		for _, set := range d.sets {
			if !d.p.wholeGroup(set) {
				return false
			}
		}
		return true
	}
	d.nodes--
	if d.nodes < 0 || d.missing() > d.left(u) {
		return false
	}
	first := d.rng.IntN(d.p.groups)
	for i := range d.p.groups {
		g := (first + i) % d.p.groups
		if d.fits(d.units[u], g) {
			d.sets[g] |= d.units[u]
			if d.place(u + 1) {
				return true
			}
			d.sets[g] &^= d.units[u]
		}
	}
	return false
}

// missing is how many children the groups lack to their least size.
func (d *dealer) missing() int {
	n := 0
	for _, set := range d.sets {
		n += max(0, d.p.least-bits.OnesCount64(set))
	}
	return n
}

func (d *dealer) left(u int) int {
	n := 0
	for _, unit := range d.units[u:] {
		n += bits.OnesCount64(unit)
	}
	return n
}

func (d *dealer) fits(unit uint64, g int) bool {
	if bits.OnesCount64(d.sets[g]|unit) > d.p.most {
		return false
	}
	for _, i := range members(unit) {
		if d.p.apart[i]&(d.sets[g]|unit) != 0 || d.p.groupPin[i] != none && d.p.groupPin[i] != g {
			return false
		}
	}
	return true
}

// route sends the groups of a layout to stations at random, good ones first, and fills everything in. It reports whether
// the rules for stations could be kept.
func (s *solver) route(l *layout, rng *rand.Rand) bool {
	w := router{solver: s, l: l, rng: rng, nodes: 4000}
	if !w.send(0) {
		return false
	}
	for r := range s.p.rots {
		s.restaff(l, r)
	}
	return true
}

// router chooses stations cell by cell and takes back what does not work out.
type router struct {
	*solver
	l     *layout
	rng   *rand.Rand
	nodes int
}

func (w *router) send(c int) bool {
	if c == w.p.rots*w.p.groups {
		return true
	}
	w.nodes--
	if w.nodes < 0 {
		return false
	}
	r, g := c/w.p.groups, c%w.p.groups
	for _, st := range w.ranked(r, g) {
		w.l.st[r][g] = st
		if w.stationsUsed(c) > w.p.maxStations || g == w.p.groups-1 && !w.p.dutiesMet(r, w.l.st[r]) {
			continue
		}
		if w.send(c + 1) {
			return true
		}
	}
	w.l.st[r][g] = none
	return false
}

// ranked lists the stations that a group may go to, the best first but for a little chance.
func (w *router) ranked(r, g int) []int {
	var list []int
	var value []float64
	for st := range w.p.stations {
		if !w.p.mayVisit(w.l, r, g, st) {
			continue
		}
		v := float64(w.crew.most(w.l.sets[g], r, st)) * (0.8 + 0.4*w.rng.Float64())
		at := len(list)
		for at > 0 && value[at-1] < v {
			at--
		}
		list, value = insertAt(list, at, st), insertAt(value, at, v)
	}
	return list
}

func insertAt[T any](list []T, at int, v T) []T {
	list = append(list, v)
	copy(list[at+1:], list[at:])
	list[at] = v
	return list
}

func (w *router) stationsUsed(last int) int {
	var used uint64
	for c := range last + 1 {
		used |= 1 << w.l.st[c/w.p.groups][c%w.p.groups]
	}
	return bits.OnesCount64(used)
}

// mayVisit reports whether a group may go to a station in a rotation as far as pins, repeats and the groups before it
// in the same rotation say.
func (p *problem) mayVisit(l *layout, r, g, st int) bool {
	if pin := p.stationPin[r][g]; pin != none && pin != st {
		return false
	}
	for h := range g {
		if l.st[r][h] == st {
			return false
		}
	}
	for q := range r {
		if l.st[q][g] == st && !p.in.AllowRepeatStation {
			return false
		}
	}
	return true
}

// restaff chooses the spotters of a rotation anew and fills in its activities. Cells that cannot be stay empty.
func (s *solver) restaff(l *layout, r int) {
	spot, _, ok := s.crew.staff(r, l.sets, l.st[r])
	for g := range l.sets {
		l.spot[r][g] = 0
		for _, i := range members(l.sets[g]) {
			l.act[r][i] = none
		}
	}
	if !ok {
		return
	}
	copy(l.spot[r], spot)
	for g := range l.sets {
		s.fill(l, r, g)
	}
}

// fill chooses the activities of a cell beside what the cells around it do: nothing hard twice in a row, equipment that is
// left. When that leaves nothing, it fills the cell as if it were alone, for the score to tell.
func (s *solver) fill(l *layout, r, g int) {
	set, st, spot := l.sets[g], l.st[r][g], l.spot[r][g]
	v := s.prices.cell(set, r, st, spot)
	if v.ok && s.collides(l, r, g, v.acts) {
		if w := s.beside(l, r, g); w.ok {
			v = w
		}
	}
	for i, m := 0, set; m != 0; i, m = i+1, m&(m-1) {
		act := none
		if v.ok {
			act = v.acts[i]
		}
		l.act[r][bits.TrailingZeros64(m)] = act
	}
}

// collides reports whether activities for a cell get into the way of the cells around it.
func (s *solver) collides(l *layout, r, g int, acts []int) bool {
	for i, m := 0, l.sets[g]; m != 0; i, m = i+1, m&(m-1) {
		if s.hardBeside(l, r, bits.TrailingZeros64(m), acts[i]) {
			return true
		}
	}
	used := s.p.used(l, r, g)
	for _, no := range acts {
		for _, n := range s.p.acts[no].needs {
			if used[n.key]+n.count > s.p.stock[n.key] {
				return true
			}
		}
	}
	return false
}

func (s *solver) hardBeside(l *layout, r, child, act int) bool {
	for _, q := range [2]int{r - 1, r + 1} {
		if q >= 0 && q < s.p.rots && l.act[q][child] != none && s.p.hardInRow(l.act[q][child], act) {
			return true
		}
	}
	return false
}

// beside prices a cell with what the cells around it leave.
func (s *solver) beside(l *layout, r, g int) price {
	used := s.p.used(l, r, g)
	stock := make([]int, len(s.p.stock))
	for k := range stock {
		stock[k] = s.p.stock[k] - used[k]
	}
	options := make([][]option, 0, s.p.most)
	for _, i := range members(l.sets[g]) {
		var list []option
		for _, o := range s.p.open(r, i, l.st[r][g]) {
			if !s.hardBeside(l, r, i, o.act) {
				list = append(list, o)
			}
		}
		options = append(options, list)
	}
	return s.prices.fill(options, l.spot[r][g], stock)
}
