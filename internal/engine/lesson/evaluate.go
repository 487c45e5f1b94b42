package lesson

import (
	"fmt"
	"math/bits"
	"slices"

	"rungbook/internal/engine/load"
)

// Evaluate does the sums of a plan that people have changed: turns, waiting, loads, worth. It keeps groups, stations,
// staff and activities as they are, broken rules too (Check names those). A child whose group has no entry for them in a
// rotation gets the best activity that fits; one without any stays without. Only an *InputError comes back: the Input
// makes no sense, or the plan names a child, station, activity or person that is not there.
func Evaluate(in Input, plan Plan) (Plan, error) {
	if err := validate(in); err != nil {
		return Plan{}, err
	}
	p := newProblem(in)
	l, leads, err := p.layoutOf(plan)
	if err != nil {
		return Plan{}, err
	}
	p.complete(l)
	return p.planWith(l, leads), nil
}

// layoutOf reads a plan into numbers.
func (p *problem) layoutOf(plan Plan) (*layout, [][]int, error) {
	l, leads := newLayout(p), filled(p.rots, p.groups, none)
	for g, ids := range plan.Groups {
		for _, id := range ids {
			i, known := p.childNo[id]
			if !known || g >= p.groups || l.group[i] != none {
				return nil, nil, wrong("Plan.Groups", "child %q in group %d is not part of the lesson, or is there twice", id, g+1)
			}
			l.put(i, g)
		}
	}
	if i := slices.Index(l.group, none); i >= 0 {
		return nil, nil, wrong("Plan.Groups", "child %q is in no group", p.children[i].ID)
	}
	for _, cell := range plan.Cells {
		if err := p.readCell(l, leads, cell); err != nil {
			return nil, nil, err
		}
	}
	return l, leads, nil
}

func (p *problem) readCell(l *layout, leads [][]int, cell Cell) error {
	r, g := cell.Rotation-1, cell.Group-1
	st, known := p.placeNo[cell.StationID]
	if r < 0 || r >= p.rots || g < 0 || g >= p.groups || !known {
		return wrong("Plan.Cells", "rotation %d, group %d or station %q is not part of the lesson", cell.Rotation, cell.Group, cell.StationID)
	}
	l.st[r][g] = st
	if cell.Lead != "" {
		who, known := p.staffNo[cell.Lead]
		if !known {
			return wrong("Plan.Cells", "person %q is not here", cell.Lead)
		}
		leads[r][g] = who
	}
	for _, id := range cell.Spotters {
		who, known := p.staffNo[id]
		if !known {
			return wrong("Plan.Cells", "person %q is not here", id)
		}
		l.spot[r][g] |= 1 << who
	}
	for _, e := range cell.Entries {
		i, known := p.childNo[e.ChildID]
		act, there := p.actNo[e.ActivityID]
		if !known || !there {
			return wrong("Plan.Cells", "child %q or activity %q is not part of the lesson", e.ChildID, e.ActivityID)
		}
		if l.group[i] == g { // what a child did in a group they have left is gone
			l.act[r][i] = act
		}
	}
	return nil
}

// complete gives every child without an activity one that is open at the group's station: one that the group does anyway
// if possible, else the one that matters most.
func (p *problem) complete(l *layout) {
	for r := range p.rots {
		for i := range p.n {
			if st := l.st[r][l.group[i]]; l.act[r][i] == none && st != none {
				l.act[r][i] = p.suggest(l, r, i, st)
			}
		}
	}
}

func (p *problem) suggest(l *layout, r, child, st int) int {
	best, act := -1.0, none
	for _, o := range p.open(r, child, st) {
		v := o.prio
		for m := l.sets[l.group[child]]; m != 0; m &= m - 1 {
			if l.act[r][bits.TrailingZeros64(m)] == o.act {
				v += maxPriority
				break
			}
		}
		if v > best {
			best, act = v, o.act
		}
	}
	return act
}

// plan puts a layout that keeps the rules into words, with somebody to run every station.
func (p *problem) plan(l *layout) Plan {
	leads := filled(p.rots, p.groups, none)
	for r := range p.rots {
		if who, ok := p.leadsFor(r, l.st[r], l.spot[r]); ok {
			leads[r] = who
		}
	}
	return p.planWith(p.inOrder(l, leads), leads)
}

// inOrder numbers the groups by their first child, unless pins number them.
func (p *problem) inOrder(l *layout, leads [][]int) *layout {
	if p.labelled {
		return l
	}
	order := make([]int, p.groups)
	for g := range order {
		order[g] = g
	}
	slices.SortStableFunc(order, func(a, b int) int { return bits.TrailingZeros64(l.sets[a]) - bits.TrailingZeros64(l.sets[b]) })
	out := newLayout(p)
	for to, from := range order {
		for _, i := range members(l.sets[from]) {
			out.put(i, to)
		}
	}
	for r := range p.rots {
		was := slices.Clone(leads[r])
		for to, from := range order {
			out.st[r][to], out.spot[r][to], leads[r][to] = l.st[r][from], l.spot[r][from], was[from]
		}
		copy(out.act[r], l.act[r])
	}
	return out
}

