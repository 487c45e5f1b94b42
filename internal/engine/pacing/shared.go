package pacing

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/integrate/quad"
	"gonum.org/v1/gonum/stat/distuv"
)

// Past is how one forecast of one child turned out.
type Past struct {
	Chance   float64 // as it was told, 0 to 1
	Happened bool
}

// How an estimate of what a class shares is drawn to the usual one while its past is short. Ours; no published figure exists.
const (
	UsualShared = 0.1 // the usual correlation
	SharedPull  = 8   // of how many groups the usual one counts
	mostShared  = 0.6
	sharedNodes = 40 // of the quadrature
)

// Sharing is how much the children of a class fare alike, as its past tells.
type Sharing struct {
	Shared float64 // to be used: Alone drawn to UsualShared, 0 to 0.6
	Alone  float64 // by the past alone; UsualShared without any
	Groups int     // with two children or more whose chance was neither 0 nor 1
	Pairs  int     // of children within them
}

// EstimateShared finds the correlation of Crowd.Shared from forecasts that have turned out, a group being those of the children of a
// class for one rung and one span of time. It is the one at which the products of the errors of two children of a group, (happened -
// chance) each, sum to what the one-factor model expects (method of moments; common practice, no source). Forecasts that were too high or
// too low for a whole class count as shared, as they should. The error is an *InputError.
func EstimateShared(groups [][]Past) (Sharing, error) {
	s := Sharing{Alone: UsualShared}
	var kept [][]Past
	seen := 0.0
	for i, g := range groups {
		var open []Past
		for _, p := range g {
			if !(p.Chance >= 0 && p.Chance <= 1) {
				return s, &InputError{fmt.Sprintf("groups[%d]", i), fmt.Sprintf("has the chance %g, want 0 to 1 (a probability)", p.Chance)}
			}
			if p.Chance > 0 && p.Chance < 1 {
				open = append(open, p)
			}
		}
		if len(open) < 2 {
			continue
		}
		kept = append(kept, open)
		s.Pairs += len(open) * (len(open) - 1) / 2
		seen += pairs(open, Past.off)
	}
	s.Groups = len(kept)
	if s.Groups > 0 {
		s.Alone = solveShared(kept, seen)
	}
	s.Shared = min((float64(s.Groups)*s.Alone+SharedPull*UsualShared)/float64(s.Groups+SharedPull), mostShared)
	return s, nil
}

// off is the error of a forecast.
func (p Past) off() float64 {
	if p.Happened {
		return 1 - p.Chance
	}
	return -p.Chance
}

// pairs sums the products of a number over all pairs.
func pairs(group []Past, of func(Past) float64) float64 {
	sum, squares := 0.0, 0.0
	for _, p := range group {
		v := of(p)
		sum, squares = sum+v, squares+v*v
	}
	return (sum*sum - squares) / 2
}

// solveShared finds the correlation by halving: what the model expects grows with it, from 0.
func solveShared(groups [][]Past, seen float64) float64 {
	if seen <= 0 {
		return 0
	}
	levels := make([][]float64, len(groups))
	for i, g := range groups {
		for _, p := range g {
			levels[i] = append(levels[i], distuv.UnitNormal.Quantile(p.Chance))
		}
	}
	low, high := 0.0, 0.95
	for range 16 {
		if middle := (low + high) / 2; expectedPairs(groups, levels, middle) < seen {
			low = middle
		} else {
			high = middle
		}
	}
	return (low + high) / 2
}

// expectedPairs is what the sum over pairs comes to on average, the levels being the normal quantiles of the chances, by quadrature over the factor (Gauss-Hermite).
func expectedPairs(groups [][]Past, levels [][]float64, shared float64) float64 {
	over := math.Sqrt(shared)
	return quad.Fixed(func(x float64) float64 {
		sum := 0.0
		for i, g := range groups {
			at := 0
			sum += pairs(g, func(p Past) float64 {
				chance := distuv.UnitNormal.CDF((levels[i][at] + over*math.Sqrt2*x) / math.Sqrt(1-shared))
				at++
				return chance - p.Chance
			})
		}
		return sum / math.SqrtPi // the rule itself weighs by exp(-x*x)
	}, math.Inf(-1), math.Inf(1), sharedNodes, quad.Hermite{}, 1)
}
