package lesson

import (
	"math"
	"math/bits"
	"slices"
)

// ceiling is what each child can have at most, whoever they are with: a bound that needs no search. It looks at each child
// alone, in the smallest group, beside the quickest others; all children share only the people who may spot.
type ceiling struct {
	p     *problem
	best  [][][]chance // by child and station
	turns []int        // by child, over the lesson
}

// chance is the most that an activity can be worth to a child, and the spotters that it asks for.
type chance struct {
	worth    int64
	spotters int64
}

func newCeiling(p *problem) ceiling {
	c := ceiling{p: p, best: make([][][]chance, p.n), turns: make([]int, p.n)}
	for i := range p.n {
		c.best[i] = make([][]chance, len(p.stations))
		var turns []int64
		for st := range p.stations {
			most := 0
			c.best[i][st], most = p.alone(i, st)
			for range p.visits() {
				turns = insertTop(turns, int64(most), p.rots)
			}
		}
		for _, k := range turns {
			c.turns[i] += int(k)
		}
	}
	return c
}

// visits is how often a group may come to one station.
func (p *problem) visits() int {
	if p.in.AllowRepeatStation {
		return p.rots
	}
	return 1
}

// alone is what each activity of a child at a station can be worth, and the most turns of any.
func (p *problem) alone(i, st int) (list []chance, turns int) {
	var others []int
	for j := range p.n {
		if j != i && len(p.options[j][st]) > 0 {
			quickest := math.MaxInt
			for _, o := range p.options[j][st] {
				quickest = min(quickest, p.acts[o.act].TurnSeconds)
			}
			others = append(others, quickest)
		}
	}
	slices.Sort(others)
	for _, o := range p.options[i][st] {
		if k := p.turnsAlone(o.act, others); k > 0 {
			list = append(list, chance{o.worth[min(k, len(o.worth)-1)], int64(p.acts[o.act].SpottersNeeded)})
			turns = max(turns, min(k, turnsWithin(p.children[i].Caps, p.acts[o.act].Load)))
		}
	}
	return list, turns
}

// turnsAlone is the most turns that the clock can give for an activity beside the quickest others.
func (p *problem) turnsAlone(act int, others []int) int {
	a := &p.acts[act]
	most, sum := 0, a.TurnSeconds
	for size := 1; size <= p.most && size-1 <= len(others); size++ {
		if size > 1 {
			sum += others[size-2]
		}
		if size < p.least {
			continue
		}
		places := min(size, a.places)
		if a.SpottersNeeded > 0 {
			people := min(maxSpotters, bits.OnesCount32(a.signed&^p.adults)+min(bits.OnesCount32(a.signed&p.adults), max(0, p.spare)))
			if pinned := p.mostPinned(); pinned > people {
				people = pinned
			}
			places = min(places, people/a.SpottersNeeded)
		}
		most = max(most, cellClock(p.seconds, places, sum, a.TurnSeconds))
	}
	return most
}

// mostPinned is the most people who are pinned to spot in one place.
func (p *problem) mostPinned() int {
	most := 0
	for _, row := range p.spotPin {
		for _, m := range row {
			most = max(most, bits.OnesCount32(m))
		}
	}
	return most
}

// total is the most that all children together can be worth. A cell with m people spotting holds no more children than a
// group, so the spotters that the activities of all children ask for stay within rotations x people x group size. Any
// price on a spotter gives a bound; as it is convex in the price, the best is found by halving.
func (c ceiling) total() int64 {
	low, high := int64(0), int64(0)
	for _, stations := range c.best {
		for _, list := range stations {
			for _, o := range list {
				high = max(high, o.worth)
			}
		}
	}
	for low < high {
		if mid := (low + high) / 2; c.priced(mid) <= c.priced(mid+1) {
			high = mid
		} else {
			low = mid + 1
		}
	}
	return c.priced(low)
}

// priced is the bound when a spotter costs so much.
func (c ceiling) priced(spotter int64) int64 {
	sum := spotter * int64(c.p.rots*c.p.spottersAtOnce()*c.p.most)
	for _, stations := range c.best {
		var top []int64
		for _, list := range stations {
			best := int64(0)
			for _, o := range list {
				best = max(best, o.worth-spotter*o.spotters)
			}
			for range c.p.visits() {
				top = insertTop(top, best, c.p.rots)
			}
		}
		for _, w := range top {
			sum += w
		}
	}
	return sum
}

// spottersAtOnce is the most people who can spot at the same time.
func (p *problem) spottersAtOnce() int {
	var signed uint32
	for i := range p.acts {
		if p.acts[i].SpottersNeeded > 0 {
			signed |= p.acts[i].signed
		}
	}
	return bits.OnesCount32(signed&^p.adults) + min(bits.OnesCount32(signed&p.adults), max(0, p.spare))
}

// missed is how many turns every plan misses to the floor, at least.
func (c ceiling) missed(floor int) int {
	n := 0
	for _, k := range c.turns {
		n += max(0, floor-k)
	}
	return n
}
