package load

import (
	"fmt"
	"time"
)

// Side is the side of the body a turn led with.
type Side string

// The sides. NoSide is for turns without one.
const (
	NoSide Side = ""
	Left   Side = "left"
	Right  Side = "right"
)

// Entry is turns of one rung or drill on one day by one child: Load is that of one turn.
type Entry struct {
	Day   time.Time
	Load  Load
	Turns int
	Side  Side
}

// Week is one child's sum over Monday to Sunday, every class together. Left and Right count turns with a side.
type Week struct {
	Monday time.Time
	Load   Load
	Turns  int
	Left   int
	Right  int
}

// Share is the part (0 to 1) of the whole load that one kind makes; 0 in an empty week.
func (w Week) Share(k Kind) float64 {
	if w.Load.Sum() == 0 {
		return 0
	}
	return float64(w.Load.Of(k)) / float64(w.Load.Sum())
}

// LeftShare is the part (0 to 1) of the sided turns that led with the left; ok is false when no turn had a side.
func (w Week) LeftShare() (share float64, ok bool) {
	if w.Left+w.Right == 0 {
		return 0, false
	}
	return float64(w.Left) / float64(w.Left+w.Right), true
}

// WeekOf sums the entries of the week that a day falls in.
func WeekOf(entries []Entry, day time.Time) Week {
	w := Week{Monday: monday(day)}
	first := dayNumber(w.Monday)
	for _, e := range entries {
		if n := dayNumber(e.Day) - first; n < 0 || n > 6 {
			continue
		}
		w.Load = w.Load.Plus(e.Load.Times(e.Turns))
		w.Turns += e.Turns
		switch e.Side {
		case Left:
			w.Left += e.Turns
		case Right:
			w.Right += e.Turns
		}
	}
	return w
}

// DayLoad sums the entries of one day.
func DayLoad(entries []Entry, day time.Time) Load {
	var sum Load
	for _, e := range entries {
		if dayNumber(e.Day) == dayNumber(day) {
			sum = sum.Plus(e.Load.Times(e.Turns))
		}
	}
	return sum
}

// Trend sets a week's load beside the mean of up to four weeks before it. Empty weeks count as zero; weeks before the
// first entry do not count. Weeks is how many counted. Ratio is This/Mean, 0 when there is no mean to divide by.
// Words describe the difference and judge nothing.
type Trend struct {
	This  int
	Mean  float64
	Weeks int
	Ratio float64
	Words string
}

// Against compares the load of the week that a day falls in with the four weeks before, all kinds together.
func Against(entries []Entry, day time.Time) Trend {
	return trend(entries, day, Load.Sum)
}

// AgainstOf is Against for one kind.
func AgainstOf(entries []Entry, day time.Time, k Kind) Trend {
	return trend(entries, day, func(l Load) int { return l.Of(k) })
}

func trend(entries []Entry, day time.Time, amount func(Load) int) Trend {
	start := monday(day)
	t := Trend{This: amount(WeekOf(entries, start).Load), Weeks: weeksBefore(entries, start)}
	sum := 0
	for i := 1; i <= t.Weeks; i++ {
		sum += amount(WeekOf(entries, start.AddDate(0, 0, -7*i)).Load)
	}
	if t.Weeks > 0 {
		t.Mean = float64(sum) / float64(t.Weeks)
	}
	if t.Mean > 0 {
		t.Ratio = float64(t.This) / t.Mean
	}
	t.Words = t.describe()
	return t
}

// describe uses a quarter up or down as "about the same" and a half more as "well above": words for reading, not limits.
func (t Trend) describe() string {
	switch {
	case t.Weeks == 0:
		return "No week before to compare with."
	case t.Mean == 0 && t.This == 0:
		return "No load this week, and none before."
	case t.Mean == 0:
		return fmt.Sprintf("Load %d; none in the %s before.", t.This, weeks(t.Weeks))
	}
	word := "well above"
	switch {
	case t.Ratio < 0.75:
		word = "below"
	case t.Ratio <= 1.25:
		word = "about the same as"
	case t.Ratio <= 1.5:
		word = "above"
	}
	return fmt.Sprintf("Load %d, %s the mean of the %s before (%.0f).", t.This, word, weeks(t.Weeks), t.Mean)
}

func weeks(n int) string {
	if n == 1 {
		return "week"
	}
	return fmt.Sprintf("%d weeks", n)
}

func weeksBefore(entries []Entry, start time.Time) int {
	most := 0
	for _, e := range entries {
		if before := dayNumber(start) - dayNumber(e.Day); before > 0 {
			most = max(most, (before+6)/7)
		}
	}
	return min(most, 4)
}

func monday(day time.Time) time.Time {
	y, m, d := day.Date()
	return time.Date(y, m, d-(int(day.Weekday())+6)%7, 0, 0, 0, 0, time.UTC)
}

// dayNumber counts calendar days, so that a difference is a number of days whatever the clock does.
func dayNumber(t time.Time) int {
	y, m, d := t.Date()
	return int(time.Date(y, m, d, 0, 0, 0, 0, time.UTC).Unix() / 86400)
}
