package lesson

import (
	"cmp"
	"slices"
)

// way is a way to run a cell: who spots, what each child does, in order of number, and who works hard at it.
type way struct {
	spot         uint32
	acts         []int
	turns        int
	worth        int64 // with resting for the caps in this cell alone
	back, wrists uint64
}

// detail searches the ways of every cell where stations and groups are fixed.
type detail struct {
	*arrangement
	rest []int64 // by cell: the most that this cell and those after it could be worth
	ways [][]way // by cell, worth most first
	hard [][2]uint64
}

func (d *detail) run() {
	cells := d.p.rots * d.p.groups
	d.rest, d.hard = make([]int64, cells+1), make([][2]uint64, d.p.rots)
	after := int64(0) // what the later rotations are worth when every cell is as good as its crew allows
	for r := d.p.rots - 1; r >= 0; r-- {
		sum := after
		for g := d.p.groups - 1; g >= 0; g-- {
			sum += d.crew.most(d.l.sets[g], r, d.l.st[r][g])
			d.rest[r*d.p.groups+g] = sum
		}
		if _, worth, ok := d.crew.staff(r, d.l.sets, d.l.st[r]); ok {
			after += worth
			d.rest[r*d.p.groups] = after
		}
	}
	if d.hopeless(d.rest[0]) {
		return
	}
	for c := range cells {
		d.ways = append(d.ways, d.waysOf(d.l.sets[c%d.p.groups], c/d.p.groups, d.l.st[c/d.p.groups][c%d.p.groups]))
	}
	d.cell(0, 0, 0)
}

// cell chooses the way of cell c; sum is the most that the cells before are worth, taken who spots in this rotation.
func (d *detail) cell(c int, sum int64, taken uint32) {
	if d.hopeless(sum+d.rest[c]) || !d.spend(sum+d.rest[c]) {
		return
	}
	r, g := c/d.p.groups, c%d.p.groups
	if g == 0 {
		if c > 0 && !d.rotationHolds(r-1) {
			return
		}
		taken = 0
	}
	if c == len(d.ways) {
		d.offer(d.l, d.p.score(d.l))
		return
	}
	for i := range d.ways[c] {
		w := &d.ways[c][i]
		if most := sum + w.worth + d.rest[c+1]; d.hopeless(most) {
			return
		} else if !d.fits(w, r, taken) {
			continue
		} else if !d.spend(most) {
			return
		}
		d.l.spot[r][g] = w.spot
		for j, child := range members(d.l.sets[g]) {
			d.l.act[r][child] = w.acts[j]
		}
		was := d.hard[r]
		d.hard[r] = [2]uint64{was[0] | w.back, was[1] | w.wrists}
		d.cell(c+1, sum+w.worth, taken|w.spot)
		d.hard[r] = was
	}
}

// fits reports whether a way goes with who spots already, and with the rotation before.
func (d *detail) fits(w *way, r int, taken uint32) bool {
	if r > 0 && (d.hard[r-1][0]&w.back != 0 || d.hard[r-1][1]&w.wrists != 0) {
		return false
	}
	return w.spot&taken == 0 && d.p.enoughAdults(taken|w.spot)
}

func (d *detail) rotationHolds(r int) bool {
	_, led := d.p.leadsFor(r, d.l.st[r], d.l.spot[r])
	return led && d.p.overStock(d.l, r) == 0
}

// waysOf lists the ways to run a station for a group and remembers them. Of two that differ only in that one has more
// people spotting, it keeps the one with fewer.
func (s *solver) waysOf(set uint64, r, st int) []way {
	if len(s.p.in.Pins.Activities)+len(s.p.in.Pins.Duties) == 0 {
		r = 0
	}
	key := cellKey{set: set, r: r, st: st}
	if list, known := s.ways[key]; known {
		return list
	}
	kids := members(set)
	var list []way
	var choose func(acts []int)
	choose = func(acts []int) {
		if len(acts) < len(kids) {
			for _, o := range s.p.open(r, kids[len(acts)], st) {
				choose(append(acts, o.act))
			}
			return
		}
		from := len(list)
		for _, spot := range s.crew.sets[r][st] {
			w, ok := s.p.wayWith(kids, st, acts, spot)
			fewer := func(v way) bool { return v.spot&^spot == 0 && v.turns >= w.turns }
			if ok && !slices.ContainsFunc(list[from:], fewer) {
				list = append(list, w)
			}
		}
	}
	choose(make([]int, 0, len(kids)))
	slices.SortStableFunc(list, func(a, b way) int { return cmp.Compare(b.worth, a.worth) })
	s.ways[key] = list
	return list
}

// wayWith works out a way. ok is false when it breaks a rule of a cell.
func (p *problem) wayWith(kids []int, st int, acts []int, spot uint32) (w way, ok bool) {
	different := slices.Clone(acts)
	slices.Sort(different)
	different = slices.Compact(different)
	if len(different) > p.variety {
		return w, false
	}
	places := p.placesFor(different, len(kids), spot, p.stock)
	sum, longest := 0, 0
	for _, no := range acts {
		sum, longest = sum+p.acts[no].TurnSeconds, max(longest, p.acts[no].TurnSeconds)
	}
	w = way{spot: spot, acts: slices.Clone(acts), turns: cellClock(p.seconds, places, sum, longest)}
	if w.turns == 0 {
		return w, false
	}
	for i, kid := range kids {
		a := &p.acts[acts[i]]
		if a.backHard {
			w.back |= 1 << kid
		}
		if a.wristHard {
			w.wrists |= 1 << kid
		}
		for _, o := range p.options[kid][st] {
			if o.act == acts[i] {
				w.worth += o.worth[w.turns]
			}
		}
	}
	return w, true
}
