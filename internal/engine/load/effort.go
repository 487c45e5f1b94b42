package load

import (
	"fmt"
	"time"

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

// Session is one lesson that a child was at. Effort is 0 to 10; Known is false where nobody noted it.
type Session struct {
	Day     time.Time
	Minutes int
	Effort  int
	Known   bool
}

// EffortWeek is a child's session loads over Monday to Sunday, every class together. Missing counts the sessions without an effort: while
// there are any, Spread holds the load of the others and is not Defined, since a day that is not known is not a day of rest.
type EffortWeek struct {
	Monday   time.Time
	Sessions int
	Missing  int
	Spread
}

// EffortWeekOf describes the sessions of the week that a day falls in. Days without a session are days of rest.
func EffortWeekOf(sessions []Session, day time.Time) (EffortWeek, error) {
	w := EffortWeek{Monday: monday(day)}
	daily := make([]float64, 7)
	for _, s := range sessions {
		n := dayNumber(s.Day) - dayNumber(w.Monday)
		if n < 0 || n > 6 {
			continue
		}
		w.Sessions++
		if !s.Known {
			w.Missing++
			continue
		}
		sum, err := SessionLoad(float64(s.Effort), float64(s.Minutes))
		if err != nil {
			return w, err
		}
		daily[n] += sum
	}
	w.Spread = SpreadOf(daily)
	if w.Missing > 0 {
		w.Spread = Spread{Load: w.Load}
	}
	return w, nil
}
