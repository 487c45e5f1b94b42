package lesson

import (
	"cmp"
	"math/bits"
	"slices"
)

// maxSpotters is the most people that the planner asks to spot at one station.
const maxSpotters = 4

// crew is a choice of spotters for a cell, and what the cell is then worth.
type crew struct {
	spot  uint32
	worth int64
}

// crewSets lists who may spot together at a station in a rotation, the smallest sets first.
func (p *problem) crewSets(r, st int) []uint32 {
	pinned := p.spotPin[r][st]
	elsewhere := p.busy[r] &^ pinned
	if lead := p.leadPin[r][st]; lead != none {
		elsewhere &^= 1 << lead
	}
	useful := pinned
	for i := range p.n {
		for _, o := range p.options[i][st] {
			if p.acts[o.act].SpottersNeeded > 0 {
				useful |= p.acts[o.act].signed
			}
		}
	}
	useful &^= elsewhere
	if bits.OnesCount32(pinned&^useful) > 0 {
		return nil
	}
	var sets []uint32
	for sub := useful; ; sub = (sub - 1) & useful {
		if sub&pinned == pinned && bits.OnesCount32(sub) <= max(maxSpotters, bits.OnesCount32(pinned)) &&
			bits.OnesCount32(sub&p.adults) <= max(0, p.spare) {
			sets = append(sets, sub)
		}
		if sub == 0 {
			break
		}
	}
	slices.SortFunc(sets, func(a, b uint32) int {
		return cmp.Or(bits.OnesCount32(a)-bits.OnesCount32(b), cmp.Compare(a, b))
	})
	return sets
}

// staffer chooses spotters for the cells of a rotation.
type staffer struct {
	p      *problem
	prices *pricer
	sets   [][][]uint32 // crewSets by rotation and station
	known  map[cellKey][]crew
	nodes  int
}

func newStaffer(p *problem, prices *pricer) *staffer {
	s := &staffer{p: p, prices: prices, known: map[cellKey][]crew{}, sets: make([][][]uint32, p.rots)}
	for r := range p.rots {
		s.sets[r] = make([][]uint32, len(p.stations))
		for st := range p.stations {
			s.sets[r][st] = p.crewSets(r, st)
		}
	}
	return s
}

// crews lists the spotter sets of a cell that are worth more than every smaller one within them, best first.
func (s *staffer) crews(set uint64, r, st int) []crew {
	if len(s.p.in.Pins.Activities)+len(s.p.in.Pins.Duties) == 0 {
		r = 0
	}
	key := cellKey{set: set, r: r, st: st}
	if list, ok := s.known[key]; ok {
		return list
	}
	var list []crew
	for _, spot := range s.sets[r][st] {
		v := s.prices.cell(set, r, st, spot)
		beaten := slices.ContainsFunc(list, func(c crew) bool { return c.spot&^spot == 0 && c.worth >= v.worth })
		if v.ok && !beaten {
			list = append(list, crew{spot, v.worth})
		}
	}
	slices.SortStableFunc(list, func(a, b crew) int { return cmp.Compare(b.worth, a.worth) })
	s.known[key] = list
	return list
}

// most is what a cell can be worth with the best spotters: -1 when it cannot be.
func (s *staffer) most(set uint64, r, st int) int64 {
	list := s.crews(set, r, st)
	if len(list) == 0 {
		return -1
	}
	return list[0].worth
}

// staff gives the spotters for a rotation that are worth most together, when the cells do not get into each other's way
// otherwise. ok is false when no choice leaves enough adults and leads.
func (s *staffer) staff(r int, sets []uint64, st []int) (spot []uint32, worth int64, ok bool) {
	lists := make([][]crew, len(sets))
	rest := make([]int64, len(sets)+1)
	for g := range sets {
		lists[g] = s.crews(sets[g], r, st[g])
		if len(lists[g]) == 0 {
			return nil, 0, false
		}
	}
	for g := len(sets) - 1; g >= 0; g-- {
		rest[g] = rest[g+1] + lists[g][0].worth
	}
	worth = -1
	now := make([]uint32, len(sets))
	var walk func(g int, taken uint32, sum int64)
	walk = func(g int, taken uint32, sum int64) {
		if sum+rest[g] <= worth {
			return
		}
		if g == len(sets) {
			if _, led := s.p.leadsFor(r, st, now); led {
				worth, spot = sum, slices.Clone(now)
			}
			return
		}
		for _, c := range lists[g] {
			s.nodes++
			if c.spot&taken == 0 && s.p.enoughAdults(taken|c.spot) {
				now[g] = c.spot
				walk(g+1, taken|c.spot, sum+c.worth)
			}
		}
	}
	walk(0, 0, 0)
	return spot, worth, worth >= 0
}

// enoughAdults reports whether enough adults are free while these people spot.
func (p *problem) enoughAdults(spotting uint32) bool {
	return bits.OnesCount32(spotting&p.adults) <= p.spare
}

// leadsFor names who runs each station of a rotation: who is pinned; else one of its own spotters, so that others stay
// free; else somebody who is not spotting. ok is false when there are too few.
func (p *problem) leadsFor(r int, st []int, spot []uint32) (leads []int, ok bool) {
	var spotting, running uint32
	for _, m := range spot {
		spotting |= m
	}
	leads = slices.Repeat([]int{none}, len(st))
	load := [maxStaff]int{}
	for g, at := range st {
		if who := p.leadPin[r][at]; who != none {
			leads[g] = who
			load[who]++
			running |= 1 << who
			wrongPlace := spotting>>who&1 == 1 && spot[g]>>who&1 == 0
			if p.leads>>who&1 == 0 || wrongPlace || load[who] > p.capacity(who, spotting) {
				return nil, false
			}
		}
	}
	for g := range st {
		if own := spot[g] & p.leads &^ running; leads[g] == none && own != 0 {
			leads[g] = bits.TrailingZeros32(own)
			load[leads[g]]++
		}
	}
	for g := range st {
		for who := 0; who < len(p.staff) && leads[g] == none; who++ {
			free := (p.leads&^spotting)>>who&1 == 1 && (p.busy[r]>>who&1 == 0 || running>>who&1 == 1)
			if free && load[who] < p.capacity(who, spotting) {
				leads[g] = who
				load[who]++
			}
		}
		if leads[g] == none {
			return nil, false
		}
	}
	return leads, true
}

// capacity is how many stations a person may run at once.
func (p *problem) capacity(who int, spotting uint32) int {
	if spotting>>who&1 == 1 {
		return 1
	}
	return p.perLead
}

// dutiesMet reports whether every pinned duty of a rotation has its station among these.
func (p *problem) dutiesMet(r int, st []int) bool {
	for _, pin := range p.in.Pins.Duties {
		if pin.Rotation == r+1 && !slices.Contains(st, p.placeNo[pin.StationID]) {
			return false
		}
	}
	return true
}
