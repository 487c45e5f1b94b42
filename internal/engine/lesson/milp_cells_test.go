package lesson

import (
	"math"
	"math/bits"
	"slices"

	"rungbook/internal/engine/load"
)

// milpCell is one way to run a station for a group: who is there, who spots, what each child does. Children and staff
// are numbered as in Input. It is worked out from the Input alone, by the words of its contract.
type milpCell struct {
	set, spot uint
	station   int
	acts      []int // by child of the set
	turns     []int
	worth     float64
	uses      []int // by stock
	back      uint  // children who work the back hard
	wrists    uint
}

// milpCells lists every way to run every station for every possible group that keeps the rules of a single cell.
func milpCells(in Input) []milpCell {
	var out []milpCell
	for set := uint(1); set < 1<<len(in.Children); set++ {
		if !milpGroup(in, set) {
			continue
		}
		for st := range in.Stations {
			for spot := range uint(1) << len(in.Staff) {
				if milpMaySpot(in, spot) {
					out = append(out, milpWays(in, milpCell{set: set, spot: spot, station: st})...)
				}
			}
		}
	}
	return out
}

// milpGroup reports whether a set may be a group: size (as even as can be), together, apart, pins.
func milpGroup(in Input, set uint) bool {
	n, size := len(in.Children), bits.OnesCount(set)
	least, most := in.GroupMin, in.GroupMax
	if least == 0 {
		least = n / in.Groups
	}
	if most == 0 {
		most = (n + in.Groups - 1) / in.Groups
	}
	if size < least || size > most {
		return false
	}
	has := func(id string) bool {
		return set>>slices.IndexFunc(in.Children, func(c Child) bool { return c.ID == id })&1 == 1
	}
	for _, p := range in.KeepTogether {
		if has(p.A) != has(p.B) {
			return false
		}
	}
	for _, p := range in.KeepApart {
		if has(p.A) && has(p.B) {
			return false
		}
	}
	for _, a := range in.Pins.Groups {
		for _, b := range in.Pins.Groups {
			if (a.Group == b.Group) != (has(a.ChildID) == has(b.ChildID)) && (a.Group == b.Group || has(a.ChildID)) {
				return false
			}
		}
	}
	return true
}

// milpMaySpot reports whether these people may spot at one time, leaving an adult or more to watch.
func milpMaySpot(in Input, spot uint) bool {
	free := 0
	for i, s := range in.Staff {
		if spot>>i&1 == 1 && !s.MaySpot {
			return false
		}
		if spot>>i&1 == 0 && s.Adult {
			free++
		}
	}
	return free >= max(1, in.AdultsFreeNeeded)
}

// milpWays lists the ways in which the children of a cell can work, by every choice of their activities.
func milpWays(in Input, c milpCell) []milpCell {
	ways := []milpCell{c}
	for i, child := range in.Children {
		if c.set>>i&1 == 0 {
			continue
		}
		var longer []milpCell
		for _, w := range ways {
			for _, o := range child.Options {
				a := slices.IndexFunc(in.Activities, func(a Activity) bool { return a.ID == o.ActivityID })
				act := in.Activities[a]
				avoid := child.AvoidBack && act.Load.Back > 0 || child.AvoidWrists && act.Load.Wrists > 0 ||
					child.AvoidLanding && act.Load.Landing > 0 || child.AvoidInverted && act.Inverted
				if o.StationID == in.Stations[c.station].ID && !avoid {
					next := w
					next.acts = append(slices.Clone(w.acts), a)
					longer = append(longer, next)
				}
			}
		}
		ways = longer
	}
	var out []milpCell
	for _, w := range ways {
		if w.count(in) {
			out = append(out, w)
		}
	}
	return out
}

