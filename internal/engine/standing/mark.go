package standing

import (
	"fmt"
	"slices"
	"time"
)

// Outcome is how a turn went.
type Outcome string

// The outcomes.
const (
	Missed    Outcome = "missed"
	Supported Outcome = "supported"
	Clean     Outcome = "clean"
)

// Side is the side a turn led with.
type Side string

// The sides. NoSide is for rungs that have none.
const (
	NoSide Side = ""
	Left   Side = "left"
	Right  Side = "right"
)

// Mark is what was seen of one turn. Lesson is the lesson's id; without one, marks of the same day belong together.
// SafetyFault means that a fault was seen that can hurt. By is who marked; every marker counts alike, and a turn that two people marked
// counts once (OncePerTurn).
type Mark struct {
	RungID      string
	At          time.Time
	Lesson      string
	Outcome     Outcome
	Side        Side
	SafetyFault bool
	By          string
}

func (m Mark) validate() error {
	switch m.Outcome {
	case Missed, Supported, Clean:
	default:
		return fmt.Errorf("standing: outcome %q of a mark on rung %q, want missed, supported or clean", m.Outcome, m.RungID)
	}
	switch m.Side {
	case NoSide, Left, Right:
	default:
		return fmt.Errorf("standing: side %q of a mark on rung %q, want left, right or none", m.Side, m.RungID)
	}
	return nil
}

// good is a clean turn without a fault that can hurt.
func (m Mark) good() bool { return m.Outcome == Clean && !m.SafetyFault }

func (m Mark) sameLesson(n Mark) bool {
	if m.Lesson != "" || n.Lesson != "" {
		return m.Lesson == n.Lesson
	}
	return dayNumber(m.At) == dayNumber(n.At)
}

// deal puts the marks up to and including today on their rungs, each in time order. Marks of unknown rungs are left out.
func (g *Graph) deal(marks []Mark, today time.Time) ([][]Mark, error) {
	byRung := make([][]Mark, len(g.rungs))
	last := dayNumber(today)
	for _, m := range marks {
		if err := m.validate(); err != nil {
			return nil, err
		}
		if i, ok := g.index[m.RungID]; ok && dayNumber(m.At) <= last {
			byRung[i] = append(byRung[i], m)
		}
	}
	for i, of := range byRung {
		slices.SortStableFunc(of, func(a, b Mark) int { return a.At.Compare(b.At) })
		if slices.ContainsFunc(of, func(m Mark) bool { return m.By != of[0].By }) {
			byRung[i] = OncePerTurn(of)
		}
	}
	return byRung, nil
}

// dayNumber counts calendar days, so that a difference is a number of days whatever the clock does.
func dayNumber(t time.Time) int {
	y, m, d := t.Date()
	return int(time.Date(y, m, d, 0, 0, 0, 0, time.UTC).Unix() / 86400)
}
