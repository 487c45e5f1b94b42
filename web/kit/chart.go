package kit

import (
	"math"
	"strings"
)

// SparkView is a small line of values over time, such as clean rates by week.
type SparkView struct {
	// Title says in words what the line shows, with first and last value.
	Title string
	// Values in order; NaN leaves a gap.
	Values []float64
	// Min and Max bound the drawing; when equal, the values bound it.
	Min, Max float64
}

// BarsView is a set of bars from one start, each with its name and its number.
type BarsView struct {
	Title string
	Bars  []Bar
	// Max is the value of a full length; 0 takes the longest bar.
	Max float64
}

// Bar is one bar. Text is the number as it is read: "12 turns".
type Bar struct {
	Label, Text string
	Value       float64
	// Warm marks a value beyond its limit; Text should say so.
	Warm bool
}

// Measures of the spark, in units of its view box.
const (
	sparkWidth  = 120
	sparkHeight = 32
	sparkEdge   = 4
)

// sparkPoint is a value with its place.
type sparkPoint struct{ X, Y float64 }

// points places the values; gaps are left out and split the line in paths.
func (s SparkView) points() [][]sparkPoint {
	low, high := s.bounds()
	var runs [][]sparkPoint
	var run []sparkPoint
	for i, v := range s.Values {
		if math.IsNaN(v) {
			runs, run = closeRun(runs, run), nil
			continue
		}
		run = append(run, sparkPoint{sparkX(i, len(s.Values)), sparkY(v, low, high)})
	}
	return closeRun(runs, run)
}

func closeRun(runs [][]sparkPoint, run []sparkPoint) [][]sparkPoint {
	if len(run) == 0 {
		return runs
	}
	return append(runs, run)
}

func (s SparkView) bounds() (low, high float64) {
	if s.Min != s.Max {
		return s.Min, s.Max
	}
	low, high = math.Inf(1), math.Inf(-1)
	for _, v := range s.Values {
		if !math.IsNaN(v) {
			low, high = math.Min(low, v), math.Max(high, v)
		}
	}
	return low, high
}

func sparkX(i, n int) float64 {
	if n < 2 {
		return sparkWidth / 2
	}
	return sparkEdge + float64(i)*(sparkWidth-2*sparkEdge)/float64(n-1)
}

func sparkY(v, low, high float64) float64 {
	if high <= low {
		return sparkHeight / 2
	}
	share := clamp01((v - low) / (high - low))
	return sparkHeight - sparkEdge - share*(sparkHeight-2*sparkEdge)
}

// path joins points by straight lines.
func path(points []sparkPoint) string {
	var b strings.Builder
	step := "M"
	for _, p := range points {
		b.WriteString(step + num(p.X) + " " + num(p.Y))
		step = "L"
	}
	return b.String()
}

// share is the length of a bar, 0 to 100.
func (b BarsView) share(bar Bar) string {
	full := b.Max
	if full <= 0 {
		for _, other := range b.Bars {
			full = math.Max(full, other.Value)
		}
	}
	if full <= 0 {
		return "0"
	}
	return num(100 * clamp01(bar.Value/full))
}