// count fills in turns, worth, equipment and hard work of a cell, and reports whether it keeps the rules.
func (c *milpCell) count(in Input) bool {
	k := c.clock(in)
	distinct := slices.Compact(slices.Sorted(slices.Values(c.acts)))
	if k == 0 || len(distinct) > defaultTo(in.MaxActivities, 2) {
		return false
	}
	c.uses = make([]int, len(in.Stock))
	for _, a := range distinct {
		for _, n := range in.Activities[a].Equipment {
			s := slices.IndexFunc(in.Stock, func(s Stock) bool { return s.Key == n.Key })
			if s < 0 || in.Stock[s].Count < n.Count {
				return false
			}
			c.uses[s] = max(c.uses[s], n.Count)
		}
	}
	j := 0
	for i, child := range in.Children {
		if c.set>>i&1 == 0 {
			continue
		}
		act := in.Activities[c.acts[j]]
		turns := 0
		for turns < k && act.Load.Times(turns+1).Fits(child.Caps) {
			turns++
		}
		if turns == 0 {
			return false
		}
		c.turns = append(c.turns, turns)
		for _, o := range child.Options {
			if o.ActivityID == act.ID && o.StationID == in.Stations[c.station].ID {
				c.worth += o.Priority * (1 - math.Pow(1-in.Learn, float64(turns)))
			}
		}
		c.hard(in, i, act.Load)
		j++
	}
	return true
}

func (c *milpCell) hard(in Input, child int, l load.Load) {
	from := defaultTo(in.HardFrom, 2)
	if l.Back >= from && !in.AllowBackInRow {
		c.back |= 1 << child
	}
	if l.Wrists >= from && !in.AllowWristsInRow {
		c.wrists |= 1 << child
	}
}

func defaultTo(v, standard int) int {
	if v == 0 {
		return standard
	}
	return v
}

// clock is the turns that the time gives each child, 0 when spotters or equipment do not do.
func (c *milpCell) clock(in Input) int {
	places, sum, longest := len(c.acts), 0, 0
	var serves uint
	for _, no := range c.acts {
		a := in.Activities[no]
		sum, longest = sum+a.TurnSeconds, max(longest, a.TurnSeconds)
		for _, n := range a.Equipment {
			places = min(places, n.Places)
		}
		var signed uint
		for i, s := range in.Staff {
			if slices.Contains(s.SignedOff, a.ID) {
				signed |= 1 << i
			}
		}
		if a.SpottersNeeded > 0 {
			places = min(places, bits.OnesCount(signed&c.spot)/a.SpottersNeeded)
			serves |= signed
		}
	}
	if serves != 0 && c.spot&^serves != 0 {
		return 0 // somebody spots what they are not signed off for
	}
	return min(in.WorkSeconds*places/sum, in.WorkSeconds/longest)
}

// milpUseful leaves out cells that another one beats in everything: worth, turns, people, equipment, hard work.
func milpUseful(cells []milpCell, samePeople bool) []milpCell {
	type where struct {
		set     uint
		station int
	}
	kept := map[where][]milpCell{}
	var order []where
	for _, c := range cells {
		at := where{c.set, c.station}
		beaten := func(by milpCell) bool { return by.beats(c, samePeople) }
		if len(kept[at]) == 0 {
			order = append(order, at)
		} else if slices.ContainsFunc(kept[at], beaten) {
			continue
		}
		kept[at] = append(slices.DeleteFunc(kept[at], func(old milpCell) bool { return c.beats(old, samePeople) }), c)
	}
	var out []milpCell
	for _, at := range order {
		out = append(out, kept[at]...)
	}
	return out
}

func (c milpCell) beats(d milpCell, samePeople bool) bool {
	if c.worth < d.worth || c.spot&^d.spot != 0 || samePeople && c.spot != d.spot || c.back&^d.back != 0 || c.wrists&^d.wrists != 0 {
		return false
	}
	for i := range c.turns {
		if c.turns[i] < d.turns[i] {
			return false
		}
	}
	for i := range c.uses {
		if c.uses[i] > d.uses[i] {
			return false
		}
	}
	return true
}
