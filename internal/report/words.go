package report

import (
	"fmt"
	"math"
	"strings"
	"time"
	"unicode"
	"unicode/utf8"
)

// wideInterval is the width of an interval from which a rate is called a first impression. Ours, no source: Wilson's interval
// is as wide for 10 of 12 clean, or 6 of 20.
const wideInterval = 0.4

// fewTurns is the number of turns below which all of a child's part is called a first impression. Ours, no source.
const fewTurns = 8

func day(t time.Time) string { return t.Format("2 January 2006") }

// span is two days, each part said once: "12 January to 27 March 2026".
func span(from, to time.Time) string {
	if from.Year() == to.Year() {
		return from.Format("2 January") + " to " + day(to)
	}
	return day(from) + " to " + day(to)
}

// word is the state as it is shown.
func (s State) word() string { return strings.ToUpper(string(s[:1])) + string(s[1:]) }

func (c Child) attendance() string {
	switch {
	case c.Lessons == 0 && c.Unnoted == 0:
		return "No lesson of this class was held for this child."
	case c.Lessons == 0:
		return fmt.Sprintf("Attendance was not noted for %s.", count(c.Unnoted, "lesson"))
	case c.Unnoted > 0:
		return fmt.Sprintf("Came to %d of %s; attendance was not noted for %d more.", c.Attended, count(c.Lessons, "lesson"), c.Unnoted)
	}
	return fmt.Sprintf("Came to %d of %s.", c.Attended, count(c.Lessons, "lesson"))
}

func (c Child) summary() string {
	secured := "No rung secured"
	if n := len(c.Secured); n > 0 {
		secured = count(n, "rung") + " secured"
	}
	parts := []string{secured, "none being worked on"}
	if n := len(c.Working); n > 0 {
		parts[1] = fmt.Sprintf("%d being worked on", n)
	}
	if len(c.Recheck) > 0 {
		parts = append(parts, fmt.Sprintf("%d to recheck", len(c.Recheck)))
	}
	return strings.Join(parts, ", ") + "." + c.basis()
}

// basis says how little the child's part rests on, and nothing when that is enough.
func (c Child) basis() string {
	switch n := c.Turns(); {
	case n == 0:
		return " No turn was marked in this term."
	case n < fewTurns:
		return fmt.Sprintf(" This rests on only %s marked: a first impression.", count(n, "turn"))
	}
	return ""
}

// words leave the year out: the day is one of the term.
func (s Secured) words() string {
	return fmt.Sprintf("%s: %s.", s.On.Format("2 January"), lowerFirst(strings.TrimSuffix(s.Evidence, ".")))
}

func (s Secured) brief() string { return s.On.Format("2 January") + "." }

// words says the rate with its meaning; the ends of the interval are rounded outwards, never to look surer.
func (w Working) words() string {
	if w.Marks == 0 {
		return "Not marked yet this term."
	}
	seen := fmt.Sprintf("%d of %s clean", w.Clean, count(w.Marks, "turn"))
	low, high := percentDown(w.Low), percentUp(w.High)
	if w.High-w.Low > wideInterval {
		return fmt.Sprintf("%s: a first impression; over many more, anywhere from %d%% to %d%%.", seen, low, high)
	}
	return fmt.Sprintf("%s; over many more, likely %d%% to %d%%.", seen, low, high)
}

func lowerFirst(text string) string {
	first, size := utf8.DecodeRuneInString(text)
	if size == 0 {
		return text
	}
	return string(unicode.ToLower(first)) + text[size:]
}

func (w Working) brief() string {
	if w.Marks == 0 {
		return w.words()
	}
	return fmt.Sprintf("%d of %s clean.", w.Clean, count(w.Marks, "turn"))
}

func (r Recheck) brief() string {
	if r.LastSeen.IsZero() {
		return ""
	}
	return "Last seen on " + day(r.LastSeen) + "."
}

func (r Recheck) words() string {
	why := r.Why
	if !r.LastSeen.IsZero() {
		why = strings.TrimSpace(fmt.Sprintf("Last seen on %s. %s", day(r.LastSeen), why))
	}
	return why
}

// fact stands under the name of a rung; the many that wait, unmarked, are told by their shape alone.
func (r Rung) fact() string {
	switch {
	case r.Marks == 0 && r.State == StateWaiting:
		return ""
	case r.Marks == 0:
		return r.State.word()
	}
	return fmt.Sprintf("%s, %d of %d clean", r.State.word(), r.Clean, r.Marks)
}

func count(n int, noun string) string {
	if n == 1 {
		return "1 " + noun
	}
	return fmt.Sprintf("%d %ss", n, noun)
}

// percentDown and percentUp leave a whole percentage as it is, whatever its last binary digit.
func percentDown(p float64) int { return int(math.Floor(p*100 + 1e-9)) }

func percentUp(p float64) int { return int(math.Ceil(p*100 - 1e-9)) }
