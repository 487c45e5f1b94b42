package load

import (
	"fmt"
	"time"
)

// Entry is turns of one rung or drill on one day by one child: Load is that of one turn. Sides says how the turns of a rung with two
// sides were led. Ahead is for turns that are planned and still to come.
type Entry struct {
	Day   time.Time
	Load  Load
	Turns int
	Sides Balance
	Ahead bool
}

// Week is one child's sum over Monday to Sunday, every class together. Ahead is the part of Load that is still to come.
type Week struct {
	Monday time.Time
	Load   Load
	Ahead  Load
	Turns  int
	Sides  Balance
}

// Share is the part (0 to 1) of the whole load that one kind makes; 0 in an empty week.
func (w Week) Share(k Kind) float64 {
	if w.Load.Sum() == 0 {
		return 0
	}
	return float64(w.Load.Of(k)) / float64(w.Load.Sum())
}

// WeekOf sums the entries of the week that a day falls in.
func WeekOf(entries []Entry, day time.Time) Week {
	w := Week{Monday: monday(day)}
	first := dayNumber(w.Monday)
	for _, e := range entries {
		if n := dayNumber(e.Day) - first; n < 0 || n > 6 {
			continue
		}
		sum := e.Load.Times(e.Turns)
		w.Load = w.Load.Plus(sum)
		if e.Ahead {
			w.Ahead = w.Ahead.Plus(sum)
		}
		w.Turns += e.Turns
		w.Sides = Balance{w.Sides.Left + e.Sides.Left, w.Sides.Right + e.Sides.Right}
	}
	return w
}

// WeeksTo are so many weeks, oldest first; the last is that of the day.
func WeeksTo(entries []Entry, day time.Time, n int) []Week {
	weeks := make([]Week, n)
	for i := range weeks {
		weeks[i] = WeekOf(entries, day.AddDate(0, 0, -7*(n-1-i)))
	}
	return weeks
}

// Trend sets a week's load beside the mean of up to four weeks before it. Empty weeks count as zero; weeks before the
// first entry do not count. Weeks is how many counted. Ratio is This/Mean where Defined: when there is a mean above zero to divide by.
// Words describe the difference and judge nothing.
type Trend struct {
	This  int
	Mean  float64
	Weeks int
	Ratio float64
	Words string

	Defined bool
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
		t.Ratio, t.Defined = float64(t.This)/t.Mean, true
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
