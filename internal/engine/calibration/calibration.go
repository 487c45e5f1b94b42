// Package calibration judges forecasts by what became of them: whether what was given 7 chances in 10 came true 7 times in 10.
package calibration

import (
	"errors"
	"fmt"
	"math/rand/v2"
)

// Forecast is one that is due. Chance is what was forecast, 0 to 1; True is whether it came true. Forecasts of one child are not
// independent of one another, so Child says whose it is.
type Forecast struct {
	Child  int
	Chance float64
	True   bool
}

// Settings say how forecasts are judged. Bins of equal width split 0 to 1 for the table; Edges split it more coarsely for the bands, in
// which it is asked whether forecasts hoped for too much. Rounds of resampling from Seed give the intervals; below FewChildren there
// are none, since resampling so few says little.
type Settings struct {
	Bins        int
	Edges       []float64
	Rounds      int
	Seed        uint64
	FewChildren int
}

// Defaults are tenths, three bands, 1000 rounds, and no intervals below 8 children. Ours.
func Defaults() Settings {
	return Settings{Bins: 10, Edges: []float64{0.3, 0.7}, Rounds: 1000, Seed: 1, FewChildren: 8}
}

// Validate reports the first setting that makes no sense.
func (s Settings) Validate() error {
	switch {
	case s.Bins < 1 || s.Bins > 100:
		return fmt.Errorf("calibration: %d bins, want 1 to 100", s.Bins)
	case s.Rounds < 1 || s.Rounds > 100_000:
		return fmt.Errorf("calibration: %d rounds of resampling, want 1 to 100000", s.Rounds)
	case s.FewChildren < 2:
		return fmt.Errorf("calibration: intervals from %d children, want at least 2", s.FewChildren)
	}
	last := 0.0
	for _, e := range s.Edges {
		if !(e > last && e < 1) {
			return fmt.Errorf("calibration: the edge %g of a band, want more than %g and below 1", e, last)
		}
		last = e
	}
	return nil
}

// Interval is a percentile interval over resampled children, of 95%; Known is false where there is none.
type Interval struct {
	Low, High float64
	Known     bool
}

// Above reports whether all of the interval is above zero, Below whether all of it is below.
func (i Interval) Above() bool { return i.Known && i.Low > 0 }

// Below reports whether all of the interval is below zero.
func (i Interval) Below() bool { return i.Known && i.High < 0 }

// Result is how forecasts turned out.
type Result struct {
	N, True, Children int
	Rate              float64 // the share that came true
	Mean              float64 // the mean chance
	// Brier is the mean squared distance of chance and outcome: 0 is perfect, 1 is always sure and wrong (Brier 1950). Reference is that
	// of forecasting Rate every time, and Skill is 1 - Brier/Reference: 1 is perfect, 0 no better than the reference, below 0 worse.
	// Skill is 0 where HasSkill is false, because everything or nothing came true.
	Brier, Reference, Skill float64
	HasSkill                bool
	BrierIn, SkillIn        Interval
	// Brier = Reliability - Resolution + Uncertainty (Murphy 1973) + Within, over the bins. Within is what is left since the chances of a
	// bin are not all the same: their variance less twice their covariance with the outcomes (Stephenson, Coelho and Jolliffe 2008); it
	// is 0 where they are.
	Reliability, Resolution, Uncertainty, Within float64
	// Off is the expected calibration error: by how much mean chance and share differ, on average over the forecasts, by bins.
	Off   float64
	Bins  []Bin  // those that have forecasts, lowest first
	Bands []Band // all of them, lowest first
}

// Bin is the forecasts of From to below To (the last one includes 1). Low and High are the Wilson 95% interval of Share, as if the
// forecasts were independent, which makes it too narrow.
type Bin struct {
	From, To  float64
	N, True   int
	Mean      float64 // the mean chance
	Share     float64 // that came true
	Low, High float64
}

// Band is a coarse bin. Gap is mean chance less the share that came true: above 0 hoped for too much. The intervals of the gaps hold the
// truth of all bands together with 95% (Bonferroni), so that asking more than once finds no more by luck.
type Band struct {
	From, To float64
	N, True  int
	Mean     float64
	Share    float64
	Gap      float64
	GapIn    Interval
}

// Assess judges forecasts. It fails without any, on a chance out of range and on settings that make no sense. The order of the
// forecasts does not matter beyond rounding.
func Assess(forecasts []Forecast, s Settings) (Result, error) {
	if err := s.Validate(); err != nil {
		return Result{}, err
	}
	if len(forecasts) == 0 {
		return Result{}, errors.New("calibration: no forecast to judge")
	}
	for i, f := range forecasts {
		if !(f.Chance >= 0 && f.Chance <= 1) {
			return Result{}, fmt.Errorf("calibration: forecast %d gave the chance %g, want a probability from 0 to 1", i+1, f.Chance)
		}
	}
	children := byChild(forecasts, s.Edges)
	var all sums
	for _, c := range children {
		all.add(c)
	}
	r := Result{N: all.n, True: all.true, Children: len(children), Rate: all.share(), Mean: all.mean(), Brier: all.brier()}
	r.Uncertainty = r.Rate * (1 - r.Rate)
	r.Reference = r.Uncertainty
	r.Skill, r.HasSkill = all.skill()
	r.sort(forecasts, s.Bins)
	for i := range len(s.Edges) + 1 {
		r.Bands = append(r.Bands, bandOf(all.bands[i], s.Edges, i))
	}
	if len(children) >= s.FewChildren {
		r.resample(children, s, rand.New(rand.NewPCG(s.Seed, uint64(s.Rounds))))
	}
	return r, nil
}

func bandOf(t tally, edges []float64, i int) Band {
	b := Band{From: 0, To: 1, N: t.n, True: t.true, Mean: t.mean(), Share: t.share()}
	if i > 0 {
		b.From = edges[i-1]
	}
	if i < len(edges) {
		b.To = edges[i]
	}
	b.Gap = b.Mean - b.Share
	return b
}
