package lesson

import (
	"math"
	"math/bits"
	"slices"

	"rungbook/internal/engine/load"
)

// layout is a plan by number: what the planner changes. none stands where something is missing.
type layout struct {
	group []int      // by child
	sets  []uint64   // by group
	st    [][]int    // by rotation and group
	spot  [][]uint32 // by rotation and group
	act   [][]int    // by rotation and child
}

const none = -1

func newLayout(p *problem) *layout {
	return &layout{group: slices.Repeat([]int{none}, p.n), sets: make([]uint64, p.groups), st: filled(p.rots, p.groups, none),
		spot: filled(p.rots, p.groups, uint32(0)), act: filled(p.rots, p.n, none)}
}

// copyFrom makes l equal to another layout of the same problem.
func (l *layout) copyFrom(from *layout) {
	copy(l.group, from.group)
	copy(l.sets, from.sets)
	for r := range l.st {
		copy(l.st[r], from.st[r])
		copy(l.spot[r], from.spot[r])
		copy(l.act[r], from.act[r])
	}
}

func (l *layout) put(child, group int) {
	if g := l.group[child]; g != none {
		l.sets[g] &^= 1 << child
	}
	l.group[child] = group
	l.sets[group] |= 1 << child
}

// score is what layouts are compared by, in this order: broken rules, turns missing to the floor, worth, waiting, pairs
// split. waited is in seconds over all children.
type score struct {
	broken int
	short  int
	worth  int64
	waited int
	split  int
}

func (s score) betterThan(t score) bool {
	switch {
	case s.broken != t.broken:
		return s.broken < t.broken
	case s.short != t.short:
		return s.short < t.short
	case s.worth != t.worth:
		return s.worth > t.worth
	case s.waited != t.waited:
		return s.waited < t.waited
	}
	return s.split < t.split
}

// price of a score as one number, for a search that now and then takes a step back. Lower is better.
func (s score) cost() float64 {
	return float64(s.broken)*1e12 + float64(s.short)*1e9 - float64(s.worth) + float64(s.waited)*1e-3 + float64(s.split)*1e-2
}

// clockOf is the places and turns of a cell as it is laid out; 0 turns when somebody there has nothing to do.
func (p *problem) clockOf(l *layout, r, g int) (places, turns int) {
	sum, longest := 0, 0
	places = bits.OnesCount64(l.sets[g])
	for m := l.sets[g]; m != 0; m &= m - 1 {
		no := l.act[r][bits.TrailingZeros64(m)]
		if no == none {
			return 0, 0
		}
		a := &p.acts[no]
		sum += a.TurnSeconds
		longest = max(longest, a.TurnSeconds)
		places = min(places, a.places)
		if a.SpottersNeeded > 0 {
			places = min(places, bits.OnesCount32(a.signed&l.spot[r][g])/a.SpottersNeeded)
		}
	}
	return places, cellClock(p.seconds, places, sum, longest)
}

// score counts a layout. Who leads and who may spot is kept by construction and not counted here.
func (p *problem) score(l *layout) score {
	var s score
	var turns [8][8]int
	for r := range p.rots {
		for g := range p.groups {
			_, turns[r][g] = p.clockOf(l, r, g)
		}
		s.broken += p.overStock(l, r)
	}
	for i := range p.n {
		p.scoreChild(&s, l, i, &turns)
	}
	s.split = p.split(l)
	return s
}

func (p *problem) scoreChild(s *score, l *layout, i int, clock *[8][8]int) {
	left, total, before := p.children[i].Caps, 0, none
	for r := range p.rots {
		no := l.act[r][i]
		if no == none {
			s.broken++
			before = none
			continue
		}
		a := &p.acts[no]
		k := min(clock[r][l.group[i]], turnsWithin(left, a.Load))
		if k == 0 {
			s.broken++
		}
		if before != none && p.hardInRow(before, no) {
			s.broken++
		}
		left = load.Load{Back: left.Back - k*a.Load.Back, Wrists: left.Wrists - k*a.Load.Wrists, Landing: left.Landing - k*a.Load.Landing}
		total += k
		s.worth += int64(math.Round(p.priority(i, l.st[r][l.group[i]], no) * p.gain[k] * unit))
		s.waited += p.seconds - k*a.TurnSeconds
		before = no
	}
	s.short += max(0, p.in.TurnFloor-total)
}

func (p *problem) hardInRow(a, b int) bool {
	return p.acts[a].backHard && p.acts[b].backHard || p.acts[a].wristHard && p.acts[b].wristHard
}

// priority is that of an activity for a child at a station, 0 when it is not open there.
func (p *problem) priority(child, st, act int) float64 {
	if st == none {
		return 0
	}
	for _, o := range p.options[child][st] {
		if o.act == act {
			return o.prio
		}
	}
	return 0
}

// pieces is a number of pieces for each equipment.
type pieces [maxKeys]int

// used counts the pieces in use in a rotation, without those of one group (none: of all). Activities of a cell share.
func (p *problem) used(l *layout, r, without int) pieces {
	var used pieces
	for g := range p.groups {
		if g == without {
			continue
		}
		var cell pieces
		for m := l.sets[g]; m != 0; m &= m - 1 {
			if no := l.act[r][bits.TrailingZeros64(m)]; no != none {
				for _, n := range p.acts[no].needs {
					used[n.key] += max(0, n.count-cell[n.key])
					cell[n.key] = max(cell[n.key], n.count)
				}
			}
		}
	}
	return used
}

func (p *problem) overStock(l *layout, r int) int {
	used, over := p.used(l, r, none), 0
	for key, have := range p.stock {
		over += max(0, used[key]-have)
	}
	return over
}

// split counts pairs who were in one group last time and now are not.
func (p *problem) split(l *layout) int {
	n := 0
	for i := range p.n {
		for j := i + 1; j < p.n; j++ {
			if p.last[i] != none && p.last[i] == p.last[j] && l.group[i] != l.group[j] {
				n++
			}
		}
	}
	return n
}

// wholeGroup reports whether a set may be a group by itself: size, together, apart, pins.
func (p *problem) wholeGroup(set uint64) bool {
	if n := bits.OnesCount64(set); n < p.least || n > p.most {
		return false
	}
	label := none
	for m := set; m != 0; m &= m - 1 {
		i := bits.TrailingZeros64(m)
		if p.together[i]&^set != 0 || p.apart[i]&set != 0 {
			return false
		}
		if pin := p.groupPin[i]; pin != none {
			if label != none && label != pin {
				return false
			}
			label = pin
		}
	}
	return true
}
