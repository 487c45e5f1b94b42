package pacing

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"

	"gonum.org/v1/gonum/stat/distuv"
)

// Crowd is a class before a showcase. Chance is the probability that a child has a rung secure by then, 0 to 1, through the
// plan at hand; the caller knows how to tell.
type Crowd struct {
	Children []string
	Rungs    []string // a child is ready when all of these are secure
	Chance   func(child, rung string) float64

	// Shared is how much the children of a class fare alike, 0 (each for itself) to below 1: the correlation of what lies
	// behind each child being ready, in a one-factor Gaussian model (Vasicek 2002, from memory). A child's own chance does
	// not depend on it. No published figure for a class like this exists; it is the teacher's to set.
	Shared float64
	Level  float64 // of the intervals, above 0 and below 1; 0 means 0.8
	Draws  int     // how often the class is drawn when Shared is above 0; 0 means 20000
	Seed   uint64
}

// Readiness is how many are likely to be ready. It describes chances; it clears no child.
type Readiness struct {
	Children []ChildChance // in the order of Crowd
	Rungs    []Count       // children who have the rung, in the order of Crowd; each child for itself
	Class    Count         // children who are ready
	Exact    bool          // counted out, and not drawn
}

// ChildChance is the chance that a child is ready, taking its rungs as independent: common practice, no source.
type ChildChance struct {
	ChildID string
	Chance  float64
}

// Count is the distribution of a number of children. With at least the level of the crowd the number is Low to High, with
// at most half of the rest below and at most half above.
type Count struct {
	RungID    string
	Chances   []float64 // of 0, 1, 2 ... children
	Mean      float64
	Low, High int
}

// Ready tells how many children are likely to be ready. The error is an *InputError or the context's own.
func Ready(ctx context.Context, c Crowd) (Readiness, error) {
	if err := c.validate(); err != nil {
		return Readiness{}, err
	}
	tail := (1 - c.level()) / 2
	out := Readiness{Exact: c.Shared == 0}
	ready := make([]float64, len(c.Children))
	for i, child := range c.Children {
		ready[i] = 1
		for _, rung := range c.Rungs {
			ready[i] *= c.Chance(child, rung)
		}
		out.Children = append(out.Children, ChildChance{child, ready[i]})
	}
	for _, rung := range c.Rungs {
		have := make([]float64, len(c.Children))
		for i, child := range c.Children {
			have[i] = c.Chance(child, rung)
		}
		count := newCount(poissonBinomial(have), tail)
		count.RungID = rung
		out.Rungs = append(out.Rungs, count)
	}
	if c.Shared == 0 {
		out.Class = newCount(poissonBinomial(ready), tail)
		return out, nil
	}
	drawn, err := c.draw(ctx, ready)
	if err != nil {
		return Readiness{}, err
	}
	out.Class = newCount(drawn, tail)
	return out, nil
}

func (c Crowd) level() float64 {
	if c.Level == 0 {
		return 0.8
	}
	return c.Level
}

func (c Crowd) draws() int {
	if c.Draws == 0 {
		return 20000
	}
	return c.Draws
}

func (c Crowd) validate() error {
	if !(c.Shared >= 0 && c.Shared < 1) {
		return &InputError{"Shared", fmt.Sprintf("is %g, want 0 to below 1 (a correlation)", c.Shared)}
	}
	if !(c.level() > 0 && c.level() < 1) {
		return &InputError{"Level", fmt.Sprintf("is %g, want above 0 and below 1 (a probability)", c.Level)}
	}
	if err := within("Draws", c.Draws, 0, 10_000_000, "draws"); err != nil {
		return err
	}
	for _, child := range c.Children {
		for _, rung := range c.Rungs {
			if v := c.Chance(child, rung); !(v >= 0 && v <= 1) {
				return &InputError{"Chance(" + child + ", " + rung + ")", fmt.Sprintf("is %g, want 0 to 1 (a probability)", v)}
			}
		}
	}
	return nil
}

// poissonBinomial is the distribution of how many of independent events happen: one event after the other is added (direct
// convolution; the distribution after Poisson 1837, from memory).
func poissonBinomial(chances []float64) []float64 {
	out := make([]float64, 1, len(chances)+1)
	out[0] = 1
	for _, p := range chances {
		out = append(out, 0)
		for k := len(out) - 1; k > 0; k-- {
			out[k] = out[k]*(1-p) + out[k-1]*p
		}
		out[0] *= 1 - p
	}
	return out
}

// draw counts how often each number of children is ready when the class shares a factor: a child is ready when the factor and what is its
// own, weighed by Shared, come up to the level that its chance asks for.
func (c Crowd) draw(ctx context.Context, ready []float64) ([]float64, error) {
	rng := rand.New(rand.NewPCG(c.Seed, 0))
	levels := make([]float64, len(ready))
	for i, p := range ready {
		levels[i] = -distuv.UnitNormal.Quantile(p)
	}
	together, alone := math.Sqrt(c.Shared), math.Sqrt(1-c.Shared)
	out := make([]float64, len(ready)+1)
	for k := range c.draws() {
		if k%1024 == 0 && ctx.Err() != nil {
			return nil, fmt.Errorf("pacing: the forecast was called off: %w", ctx.Err())
		}
		factor, n := together*rng.NormFloat64(), 0
		for _, level := range levels {
			if factor+alone*rng.NormFloat64() > level {
				n++
			}
		}
		out[n] += 1 / float64(c.draws())
	}
	return out, nil
}

func newCount(chances []float64, tail float64) Count {
	out := Count{Chances: chances, High: len(chances) - 1}
	for n, p := range chances {
		out.Mean += float64(n) * p
	}
	const rounding = 1e-12
	for below := chances[0]; below <= tail+rounding && out.Low < len(chances)-1; below += chances[out.Low] {
		out.Low++
	}
	for above := chances[out.High]; above <= tail+rounding && out.High > out.Low; above += chances[out.High] {
		out.High--
	}
	return out
}