func (p *problem) planWith(l *layout, leads [][]int) Plan {
	v := p.score(l)
	out := Plan{Groups: make([][]string, p.groups), Totals: make([]Total, p.n), Short: v.short, Split: v.split,
		Worth: float64(v.worth) / unit}
	for g, set := range l.sets {
		out.Groups[g] = []string{}
		for _, i := range members(set) {
			out.Groups[g] = append(out.Groups[g], p.children[i].ID)
		}
	}
	left := make([]load.Load, p.n)
	for i, c := range p.children {
		left[i] = c.Caps
		out.Totals[i].ChildID = c.ID
	}
	for r := range p.rots {
		for g := range p.groups {
			out.Cells = append(out.Cells, p.cell(l, r, g, leads[r][g], left, out.Totals))
		}
	}
	for i := range out.Totals {
		t := &out.Totals[i]
		t.Short = max(0, p.in.TurnFloor-t.Turns)
		t.WaitShare /= float64(p.rots)
		out.Wait += t.WaitShare / float64(p.n)
	}
	return out
}

// cell puts one cell into words and adds it to the children's totals and to what is left of their caps.
func (p *problem) cell(l *layout, r, g, lead int, left []load.Load, totals []Total) Cell {
	places, turns := p.clockOf(l, r, g)
	out := Cell{Rotation: r + 1, Group: g + 1, Places: places, Turns: turns, Spotters: []string{}, Entries: []Entry{}}
	if l.st[r][g] != none {
		out.StationID = p.stations[l.st[r][g]].ID
	}
	if lead != none {
		out.Lead = p.staff[lead].ID
	}
	for who := range p.staff {
		if l.spot[r][g]>>who&1 == 1 {
			out.Spotters = append(out.Spotters, p.staff[who].ID)
		}
	}
	for _, i := range members(l.sets[g]) {
		if l.act[r][i] == none {
			totals[i].WaitShare++
			continue
		}
		e := p.entry(l, r, i, turns, left[i])
		left[i] = load.Load{Back: left[i].Back - e.Load.Back, Wrists: left[i].Wrists - e.Load.Wrists, Landing: left[i].Landing - e.Load.Landing}
		t := &totals[i]
		t.Turns, t.Worth, t.Load, t.WaitShare = t.Turns+e.Turns, t.Worth+e.Worth, t.Load.Plus(e.Load), t.WaitShare+e.WaitShare
		out.Entries = append(out.Entries, e)
	}
	return out
}

func (p *problem) entry(l *layout, r, i, clock int, left load.Load) Entry {
	a := &p.acts[l.act[r][i]]
	k := min(clock, turnsWithin(left, a.Load))
	prio := p.priority(i, l.st[r][l.group[i]], l.act[r][i])
	return Entry{ChildID: p.children[i].ID, ActivityID: a.ID, Turns: k, Load: a.Load.Times(k), Worth: prio * p.gain[k],
		WaitShare: 1 - float64(k*a.TurnSeconds)/float64(p.seconds), Why: p.why(l, r, i, k, clock, prio)}
}

// why says why a child works at this here: how it ranks among what is open to them at the station, and what limits it.
func (p *problem) why(l *layout, r, i, turns, clock int, prio float64) string {
	higher := 0
	list := p.options[i][l.st[r][l.group[i]]]
	for _, o := range list {
		if o.prio > prio {
			higher++
		}
	}
	var s string
	switch {
	case prio == 0:
		s = "Not open for this child here."
	case len(list) == 1:
		s = "The only thing open here."
	case higher == 0:
		s = "What matters most here now."
	default:
		s = fmt.Sprintf("Number %d of %d that are open here: it fits the group and its spotters best.", higher+1, len(list))
	}
	if p.actPin[r][i] == l.act[r][i] {
		s = "Pinned. " + s
	}
	if turns < clock {
		s += fmt.Sprintf(" Rests after %d of %d turns: the load limit is reached.", turns, clock)
	}
	if p.acts[l.act[r][i]].TwoSided {
		s += sides(turns)
	}
	return s
}

// sides says how the turns of a two-sided activity fall on the two sides, which take turns.
func sides(turns int) string {
	if turns%2 == 0 {
		return fmt.Sprintf(" %d turns on each side.", turns/2)
	}
	return fmt.Sprintf(" %d turns on each side and one more: give it to the weaker.", turns/2)
}
