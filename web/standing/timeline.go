package standing

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"rungbook/internal/app"
	"rungbook/internal/studio"
	"rungbook/web/kit"
)

// Measures of a lane of the timeline, in units of its view box.
const (
	laneWidth  = 364
	laneHeight = 38
	laneEdge   = 8
	laneBase   = 27
	laneStep   = 6
	laneStack  = 4  // marks of a day that are drawn above one another; the table has all
	laneWeeks  = 12 // weeks shown
	lanesShown = 8
)

// timeline is a child's marks of the last weeks: a lane for each of the rungs marked last.
type timeline struct {
	From, Today time.Time
	Lanes       []lane
}

// lane is one rung over the weeks. Words say what is drawn.
type lane struct {
	Rung, URL, Words string
	Points           []lanePoint
}

// lanePoint is a mark, or a fault of it beneath the line.
type lanePoint struct {
	X, Y  int
	Class string
}

// timelineOf draws marks, latest first.
func timelineOf(marks []app.MarkLine, today time.Time, url func(rung string) string) timeline {
	t := timeline{From: today.AddDate(0, 0, -7*laneWeeks), Today: today}
	byRung := map[string][]app.MarkLine{}
	var order []string
	for _, m := range marks {
		if m.SeenAt.Before(t.From) {
			continue
		}
		if byRung[m.RungKey] == nil {
			order = append(order, m.RungKey)
		}
		byRung[m.RungKey] = append(byRung[m.RungKey], m)
	}
	for _, key := range order[:min(len(order), lanesShown)] {
		seen := byRung[key]
		slices.Reverse(seen)
		t.Lanes = append(t.Lanes, lane{Rung: seen[0].Rung, URL: url(key), Words: laneWords(seen), Points: t.points(seen)})
	}
	return t
}

// x is the place of a moment between the edges.
func (t timeline) x(at time.Time) int {
	share := at.Sub(t.From).Hours() / t.Today.AddDate(0, 0, 1).Sub(t.From).Hours()
	return laneEdge + int(share*(laneWidth-2*laneEdge))
}

func (t timeline) points(marks []app.MarkLine) []lanePoint {
	var points []lanePoint
	stacked := map[int]int{}
	for _, m := range marks {
		x := t.x(m.SeenAt.Truncate(24 * time.Hour))
		if stacked[x] < laneStack {
			points = append(points, lanePoint{x, laneBase - 4 - laneStep*stacked[x], "time-" + string(m.Outcome)})
		}
		stacked[x]++
		switch {
		case m.Hurts:
			points = append(points, lanePoint{x, laneBase, "time-hurts"})
		case len(m.Faults) > 0:
			points = append(points, lanePoint{x, laneBase, "time-fault"})
		}
	}
	return points
}

// laneWords is "9 marks on 3 days: 6 clean, 2 supported, 1 missed. Faults: arms bend 3 times."
func laneWords(marks []app.MarkLine) string {
	outcomes, faults, days := map[studio.Outcome]int{}, map[string]int{}, map[string]bool{}
	for _, m := range marks {
		outcomes[m.Outcome]++
		days[m.SeenAt.Format(time.DateOnly)] = true
		for _, f := range m.Faults {
			faults[f]++
		}
	}
	text := fmt.Sprintf("%s on %s: %d clean, %d supported, %d missed.", kit.Count(len(marks), "mark", "marks"), kit.Count(len(days), "day", "days"),
		outcomes[studio.Clean], outcomes[studio.Supported], outcomes[studio.Missed])
	var seen []string
	for f, n := range faults {
		seen = append(seen, strings.ToLower(f)+" "+kit.Count(n, "time", "times"))
	}
	if len(seen) == 0 {
		return text
	}
	slices.Sort(seen)
	return text + " Faults: " + strings.Join(seen, ", ") + "."
}

// mondays are the places of every fourth Monday with its date.
func (t timeline) mondays() []lanePoint {
	var ticks []lanePoint
	for day, n := t.From, 0; !day.After(t.Today); day = day.AddDate(0, 0, 1) {
		if day.Weekday() == time.Monday {
			if n%4 == 0 {
				ticks = append(ticks, lanePoint{X: t.x(day), Class: day.Format("2 Jan")})
			}
			n++
		}
	}
	return ticks
}

func (p lanePoint) at() string {
	return "translate(" + strconv.Itoa(p.X) + " " + strconv.Itoa(p.Y) + ")"
}

// path is the shape of a mark: a disc, a ring or a cross; a tick for a fault, a wedge for one that can hurt.
func (p lanePoint) path() string {
	switch p.Class {
	case "time-clean", "time-supported":
		return "M-2.4 0a2.4 2.4 0 1 0 4.8 0a2.4 2.4 0 1 0-4.8 0z"
	case "time-missed":
		return "M-2.2-2.2l4.4 4.4m0-4.4l-4.4 4.4"
	case "time-hurts":
		return "M0 2l3.5 6.5h-7z"
	}
	return "M0 2.5v5"
}
