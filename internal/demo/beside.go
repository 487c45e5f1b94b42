package demo

import (
	"slices"
	"time"

	"rungbook/internal/studio"
)

// How those who mark beside a teacher differ, invented: one helper sees more as clean than the teachers do.
const (
	besideEvery = 3 // lessons
	slip        = 0.08
	generous    = 0.55
)

// markersAt are who marks at a station: one of those who can, and in every third lesson the teacher beside a helper.
func (m meeting) markersAt(station int) []string {
	by := m.markers[(station+m.round)%len(m.markers)]
	if teacher := m.markers[0]; by != teacher && m.round%besideEvery == besideEvery-1 {
		return []string{by, teacher}
	}
	return []string{by}
}

// seenBeside is a turn as the teacher saw it who stood beside the helper that marked it.
func (st *story) seenBeside(t seenTurn, by string) seenTurn {
	second := t
	second.by, second.at = by, t.at.Add(time.Duration(2+st.beside.IntN(9))*time.Second)
	second.id = st.newIDFrom(st.beside, second.at)
	chance := slip
	if t.by == lucjaEmail {
		chance = generous
	}
	if t.outcome != studio.Missed && st.beside.Float64() < chance {
		second.outcome = lower(t.outcome)
	}
	return second
}

// lower is the outcome one below.
func lower(o studio.Outcome) studio.Outcome {
	order := []studio.Outcome{studio.Missed, studio.Supported, studio.Clean}
	return order[max(0, slices.Index(order, o)-1)]
}
