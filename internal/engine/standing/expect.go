package standing

import "math"

// count is how often everything is expected to have happened, by the parameters at hand.
type count struct {
	firsts, known  float64 // first turns, and how many of them were known
	tried, learned float64 // turns not known that another followed, and how many of them taught
	not, yes       Looks   // the outcomes while not known, and while known
	logLikelihood  float64
}

// logLikelihood is the log of the chance of all turns.
func (l Learning) logLikelihood(all []Turns) float64 {
	sum := 0.0
	for _, t := range all {
		known := l.Known
		for _, o := range t.Outcomes {
			sum += math.Log(known*l.Yes.of(o) + (1-known)*l.Not.of(o))
			known = l.next(l.after(known, o))
		}
	}
	return sum
}

// add takes in one row of turns: forward, then backward (Rabiner 1989, Proceedings of the IEEE 77:257-286, scaled), for a chain
// that never goes from known to not known.
func (c *count) add(l Learning, turns []Outcome) {
	n := len(turns)
	if n == 0 {
		return
	}
	after, seen := make([]float64, n), make([]float64, n)
	known := l.Known
	for i, o := range turns {
		seen[i] = known*l.Yes.of(o) + (1-known)*l.Not.of(o)
		c.logLikelihood += math.Log(seen[i])
		after[i] = l.after(known, o)
		known = l.next(after[i])
	}
	ifNot, ifYes := 1.0, 1.0 // the chance of all that follows, over what it was foretold to be
	for i := n - 1; i >= 0; i-- {
		was := after[i] * ifYes
		c.yes.add(turns[i], was)
		c.not.add(turns[i], 1-was)
		if i == 0 {
			c.known += was
			break
		}
		yes, no := l.Yes.of(turns[i])*ifYes/seen[i], l.Not.of(turns[i])*ifNot/seen[i]
		c.tried += (1 - after[i-1]) * (l.Learn*yes + (1-l.Learn)*no)
		c.learned += (1 - after[i-1]) * l.Learn * yes
		ifYes, ifNot = yes, l.Learn*yes+(1-l.Learn)*no
	}
	c.firsts++
}

func (l *Looks) add(o Outcome, n float64) {
	switch o {
	case Missed:
		l.Missed += n
	case Supported:
		l.Supported += n
	default:
		l.Clean += n
	}
}
