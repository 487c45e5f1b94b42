package pacing

import (
	"context"
	"errors"
	"fmt"
	"math"
	"math/bits"
	"math/rand/v2"
	"slices"
	"testing"

	"gonum.org/v1/gonum/integrate/quad"
	"gonum.org/v1/gonum/stat/distuv"
)

func crowd(seed uint64, children int) Crowd {
	rng := rand.New(rand.NewPCG(seed, 7))
	c := Crowd{Rungs: []string{"a", "b"}, Seed: seed}
	chances := map[string]float64{}
	for i := range children {
		id := fmt.Sprint("child ", i)
		c.Children = append(c.Children, id)
		chances[id+"a"], chances[id+"b"] = rng.Float64(), math.Sqrt(rng.Float64())
	}
	c.Chance = func(child, rung string) float64 { return chances[child+rung] }
	return c
}

// With equal chances the count is binomial (gonum's distribution).
func TestEqualChancesAreBinomial(t *testing.T) {
	c := Crowd{Children: make([]string, 12), Rungs: []string{"a"}, Chance: func(string, string) float64 { return 0.3 }}
	got, err := Ready(context.Background(), c)
	if err != nil || !got.Exact {
		t.Fatal(got, err)
	}
	want := distuv.Binomial{N: 12, P: 0.3}
	for n, p := range got.Class.Chances {
		if math.Abs(p-want.Prob(float64(n))) > 1e-12 {
			t.Errorf("%d ready: %v, want %v", n, p, want.Prob(float64(n)))
		}
	}
	if math.Abs(got.Class.Mean-3.6) > 1e-12 || got.Class.Low != 2 || got.Class.High != 6 {
		// At most 10% below 2 (8.5%) and above 6 (3.9%), more above 5 (11.8%): the binomial table for n = 12, p = 0.3.
		t.Errorf("mean %v, interval %d to %d", got.Class.Mean, got.Class.Low, got.Class.High)
	}
}

// Unequal chances against every outcome of the class, one by one.
func TestUnequalChancesAgainstEveryOutcome(t *testing.T) {
	for seed := range uint64(20) {
		c := crowd(seed, 1+int(seed%9))
		got, err := Ready(context.Background(), c)
		if err != nil {
			t.Fatal(err)
		}
		want := make([]float64, len(c.Children)+1)
		for set := range uint(1) << len(c.Children) {
			p := 1.0
			for i, child := range got.Children {
				if set>>i&1 == 1 {
					p *= child.Chance
				} else {
					p *= 1 - child.Chance
				}
			}
			want[bits.OnesCount(set)] += p
		}
		for n := range want {
			if math.Abs(want[n]-got.Class.Chances[n]) > 1e-12 {
				t.Errorf("seed %d, %d ready: %v, want %v", seed, n, got.Class.Chances[n], want[n])
			}
		}
	}
}

// What is drawn against what is counted out: for a given factor the children are independent, so the exact distribution is
// the Poisson-binomial one averaged over the factor (Gauss-Hermite quadrature of gonum). Next to no sharing is none.
func TestDrawnAgainstExact(t *testing.T) {
	for _, shared := range []float64{1e-9, 0.1, 0.3, 0.6} {
		c := crowd(3, 14)
		c.Shared, c.Draws = shared, 200_000
		got, err := Ready(context.Background(), c)
		if err != nil || got.Exact {
			t.Fatal(got, err)
		}
		for n := range got.Class.Chances {
			want := quad.Fixed(func(x float64) float64 {
				chances := make([]float64, len(got.Children))
				for i, child := range got.Children {
					chances[i] = given(child.Chance, shared, math.Sqrt2*x)
				}
				return poissonBinomial(chances)[n] / math.Sqrt(math.Pi) // the rule itself weighs by exp(-x*x)
			}, math.Inf(-1), math.Inf(1), 80, quad.Hermite{}, 0)
			if off := math.Abs(want - got.Class.Chances[n]); off > 5*math.Sqrt(want*(1-want)/float64(c.Draws))+1e-4 {
				t.Errorf("shared %v, %d ready: drawn %v, exact %v", shared, n, got.Class.Chances[n], want)
			}
		}
		c.Shared = 0
		alone, err := Ready(context.Background(), c)
		if err != nil || math.Abs(alone.Class.Mean-got.Class.Mean) > 0.05 {
			t.Errorf("shared %v: mean %v, alone %v", shared, got.Class.Mean, alone.Class.Mean)
		}
		if shared > 0.2 && got.Class.High-got.Class.Low <= alone.Class.High-alone.Class.Low {
			t.Errorf("shared %v: no wider than alone", shared)
		}
	}
}

// given is the chance of a child once the factor that the class shares is known (Vasicek 2002, from memory).
func given(chance, shared, factor float64) float64 {
	normal := distuv.UnitNormal
	return normal.CDF((normal.Quantile(chance) + math.Sqrt(shared)*factor) / math.Sqrt(1-shared))
}

// The same seed gives the same answer, another one another; certainty stays certain.
func TestDrawnIsRepeatable(t *testing.T) {
	c := crowd(5, 10)
	c.Shared = 0.3
	first, err := Ready(context.Background(), c)
	if err != nil {
		t.Fatal(err)
	}
	second, _ := Ready(context.Background(), c)
	c.Seed++
	third, _ := Ready(context.Background(), c)
	if !slices.Equal(first.Class.Chances, second.Class.Chances) || slices.Equal(first.Class.Chances, third.Class.Chances) {
		t.Error("the seed does not decide what is drawn")
	}
	c.Chance = func(child, _ string) float64 { return map[string]float64{"child 0": 1, "child 1": 1}[child] }
	if sure, err := Ready(context.Background(), c); err != nil || math.Abs(sure.Class.Chances[2]-1) > 1e-9 {
		t.Errorf("two of ten are certain, the rest impossible: %v, %v", sure.Class.Chances, err)
	}
}

func TestForecastRefuses(t *testing.T) {
	for field, c := range map[string]Crowd{
		"Shared":       {Shared: 1},
		"Level":        {Level: 1},
		"Draws":        {Draws: -1},
		"Chance(x, a)": {Children: []string{"x"}, Rungs: []string{"a"}, Chance: func(string, string) float64 { return math.NaN() }},
	} {
		var wrong *InputError
		if _, err := Ready(context.Background(), c); !errors.As(err, &wrong) || wrong.Field != field {
			t.Errorf("%s: %v", field, err)
		}
	}
	over, cancel := context.WithCancel(context.Background())
	cancel()
	c := crowd(1, 5)
	c.Shared = 0.5
	if _, err := Ready(over, c); !errors.Is(err, context.Canceled) {
		t.Errorf("cancelled: %v", err)
	}
	if got, err := Ready(context.Background(), Crowd{}); err != nil || got.Class.High != 0 || got.Class.Chances[0] != 1 {
		t.Errorf("nobody: %+v, %v", got, err)
	}
}
