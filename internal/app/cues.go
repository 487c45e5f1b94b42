package app

import (
	"errors"
	"fmt"
	"slices"

	"github.com/google/uuid"
	"rungbook/internal/engine/cues"
	"rungbook/internal/postgres"
	"rungbook/internal/studio"
)

// recentTurns is how many of the last marks of a rung corrections are drawn from.
const recentTurns = 12

// Correction is what to say to one child at one rung, why, and the drills that answer the cause.
type Correction struct {
	Cue, Why string
	Drills   []DrillName
}

// DrillName is a drill in a list.
type DrillName struct{ Key, Name string }

// corrections are the cues, two at most, that a child's recent marks at a rung ask for; none when no fault was seen.
func (l *ladders) corrections(rung string, marks []postgres.SeenMark) ([]Correction, error) {
	if len(marks) > recentTurns {
		marks = marks[len(marks)-recentTurns:]
	}
	in := cueInput(l.rungs[rung], marks)
	if !slices.ContainsFunc(in.Faults, func(f cues.Fault) bool { return f.Seen > 0 }) {
		return nil, nil
	}
	reading, err := cues.Read(in, cues.Defaults())
	var tooMany *cues.InputError
	if errors.As(err, &tooMany) {
		return nil, nil // a studio may give a rung more causes than can be told apart; the page goes without
	}
	if err != nil {
		return nil, fmt.Errorf("work out what to correct at %s: %w", rung, err)
	}
	choice := reading.Choose()
	var all []Correction
	for _, c := range choice.Cues {
		correction := Correction{Cue: c.Words, Why: c.Reason}
		for _, d := range choice.Drills {
			if slices.Contains(d.Causes, c.Cause) {
				correction.Drills = append(correction.Drills, DrillName{d.ID, l.drills[d.ID].Name})
			}
		}
		all = append(all, correction)
	}
	return all, nil
}

// cueInput puts a rung's faults and their causes, and how often each fault was seen, into the engine's words.
func cueInput(r studio.Rung, marks []postgres.SeenMark) cues.Input {
	var in cues.Input
	known := map[string]bool{}
	for _, f := range r.Faults {
		fault := cues.Fault{ID: f.Key, Name: f.Name, Safety: f.Safety, Turns: len(marks)}
		for _, m := range marks {
			if slices.Contains(m.Faults, f.Key) {
				fault.Seen++
			}
		}
		in.Faults = append(in.Faults, fault)
		for _, c := range f.Causes {
			if !known[c.Key] {
				known[c.Key] = true
				in.Causes = append(in.Causes, cues.Cause{ID: c.Key})
			}
			in.Links = append(in.Links, cues.Link{Fault: f.Key, Cause: c.Key, Strength: c.Strength, Name: c.Name, Cue: c.Cue, Drills: c.Drills})
		}
	}
	return in
}

// at are the marks of a child at a rung, oldest first.
func at(marks []postgres.SeenMark, child uuid.UUID, rung string) []postgres.SeenMark {
	var here []postgres.SeenMark
	for _, m := range marks {
		if m.ChildID == child && m.RungKey == rung {
			here = append(here, m)
		}
	}
	return here
}
