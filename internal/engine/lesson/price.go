package lesson

import (
	"math/bits"
	"slices"
)

// cellClock is the turns that a cell gives each child. A round takes sum/places seconds, and never less than its longest
// turn, so that nobody is asked to take two turns at once; the time holds a whole number of rounds.
func cellClock(seconds, places, sum, longest int) int {
	if places < 1 || sum < 1 {
		return 0
	}
	return min(seconds*places/sum, seconds/longest)
}

// price is the best that a cell can be worth, and what each child (in order of number) then works at.
type price struct {
	worth int64
	acts  []int
	ok    bool
}

// pricer prices cells: given who is there, what each may do, who spots and what equipment is left, it finds the
// activities worth most, exactly. It keeps its memory between calls and is not for two goroutines.
type pricer struct {
	p     *problem
	known map[cellKey]price

	menu   []int // activities that somebody may do
	chosen []int
	duo    duo
	room   [maxChildren]int64
	layers [][]step
	next   []step
	best   price
}

type cellKey struct {
	set  uint64
	r    int
	st   int
	spot uint32
}

// step is a way to fill the first children of a cell: the sum of their turn seconds and their worth.
type step struct {
	sum    int
	worth  int64
	from   int
	option int
}

func newPricer(p *problem) *pricer { return &pricer{p: p, known: map[cellKey]price{}} }

// cell prices a set of children at a station with these spotters, all equipment being there, and remembers it.
func (c *pricer) cell(set uint64, r, st int, spot uint32) price {
	if len(c.p.in.Pins.Activities) == 0 {
		r = 0
	}
	key := cellKey{set, r, st, spot}
	if v, ok := c.known[key]; ok {
		return v
	}
	options := make([][]option, 0, bits.OnesCount64(set))
	for m := set; m != 0; m &= m - 1 {
		options = append(options, c.p.open(r, bits.TrailingZeros64(m), st))
	}
	v := c.fill(options, spot, c.p.stock)
	c.known[key] = v
	return v
}

// fill prices children with these options each.
func (c *pricer) fill(options [][]option, spot uint32, stock []int) price {
	c.best = price{worth: -1}
	c.menu = c.menu[:0]
	for _, list := range options {
		if len(list) == 0 {
			return price{}
		}
		for _, o := range list {
			if a := &c.p.acts[o.act]; bits.OnesCount32(a.signed&spot) >= a.SpottersNeeded && !slices.Contains(c.menu, o.act) {
				c.menu = append(c.menu, o.act)
			}
		}
	}
	slices.Sort(c.menu)
	c.choose(options, 0, spot, stock)
	if c.best.worth < 0 {
		return price{}
	}
	return price{c.best.worth, slices.Clone(c.best.acts), true}
}

// choose tries every set of activities that one person can look after.
func (c *pricer) choose(options [][]option, from int, spot uint32, stock []int) {
	if len(c.chosen) > 0 {
		c.try(options, spot, stock)
	}
	if len(c.chosen) == c.p.variety {
		return
	}
	for i := from; i < len(c.menu); i++ {
		c.chosen = append(c.chosen, c.menu[i])
		c.choose(options, i+1, spot, stock)
		c.chosen = c.chosen[:len(c.chosen)-1]
	}
}

// placesAt is how many children can work at once at a set of activities, 0 when spotters or equipment do not do, and who
// may spot any of them.
func (p *problem) placesAt(acts []int, children int, spot uint32, stock []int) (places int, spotted uint32) {
	places = children
	for _, no := range acts {
		a := &p.acts[no]
		places = min(places, a.places)
		if a.SpottersNeeded > 0 {
			places = min(places, bits.OnesCount32(a.signed&spot)/a.SpottersNeeded)
			spotted |= a.signed
		}
		for _, n := range a.needs {
			if n.count > stock[n.key] {
				return 0, spotted
			}
		}
	}
	return places, spotted
}

// placesFor is placesAt, and 0 when somebody would spot who is signed off for nothing here.
func (p *problem) placesFor(acts []int, children int, spot uint32, stock []int) int {
	places, spotted := p.placesAt(acts, children, spot, stock)
	if spotted != 0 && spot&^spotted != 0 {
		return 0
	}
	return places
}

