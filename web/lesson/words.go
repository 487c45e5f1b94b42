package lesson

import (
	"fmt"
	"math"
	"strings"
	"time"

	"rungbook/internal/app"
	"rungbook/internal/studio"
	"rungbook/web/kit"
)

const (
	clock = "15:04"
	day   = "Monday 2 January"
)

func span(from, to time.Time) string { return from.Format(clock) + " to " + to.Format(clock) }

// length says a duration to ten seconds: "1 min 40 s".
func length(d time.Duration) string {
	d = d.Round(10 * time.Second)
	minutes, seconds := int(d/time.Minute), int(d%time.Minute/time.Second)
	switch {
	case minutes == 0:
		return fmt.Sprintf("%d s", seconds)
	case seconds == 0:
		return fmt.Sprintf("%d min", minutes)
	}
	return fmt.Sprintf("%d min %d s", minutes, seconds)
}

// turnsOf says how often the children of a cell have a turn.
func turnsOf(c app.SheetCell) string {
	if len(c.Children) == 0 {
		return ""
	}
	for _, e := range c.Children {
		if e.Turns != c.Turns {
			return "at least " + kit.Count(c.Turns, "turn", "turns") + " each"
		}
	}
	return kit.Count(c.Turns, "turn", "turns") + " each"
}

// waitOf says how long a child of a cell waits at most.
func waitOf(c app.SheetCell) string {
	switch {
	case len(c.Children) == 0:
		return ""
	case c.Wait < 5*time.Second:
		return "nobody waits"
	}
	return "waits " + length(c.Wait) + " at most"
}

// waitingOf says how much of the stations a child spends waiting; work is the working time of all rotations.
func waitingOf(share float64, work time.Duration) string {
	if share <= 0 {
		return "does not wait"
	}
	return fmt.Sprintf("%s of %s (%.0f%%)", length(time.Duration(share*float64(work))), length(work), math.Round(100*share))
}

var blockNames = map[studio.BlockKind]string{
	studio.ArriveBlock:       "Arrive",
	studio.WarmUpBlock:       "Warm-up",
	studio.ConditioningBlock: "Conditioning",
	studio.StationsBlock:     "Stations",
	studio.CoolDownBlock:     "Cool-down",
}

// quality says how good a plan is; one that breaks rules is not compared.
func quality(p app.SheetPlan) string {
	if p.Broken > 0 {
		return "This plan breaks " + kit.Count(p.Broken, "rule", "rules") + ", so it is not compared with the best possible."
	}
	return p.Words
}

// proof gives the numbers behind the quality of a plan.
func proof(p app.SheetPlan) string {
	if p.Broken > 0 || p.Bound <= 0 {
		return ""
	}
	return fmt.Sprintf("It is worth %.2f, and it is proven that no plan for who is here is worth more than %.2f: a gap of %.1f%%. "+
		"A plan is worth more the more turns go to what matters most to each child now.", p.Worth, max(p.Bound, p.Worth), 100*p.Gap())
}

// notes says what counts for or against somebody at a station.
func notes(s app.SheetStaff) string {
	var words []string
	if !s.Adult {
		words = append(words, "under 18: not counted as a supervising adult")
	}
	switch {
	case s.Trainee:
		words = append(words, "trainee: does not spot")
	case !s.MaySpot:
		words = append(words, "too young to spot")
	case s.SignOffs > 0:
		words = append(words, "signed off for "+kit.Count(s.SignOffs, "rung", "rungs"))
	default:
		words = append(words, "no sign-off holds today")
	}
	if s.Expired > 0 {
		words = append(words, kit.Count(s.Expired, "sign-off has", "sign-offs have")+" expired")
	}
	text := strings.Join(words, "; ") + "."
	return strings.ToUpper(text[:1]) + text[1:]
}
