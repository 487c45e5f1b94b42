package lesson

import (
	"math"
	"slices"
)

// stand is a station as the pricing of groups sees it: the mixes of activities that can go on there at once, and the
// classes of crews, each crew of a class being good for as many children at every mix.
type stand struct {
	mixes   []mix
	classes []class
	offset  int // of its first class in the row of a group
}

// class is the crews that give the same places at each mix. Of two crews of which one holds the other, the smaller is here.
type class struct {
	places []int // by mix
	crews  []uint32
}

// newStands lists the stations with their mixes and classes of crews, over all rotations; width is the number of classes.
func newStands(s *solver) (stands []stand, width int) {
	for st := range s.p.stations {
		d := stand{offset: width}
		open := make([]uint64, len(s.p.acts))
		for i := range s.p.n {
			for _, o := range s.p.options[i][st] {
				open[o.act] |= 1 << i
			}
		}
		d.addMixes(s.p, open, nil, 0)
		d.setTables(s.p, st, open)
		for r := range s.p.rots {
			for _, spot := range s.crew.sets[r][st] {
				d.addCrew(s.p, spot)
			}
		}
		stands, width = append(stands, d), width+len(d.classes)
	}
	return stands, width
}

func (d *stand) addMixes(p *problem, open []uint64, acts []int, from int) {
	if len(acts) > 0 {
		m := mix{acts: slices.Clone(acts)}
		for _, a := range acts {
			m.open |= open[a]
		}
		d.mixes = append(d.mixes, m)
	}
	if len(acts) == p.variety {
		return
	}
	for a := from; a < len(open); a++ {
		if open[a] != 0 {
			d.addMixes(p, open, append(acts, a), a+1)
		}
	}
}

func (d *stand) addCrew(p *problem, spot uint32) {
	places := make([]int, len(d.mixes))
	for m := range d.mixes {
		places[m], _ = p.placesAt(d.mixes[m].acts, p.most, spot, p.stock)
	}
	for c := range d.classes {
		if known := &d.classes[c]; slices.Equal(known.places, places) {
			if !slices.ContainsFunc(known.crews, func(less uint32) bool { return less&^spot == 0 }) {
				known.crews = append(slices.DeleteFunc(known.crews, func(more uint32) bool { return spot&^more == 0 }), spot)
			}
			return
		}
	}
	d.classes = append(d.classes, class{places, []uint32{spot}})
}

// price writes what a group is worth at a station by class of crew into out, -1 where it cannot be. The options of its
// children, kids, are in order of number. Nothing is left out that any rotation allows, so that no cell is worth more.
func (d *stand) price(c *pricer, set uint64, kids []int, options [][]option, out []int64) {
	for i := range out {
		out[i] = -1
	}
	var at [maxChildren + 1]int64
	for m := range d.mixes {
		if set&^d.mixes[m].open != 0 {
			continue
		}
		for p := range len(options) + 1 {
			at[p] = math.MinInt64
		}
		for i := range d.classes {
			p := min(d.classes[i].places[m], len(options))
			if p > 0 && at[p] == math.MinInt64 {
				if len(d.mixes[m].acts) <= 2 {
					at[p] = d.mixes[m].best(c.p.seconds, p, set, kids, c.room[:])
				} else {
					at[p] = c.roundsWorth(options, d.mixes[m].acts, p)
				}
			}
			if p > 0 && at[p] > out[i] {
				out[i] = at[p]
			}
		}
	}
}
