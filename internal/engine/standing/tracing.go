package standing

import "fmt"

// Tracing are the parameters of Bayesian knowledge tracing, each a probability: Known before the first turn, Learn at a
// turn, Slip (missed though known), Guess (clean though not known).
// Source: Corbett and Anderson 1995, User Modeling and User-Adapted Interaction 4:253-278.
// The model forgets nothing, and a high probability clears nobody.
type Tracing struct {
	Known float64
	Learn float64
	Slip  float64
	Guess float64
}

// Traced is the probability that a rung is known: After the turn was seen, and Next, before the following turn.
type Traced struct {
	After float64
	Next  float64
}

// Validate reports the first parameter that is no probability.
func (p Tracing) Validate() error {
	for _, f := range []struct {
		name  string
		value float64
	}{{"known", p.Known}, {"learn", p.Learn}, {"slip", p.Slip}, {"guess", p.Guess}} {
		if !(f.value >= 0 && f.value <= 1) {
			return fmt.Errorf("standing: tracing %s is %g, want a probability from 0 to 1", f.name, f.value)
		}
	}
	return nil
}

// Trace follows the probability through turns, true being clean. An observation that the parameters call impossible
// leaves the probability as it was.
func (p Tracing) Trace(clean []bool) ([]Traced, error) {
	if err := p.Validate(); err != nil {
		return nil, err
	}
	out := make([]Traced, len(clean))
	known := p.Known
	for i, c := range clean {
		out[i].After = p.after(known, c)
		out[i].Next = out[i].After + (1-out[i].After)*p.Learn
		known = out[i].Next
	}
	return out, nil
}

func (p Tracing) after(known float64, clean bool) float64 {
	yes, no := known*p.Slip, (1-known)*(1-p.Guess)
	if clean {
		yes, no = known*(1-p.Slip), (1-known)*p.Guess
	}
	if yes+no == 0 {
		return known
	}
	return yes / (yes + no)
}
