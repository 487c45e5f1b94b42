package lesson

import (
	"math"
	"math/bits"
	"slices"
)

// ceiling is what each child can have at most, whoever they are with: a bound that needs no search.
type ceiling struct {
	worth []int64 // by child, over the lesson
	turns []int
}

// newCeiling looks at each child alone, in the smallest group, beside the quickest others, with all the spotters there are.
func newCeiling(p *problem) ceiling {
	c := ceiling{worth: make([]int64, p.n), turns: make([]int, p.n)}
	for i := range p.n {
		var worths, turns []int64
		for st := range p.stations {
			w, k := p.alone(i, st)
			times := 1
			if p.in.AllowRepeatStation {
				times = p.rots
			}
			for range times {
				worths = insertTop(worths, w, p.rots)
				turns = insertTop(turns, int64(k), p.rots)
			}
		}
		for _, w := range worths {
			c.worth[i] += w
		}
		for _, k := range turns {
			c.turns[i] += int(k)
		}
	}
	return c
}

// alone is the most worth and the most turns of a child at a station.
func (p *problem) alone(i, st int) (worth int64, turns int) {
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
		k := p.turnsAlone(o.act, others)
		if k > 0 {
			worth = max(worth, o.worth[min(k, len(o.worth)-1)])
			turns = max(turns, min(k, turnsWithin(p.children[i].Caps, p.acts[o.act].Load)))
		}
	}
	return worth, turns
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

// total is the most that all children together can be worth.
func (c ceiling) total() int64 {
	var sum int64
	for _, w := range c.worth {
		sum += w
	}
	return sum
}

// missed is how many turns every plan misses to the floor, at least.
func (c ceiling) missed(floor int) int {
	n := 0
	for _, k := range c.turns {
		n += max(0, floor-k)
	}
	return n
}
