package standing

import "slices"

// Asks is what a turn of a rung asks of a child and of the room: load by kind (0-3), people who spot, and whether it goes upside down,
// bends back or flies.
type Asks struct {
	Back, Wrists, Landing       int
	Spotters                    int
	Inverted, BackBend, Flights bool
}

// Within reports whether nothing is asked beyond the other.
func (a Asks) Within(b Asks) bool {
	return a.Back <= b.Back && a.Wrists <= b.Wrists && a.Landing <= b.Landing && a.Spotters <= b.Spotters &&
		!(a.Inverted && !b.Inverted) && !(a.BackBend && !b.BackBend) && !(a.Flights && !b.Flights)
}

// Instead is what a child may do in place of a rung. RungID is "" when nothing will do. Lost are the rungs above it on the way to the one
// that was asked for, that one last. Passed are rungs nearer to it that will not do, the nearest first.
type Instead struct {
	RungID string
	Lost   []string
	Passed []Passed
}

// Passed is a rung that will not do: not secure now, not allowed to this child, or asking for More than the rung it would replace.
type Passed struct {
	RungID                  string
	Secure, Forbidden, More bool
}

// Instead finds the highest rung below id, on its ladder or among those it needs near or far, that is secure now, that is allowed, and
// that asks for no more than id itself of any kind. The own ladder's rungs come before others', the higher first; among the others, the
// one that needs the most. It clears nobody: the teacher who is present decides.
func (b Board) Instead(id string, asks func(rung string) Asks, allowed func(rung string) bool) Instead {
	at, ok := b.graph.index[id]
	if !ok {
		return Instead{}
	}
	below := b.below(at)
	out := Instead{Lost: []string{id}}
	for n, i := range below {
		rung := b.graph.rungs[i].ID
		p := Passed{RungID: rung, Secure: b.Rungs[i].State == Secure, Forbidden: !allowed(rung), More: !asks(rung).Within(asks(id))}
		if p.Secure && !p.Forbidden && !p.More {
			out.RungID, out.Lost = rung, b.lost(i, at, below[:n])
			return out
		}
		out.Passed = append(out.Passed, p)
	}
	out.Lost = b.lost(-1, at, below)
	return out
}

// below are the rungs under another: those of its ladder from the nearest down, then what else it needs, the last in the order first.
func (b Board) below(at int) []int {
	of := b.graph.rungs[at]
	var own, others []int
	for i, r := range b.graph.rungs {
		switch {
		case i == at:
		case r.Ladder != "" && r.Ladder == of.Ladder:
			if r.Position < of.Position {
				own = append(own, i)
			}
		case b.graph.before[at][i]:
			others = append(others, i)
		}
	}
	slices.SortStableFunc(own, func(i, j int) int { return b.graph.rungs[j].Position - b.graph.rungs[i].Position })
	slices.Reverse(others)
	return append(own, others...)
}

// lost are the rungs passed over that lie between the one found and the one asked for, lowest first, the one asked for last.
func (b Board) lost(found, at int, passed []int) []string {
	var lost []string
	for _, i := range slices.Backward(passed) {
		sameWay := b.graph.before[at][i] || b.graph.rungs[i].Ladder == b.graph.rungs[at].Ladder
		if sameWay && !(found >= 0 && b.graph.before[found][i]) {
			lost = append(lost, b.graph.rungs[i].ID)
		}
	}
	return append(lost, b.graph.rungs[at].ID)
}

// Regain is the chance that the marks meet the rule again within the lessons ahead, for a rung due a recheck: what Forecast tells for
// one that was never secure. At least one more turn is asked for.
func (b Board) Regain(id string, l Learning, a Ahead) (Forecast, error) {
	return b.forecast(id, l, a, true)
}
