package load

import (
	"fmt"

	"gonum.org/v1/gonum/stat"
)

// SessionLoad is effort (0 to 10, asked about half an hour after the lesson) times minutes.
// Source: Foster et al. 2001, J Strength Cond Res 15:109-115.
func SessionLoad(effort, minutes float64) (float64, error) {
	if !(effort >= 0 && effort <= 10) {
		return 0, fmt.Errorf("load: effort is %g, want 0 to 10", effort)
	}
	if !(minutes >= 0 && minutes <= 24*60) {
		return 0, fmt.Errorf("load: session lasts %g minutes, want 0 to 1440", minutes)
	}
	return effort * minutes, nil
}

// Spread is a week of daily loads. Monotony is mean over sample standard deviation, Strain is Load times Monotony; both
// are undefined (Defined false, zero) when every day is the same or there are fewer than two days.
// Source: Foster 1998, Med Sci Sports Exerc 30:1164-1168. Thresholds differ from person to person: none is given.
type Spread struct {
	Load     float64
	Mean     float64
	SD       float64
	Monotony float64
	Strain   float64
	Defined  bool
}

// SpreadOf describes daily loads, usually seven. A day of rest is a zero and must be in the list.
func SpreadOf(daily []float64) Spread {
	var s Spread
	for _, d := range daily {
		s.Load += d
	}
	if len(daily) == 0 {
		return s
	}
	s.Mean = s.Load / float64(len(daily))
	if len(daily) < 2 {
		return s
	}
	s.SD = stat.StdDev(daily, nil)
	if s.SD > 0 {
		s.Monotony, s.Defined = monotony(s.Mean, s.SD), true
		s.Strain = strain(s.Load, s.Monotony)
	}
	return s
}

func monotony(mean, sd float64) float64 { return mean / sd }

func strain(load, monotony float64) float64 { return load * monotony }

// EWMA is the exponentially weighted mean after each day: E = L*w + (1-w)*E before, w = 2/(days+1), the first day being
// its own mean. Source: Williams et al. 2017, Br J Sports Med 51:209. Shown as a description, never as a risk.
func EWMA(daily []float64, days int) ([]float64, error) {
	if days < 1 {
		return nil, fmt.Errorf("load: mean over %d days, want at least 1", days)
	}
	w := 2 / float64(days+1)
	out := make([]float64, len(daily))
	for i, l := range daily {
		out[i] = l
		if i > 0 {
			out[i] = l*w + (1-w)*out[i-1]
		}
	}
	return out, nil
}
