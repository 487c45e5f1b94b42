package standing

import (
	"fmt"
	"math"
)

// Learning is Bayesian knowledge tracing of one rung, with the three outcomes of a turn in place of right and wrong: a child knows
// the rung or does not, each turn may teach it, and what is seen depends on which it is. All numbers are probabilities.
// Source of the model: Corbett and Anderson 1995, User Modeling and User-Adapted Interaction 4:253-278.
// The model forgets nothing, and a high probability clears nobody.
type Learning struct {
	Known float64 // before the first turn
	Learn float64 // that a turn teaches a child who did not know
	Not   Looks   // of a turn while it is not known; Not.Clean is the guess
	Yes   Looks   // of a turn while it is known; 1 - Yes.Clean is the slip
}

// Looks are the chances of the outcomes of a turn; they sum to 1.
type Looks struct{ Missed, Supported, Clean float64 }

// The bounds that a fit keeps, so that "known" stays the state in which turns are clean. Source: the usual bounds of the model,
// guess at most .3 and slip at most .1.
const (
	MostGuess = 0.3
	MostSlip  = 0.1
)

// DefaultLearning is what a rung starts from. No published figures for acro exist: these are ours, cautious on purpose.
func DefaultLearning() Learning {
	return Learning{Known: 0.15, Learn: 0.08, Not: Looks{Missed: 0.4, Supported: 0.4, Clean: 0.2}, Yes: Looks{Missed: 0.03, Supported: 0.06, Clean: 0.91}}
}

func (l Looks) of(o Outcome) float64 {
	switch o {
	case Missed:
		return l.Missed
	case Supported:
		return l.Supported
	}
	return l.Clean
}

// Validate reports the first parameter that is no probability.
func (l Learning) Validate() error {
	for _, f := range []struct {
		name  string
		value float64
	}{{"known", l.Known}, {"learn", l.Learn}, {"missed while not known", l.Not.Missed}, {"supported while not known", l.Not.Supported},
		{"guess", l.Not.Clean}, {"missed while known", l.Yes.Missed}, {"supported while known", l.Yes.Supported}, {"clean while known", l.Yes.Clean}} {
		if !(f.value >= 0 && f.value <= 1) {
			return fmt.Errorf("standing: learning, %s is %g, want a probability from 0 to 1", f.name, f.value)
		}
	}
	for _, s := range []Looks{l.Not, l.Yes} {
		if sum := s.Missed + s.Supported + s.Clean; math.Abs(sum-1) > 1e-6 {
			return fmt.Errorf("standing: learning, the outcomes of a turn sum to %g, want 1", sum)
		}
	}
	return nil
}

// after is the probability that the rung is known once an outcome was seen. One that the parameters call impossible leaves it as it was.
func (l Learning) after(known float64, o Outcome) float64 {
	yes, no := known*l.Yes.of(o), (1-known)*l.Not.of(o)
	if yes+no == 0 {
		return known
	}
	return yes / (yes + no)
}

// next is the probability before the following turn.
func (l Learning) next(after float64) float64 { return after + (1-after)*l.Learn }

// Look is the outcome as it is learned from: a clean turn with a fault that can hurt does not count as clean.
func (m Mark) Look() Outcome {
	if m.Outcome == Clean && m.SafetyFault {
		return Supported
	}
	return m.Outcome
}
