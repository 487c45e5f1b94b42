package calibration

import (
	"math/rand/v2"
	"slices"
)

// resample gives the intervals: children are drawn with replacement, as many as there are, so that forecasts of one child stay together
// (cluster bootstrap, percentile interval: Efron and Tibshirani 1993; resampling whole clusters: Davison and Hinkley 1997, 3.8).
func (r *Result) resample(children []sums, s Settings, dice *rand.Rand) {
	var briers, skills []float64
	gaps := make([][]float64, len(r.Bands))
	for range s.Rounds {
		var drawn sums
		for range children {
			drawn.add(children[dice.IntN(len(children))])
		}
		briers = append(briers, drawn.brier())
		if skill, ok := drawn.skill(); ok {
			skills = append(skills, skill)
		}
		for i, b := range drawn.bands {
			if b.n > 0 {
				gaps[i] = append(gaps[i], b.mean()-b.share())
			}
		}
	}
	r.BrierIn, r.SkillIn = interval(briers, s.Rounds, miss), interval(skills, s.Rounds, miss)
	for i := range r.Bands {
		r.Bands[i].GapIn = interval(gaps[i], s.Rounds, miss/float64(len(r.Bands)))
	}
}

// miss is how often an interval may miss the truth.
const miss = 0.05

// interval is the middle of the values, less a share of miss at the ends; none where more than one round in twenty could not give one.
func interval(values []float64, rounds int, miss float64) Interval {
	if 20*len(values) < 19*rounds {
		return Interval{}
	}
	slices.Sort(values)
	at := func(share float64) float64 { return values[min(int(share*float64(len(values))), len(values)-1)] }
	return Interval{Low: at(miss / 2), High: at(1 - miss/2), Known: true}
}
