package pacing

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/stat/distuv"
)

// turnedOut draws so many groups of children whose fortunes share a factor, with chances of all sizes.
func turnedOut(groups, children int, shared float64, dice *rand.Rand) [][]Past {
	out := make([][]Past, groups)
	for i := range out {
		factor := math.Sqrt(shared) * dice.NormFloat64()
		for range children {
			p := Past{Chance: 0.05 + 0.9*dice.Float64()}
			p.Happened = factor+math.Sqrt(1-shared)*dice.NormFloat64() > -distuv.UnitNormal.Quantile(p.Chance)
			out[i] = append(out[i], p)
		}
	}
	return out
}

// Classes made with a known correlation: the past alone gives it back when the past is long.
func TestSharedIsRecovered(t *testing.T) {
	for _, shared := range []float64{0, 0.1, 0.3, 0.5} {
		got, err := EstimateShared(turnedOut(1000, 12, shared, rand.New(rand.NewPCG(11, 2))))
		if err != nil || math.Abs(got.Alone-shared) > 0.05 {
			t.Errorf("%v comes back as %+v, %v", shared, got, err)
		}
	}
}

// By hand, with chances of one half for two children: the model expects P(both) = 1/4 + arcsin(shared)/2π (Sheppard 1899, from memory), so
// three pairs of four that agree sum to 3·¼ − ¼ = ½, an eighth a pair, at arcsin(shared) = π/4.
func TestSharedByHand(t *testing.T) {
	half := func(a, b bool) []Past { return []Past{{0.5, a}, {0.5, b}} }
	groups := [][]Past{half(true, true), half(false, false), half(true, true), half(true, false), {{0.5, true}}, {{1, true}, {0.5, true}}}
	got, err := EstimateShared(groups)
	if err != nil || got.Groups != 4 || got.Pairs != 4 || math.Abs(got.Alone-math.Sin(math.Pi/4)) > 1e-3 {
		t.Errorf("%+v, %v; want 4 groups, 4 pairs and %v", got, err, math.Sin(math.Pi/4))
	}
	if want := (4*got.Alone + 8*0.1) / 12; math.Abs(got.Shared-want) > 1e-12 {
		t.Errorf("drawn to the usual one: %v, want %v", got.Shared, want)
	}
	if none, err := EstimateShared(nil); err != nil || none.Shared != UsualShared || none.Groups != 0 {
		t.Errorf("without a past: %+v, %v", none, err)
	}
	var wrong *InputError
	if _, err := EstimateShared([][]Past{{{math.NaN(), true}}}); !errors.As(err, &wrong) {
		t.Errorf("a chance that is none: %v", err)
	}
}
