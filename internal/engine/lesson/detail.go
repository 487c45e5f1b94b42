package lesson

import "slices"

// detail searches spotters and activities cell by cell where stations and groups are fixed.
type detail struct {
	*arrangement
	rest []int64 // by cell: the most that this cell and those after it could be worth
}

func (d *detail) run() {
	for c := len(d.rest) - 2; c >= 0; c-- {
		r, g := c/d.p.groups, c%d.p.groups
		d.rest[c] = d.rest[c+1] + d.crew.most(d.l.sets[g], r, d.l.st[r][g])
	}
	for r := range d.p.rots {
		for i := range d.p.n {
			d.l.act[r][i] = none
		}
	}
	d.cell(0, 0, 0)
}

// cell chooses the spotters of cell c; sum is the most that the cells before are worth, taken who spots in this rotation.
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
	if c == d.p.rots*d.p.groups {
		d.offer(d.l, d.p.score(d.l))
		return
	}
	for _, spot := range d.crew.sets[r][d.l.st[r][g]] {
		if spot&taken != 0 || !d.p.enoughAdults(taken|spot) || !d.prices.cell(d.l.sets[g], r, d.l.st[r][g], spot).ok {
			continue
		}
		d.l.spot[r][g] = spot
		d.child(c, members(d.l.sets[g]), 0, nil, sum, taken|spot)
	}
}

func (d *detail) rotationHolds(r int) bool {
	_, led := d.p.leadsFor(r, d.l.st[r], d.l.spot[r])
	return led && d.p.overStock(d.l, r) == 0
}

// child chooses the activity of the i-th child of cell c.
func (d *detail) child(c int, kids []int, i int, used []int, sum int64, taken uint32) {
	r, g := c/d.p.groups, c%d.p.groups
	if i == len(kids) {
		d.closeCell(c, kids, used, sum, taken)
		return
	}
	kid := kids[i]
	for _, o := range d.p.open(r, kid, d.l.st[r][g]) {
		if r > 0 && d.p.hardInRow(d.l.act[r-1][kid], o.act) {
			continue
		}
		next := used
		if !slices.Contains(used, o.act) {
			if len(used) == d.p.variety {
				continue
			}
			next = append(slices.Clone(used), o.act)
		}
		if !d.spend(sum + d.rest[c]) {
			return
		}
		d.l.act[r][kid] = o.act
		d.child(c, kids, i+1, next, sum, taken)
	}
	d.l.act[r][kid] = none
}

func (d *detail) closeCell(c int, kids []int, used []int, sum int64, taken uint32) {
	r, g := c/d.p.groups, c%d.p.groups
	if d.p.placesFor(used, len(kids), d.l.spot[r][g], d.p.stock) == 0 {
		return
	}
	_, turns := d.p.clockOf(d.l, r, g)
	if turns == 0 {
		return
	}
	for _, kid := range kids {
		for _, o := range d.p.options[kid][d.l.st[r][g]] {
			if o.act == d.l.act[r][kid] {
				sum += o.worth[turns]
			}
		}
	}
	d.cell(c+1, sum, taken)
}