// try finds the best choice within the chosen activities.
func (c *pricer) try(options [][]option, spot uint32, stock []int) {
	places := c.p.placesFor(c.chosen, len(options), spot, stock)
	if places == 0 {
		return
	}
	if len(c.chosen) > 2 {
		c.rounds(options, places)
		return
	}
	if !c.duo.read(c.p, options, c.chosen) {
		return
	}
	if worth, slow, turns := c.duo.best(c.p.seconds, places); worth > c.best.worth {
		c.best.worth = worth
		c.best.acts = c.duo.split(c.p, c.chosen, slow, turns, c.best.acts[:0])
	}
}

// roundsWorth is the best that children with these options are worth at three activities or more, on so many places; -1
// when they cannot be.
func (c *pricer) roundsWorth(options [][]option, acts []int, places int) int64 {
	c.chosen = append(c.chosen[:0], acts...)
	c.best.worth = -1
	c.rounds(options, places)
	c.chosen = c.chosen[:0]
	return c.best.worth
}

// rounds keeps, for every number of turns that the clock may come to, the ways to fill the children that no other beats in
// both seconds and worth.
func (c *pricer) rounds(options [][]option, places int) {
	fastest, slowest, longest := 0, 0, 0
	for _, list := range options {
		quick, slow := 0, 0
		for i := range list {
			if slices.Contains(c.chosen, list[i].act) {
				t := c.p.acts[list[i].act].TurnSeconds
				if quick == 0 || t < quick {
					quick = t
				}
				slow = max(slow, t)
			}
		}
		if quick == 0 {
			return
		}
		fastest += quick
		slowest += slow
		longest = max(longest, slow)
	}
	most := c.p.seconds * places / fastest
	for k := most; k >= 1; k-- {
		if k < most && c.p.seconds*places/(k+1) >= slowest && longest*(k+1) <= c.p.seconds {
			return // every choice already fitted with more turns
		}
		if c.ceiling(options, k) > c.best.worth {
			c.pack(options, k, c.p.seconds*places/k)
		}
	}
}

// ceiling is what k turns each could be worth at most.
func (c *pricer) ceiling(options [][]option, k int) int64 {
	var sum int64
	for _, list := range options {
		var best int64
		for i := range list {
			if slices.Contains(c.chosen, list[i].act) {
				best = max(best, list[i].worth[min(k, len(list[i].worth)-1)])
			}
		}
		sum += best
	}
	return sum
}

// pack fills the children so that k rounds fit into the time: at most room seconds of turns in a round.
func (c *pricer) pack(options [][]option, k, room int) {
	for len(c.layers) <= len(options) {
		c.layers = append(c.layers, nil)
	}
	c.layers[0] = append(c.layers[0][:0], step{})
	for i, list := range options {
		c.next = c.next[:0]
		for o := range list {
			if k >= len(list[o].worth) || !slices.Contains(c.chosen, list[o].act) {
				continue
			}
			t := c.p.acts[list[o].act].TurnSeconds
			for from, s := range c.layers[i] {
				if s.sum+t <= room {
					c.next = append(c.next, step{s.sum + t, s.worth + list[o].worth[k], from, o})
				}
			}
		}
		c.layers[i+1] = unbeaten(c.next, c.layers[i+1][:0])
		if len(c.layers[i+1]) == 0 {
			return
		}
	}
	last := c.layers[len(options)]
	if end := last[len(last)-1]; end.worth > c.best.worth {
		c.best.worth = end.worth
		c.best.acts = c.best.acts[:0]
		for i, at := len(options)-1, len(last)-1; i >= 0; i-- {
			s := c.layers[i+1][at]
			c.best.acts = append(c.best.acts, options[i][s.option].act)
			at = s.from
		}
		slices.Reverse(c.best.acts)
	}
}

// unbeaten sorts steps by seconds and keeps those worth more than every quicker one.
func unbeaten(steps, out []step) []step {
	slices.SortFunc(steps, func(a, b step) int {
		if a.sum != b.sum {
			return a.sum - b.sum
		}
		if a.worth != b.worth {
			return int(max(-1, min(1, b.worth-a.worth)))
		}
		return a.option - b.option
	})
	for _, s := range steps {
		if len(out) == 0 || s.worth > out[len(out)-1].worth {
			out = append(out, s)
		}
	}
	return out
}
