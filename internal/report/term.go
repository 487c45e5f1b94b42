// Package report turns a term's values into files for people: the term report as PDF for parents and as CSV for the studio.
package report

import (
	"fmt"
	"math"
	"slices"
	"time"
)

// TermReport is what one class learned in one term. From, To and Prepared are days; Prepared is also the date inside of the
// file, so that the same values give the same bytes.
type TermReport struct {
	Studio, Class, Term string
	From, To, Prepared  time.Time
	Children            []Child
	Cautions            []string // at least one; UsualCautions has the usual ones
}

// Child is one child's part. The lists hold rungs of this term; Ladders are those that the child meets.
type Child struct {
	Name              string
	Attended, Lessons int // lessons that the child came to, of those held while the child was in the class and noted
	Unnoted           int // lessons held besides, for which nobody noted whether the child was there
	Secured           []Secured
	Working           []Working
	Recheck           []Recheck
	Next              []Next
	Ladders           []Ladder
	HomeDrills        []HomeDrill
	Note              string // from the teacher to the parents; lines are paragraphs
}

// Turns counts the turns of this term on the child's ladders.
func (c Child) Turns() int {
	n := 0
	for _, l := range c.Ladders {
		for _, r := range l.Rungs {
			n += r.Marks
		}
	}
	return n
}

// Secured is a rung that the studio's rule found secure, and what that rests on: "4 of the last 5 clean, in 2 lessons".
type Secured struct {
	Ladder, Rung string
	On           time.Time
	Evidence     string
}

// Working is a rung in work: Clean of Marks turns, and the 95% interval (0-1) of the rate.
type Working struct {
	Ladder, Rung string
	Clean, Marks int
	Low, High    float64
}

// Recheck is a rung that was secure and has to be seen again; LastSeen is zero when unknown.
type Recheck struct {
	Ladder, Rung string
	LastSeen     time.Time
	Why          string
}

// Next is a rung that comes next, with the reason.
type Next struct {
	Ladder, Rung, Why string
}

// HomeDrill is a drill that the teacher has given for home. Figure is names of poses.
type HomeDrill struct {
	Name, Dose, Caution string
	Figure              []string
}

// Ladder is drawn from its first rung at the bottom to its last on top.
type Ladder struct {
	Name  string
	Rungs []Rung
}

// Rung is where the child stands on one rung: Clean of Marks turns in this term.
type Rung struct {
	Name         string
	State        State
	Clean, Marks int
}

// State is where a child stands on a rung.
type State string

// The states.
const (
	StateWaiting State = "waiting" // something else comes first
	StateOpen    State = "open"    // may start
	StateWorking State = "working" // started, not secure
	StateSecure  State = "secure"
	StateRecheck State = "recheck" // secure once, to be seen again
)

// States lists the states in the order of a key.
func States() []State {
	return []State{StateWaiting, StateOpen, StateWorking, StateSecure, StateRecheck}
}

// UsualCautions are the cautions of a term report. Local rules and licensed practice come first, as they say.
func UsualCautions() []string {
	return []string{
		"This report says what was seen in class. It is no leave to try a rung at home: at home only the drills named here, " +
			"in a clear space on a floor that does not slip, and stop if it hurts.",
		"At home nothing upside down, no back-bend over the head, no flight and no partner lift, unless the teacher has ticked " +
			"it for this child and an adult is in the room.",
		"Pain in the back or a leg, numbness, weakness or odd walking during a back-bend or in the hours after it: stop, lie " +
			"still and call the emergency services, even if it eases.",
		"The teacher who is present decides. The studio's insurer, governing body, local law, and doctors and physiotherapists " +
			"come first.",
	}
}

// check refuses values that would print something untrue or leave out what has to be said.
func (r TermReport) check() error {
	if len(r.Cautions) == 0 {
		return fmt.Errorf("term report of %s: no cautions", r.Class)
	}
	if r.From.IsZero() || r.Prepared.IsZero() || r.To.Before(r.From) {
		return fmt.Errorf("term report of %s: days from %v to %v, prepared %v", r.Class, r.From, r.To, r.Prepared)
	}
	for i, c := range r.Children {
		if err := c.check(); err != nil {
			return fmt.Errorf("term report of %s, child %d: %w", r.Class, i+1, err)
		}
	}
	return nil
}

func (c Child) check() error {
	if c.Attended < 0 || c.Attended > c.Lessons || c.Unnoted < 0 {
		return fmt.Errorf("came to %d of %d lessons, %d not noted", c.Attended, c.Lessons, c.Unnoted)
	}
	for _, s := range c.Secured {
		if s.Evidence == "" || s.On.IsZero() {
			return fmt.Errorf("%s is secure without a day or evidence", s.Rung)
		}
	}
	for _, w := range c.Working {
		if err := w.check(); err != nil {
			return err
		}
	}
	for _, l := range c.Ladders {
		for _, r := range l.Rungs {
			if r.Clean < 0 || r.Clean > r.Marks || !slices.Contains(States(), r.State) {
				return fmt.Errorf("%s is %q with %d of %d clean", r.Name, r.State, r.Clean, r.Marks)
			}
		}
	}
	return nil
}

func (w Working) check() error {
	if w.Clean < 0 || w.Clean > w.Marks {
		return fmt.Errorf("%s has %d of %d clean", w.Rung, w.Clean, w.Marks)
	}
	if w.Marks == 0 {
		return nil
	}
	const rounding = 1e-9
	rate := float64(w.Clean) / float64(w.Marks)
	if math.IsNaN(w.Low+w.High) || w.Low < 0 || w.High > 1 || w.Low > rate+rounding || w.High < rate-rounding {
		return fmt.Errorf("%s has %d of %d clean, between %g and %g", w.Rung, w.Clean, w.Marks, w.Low, w.High)
	}
	return nil
}
