package app

import (
	"cmp"
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

// How likely what a cause has a teacher look for is seen when the cause is there, and when it is not. Guesses without a source: such
// a look is right more often than not, and never proves anything.
const (
	lookShows   = 0.8
	lookDeludes = 0.15
)

// Correction is what to say to one child at one rung, why, and the drills that answer the cause.
type Correction struct {
	Cue, Why string
	Drills   []DrillName
	Try      *CueTry // beside the first correction: what to find out first, nil when nothing tells two causes apart
}

// DrillName is a drill in a list. Home says that the library holds it fit for home.
type DrillName struct {
	Key, Name string
	Home      bool
}

// CueTry is a look that tells two likely causes apart, and what each answer means, in words.
type CueTry struct {
	Look    string
	Why     string
	Yes, No string
}

// corrections are the cues that a child's recent marks at a rung ask for, no more than the studio's setting; none when no fault was
// seen. marks are those of the child at the rung, oldest first.
func (l *ladders) corrections(rung string, marks []postgres.SeenMark) ([]Correction, error) {
	reading, err := l.reading(l.rungs[rung], marks)
	if reading == nil || err != nil {
		return nil, err
	}
	choice := reading.Choose()
	var all []Correction
	for _, c := range choice.Cues {
		correction := Correction{Cue: c.Words, Why: c.Reason}
		for _, d := range choice.Drills {
			if slices.Contains(d.Causes, c.Cause) {
				drill := l.drills[d.ID]
				correction.Drills = append(correction.Drills, DrillName{d.ID, drill.Name, drill.Home.Safe})
			}
		}
		all = append(all, correction)
	}
	if len(all) > 0 {
		all[0].Try, err = lookFirst(reading, l.rungs[rung])
	}
	return all, err
}

// cuesAt are the cues alone, in order, for a child at a rung; none at a drill.
func (l *ladders) cuesAt(marks []postgres.SeenMark, child uuid.UUID, rung string) ([]string, error) {
	corrections, err := l.corrections(rung, at(marks, child, rung))
	var words []string
	for _, c := range corrections {
		words = append(words, c.Cue)
	}
	return words, err
}

// reading is nil when no fault was seen lately, and when a studio gave a rung more causes than can be told apart.
func (l *ladders) reading(r studio.Rung, marks []postgres.SeenMark) (*cues.Reading, error) {
	if len(marks) > recentTurns {
		marks = marks[len(marks)-recentTurns:]
	}
	in := cueInput(r, marks)
	if !slices.ContainsFunc(in.Faults, func(f cues.Fault) bool { return f.Seen > 0 }) {
		return nil, nil
	}
	settings := cues.Defaults()
	settings.Most = l.settings.Cues
	reading, err := cues.Read(in, settings)
	var tooMany *cues.InputError
	if errors.As(err, &tooMany) {
		return nil, nil
	}
	if err != nil {
		return nil, fmt.Errorf("work out what to correct at %s: %w", r.Key, err)
	}
	return reading, nil
}

// lookFirst is the look that tells most about which of two causes it is: the one with the largest expected drop in entropy.
func lookFirst(reading *cues.Reading, r studio.Rung) (*CueTry, error) {
	check, ok, err := reading.Check(looks(r))
	if err != nil {
		return nil, fmt.Errorf("work out what to look for at %s: %w", r.Key, err)
	}
	if !ok {
		return nil, nil
	}
	for1, for2 := check.First, check.Second
	if for2.Seen > for1.Seen {
		for1, for2 = for2, for1
	}
	return &CueTry{
		Look: check.Name,
		Why:  fmt.Sprintf("It may be “%s” (%s) or “%s” (%s).", for1.Name, cues.InHundred(for1.Now), for2.Name, cues.InHundred(for2.Now)),
		Yes:  answerWords("If so", for1, for1.Seen, for2, for2.Seen),
		No:   answerWords("If not", for1, for1.NotSeen, for2, for2.NotSeen),
	}, nil
}

func answerWords(answer string, one cues.Rival, p float64, other cues.Rival, q float64) string {
	if q > p {
		one, p, other, q = other, q, one, p
	}
	return fmt.Sprintf("%s: rather “%s” (%s) than “%s” (%s).", answer, one.Name, cues.InHundred(p), other.Name, cues.InHundred(q))
}

// looks are what the causes of a rung have a teacher look for.
func looks(r studio.Rung) []cues.Observation {
	var all []cues.Observation
	for _, c := range causesOf(r) {
		if c.LookFor != "" {
			all = append(all, cues.Observation{ID: "look " + c.Key, Name: c.LookFor, Otherwise: lookDeludes, Chances: []cues.Chance{{Cause: c.Key, Chance: lookShows}}})
		}
	}
	return all
}

// cueInput puts a rung's faults and their causes, and how often each fault was seen, into the engine's words.
func cueInput(r studio.Rung, marks []postgres.SeenMark) cues.Input {
	var in cues.Input
	for _, f := range r.Faults {
		fault := cues.Fault{ID: f.Key, Name: f.Name, Safety: f.Safety, Turns: len(marks)}
		for _, m := range marks {
			if slices.Contains(m.Faults, f.Key) {
				fault.Seen++
			}
		}
		in.Faults = append(in.Faults, fault)
		for _, c := range f.Causes {
			in.Links = append(in.Links, cues.Link{Fault: f.Key, Cause: c.Key, Strength: c.Strength, Name: c.Name, Cue: c.Cue, Drills: c.Drills})
		}
	}
	for _, c := range causesOf(r) {
		in.Causes = append(in.Causes, cues.Cause{ID: c.Key, Prior: c.Prior, Before: c.LeadsTo})
	}
	return in
}

// causesOf are a rung's causes, each once, in the order in which its faults name them: of what is said of a cause at several faults the
// first counts.
func causesOf(r studio.Rung) []studio.Cause {
	var all []studio.Cause
	for _, f := range r.Faults {
		for _, c := range f.Causes {
			i := slices.IndexFunc(all, func(k studio.Cause) bool { return k.Key == c.Key })
			if i < 0 {
				all = append(all, c)
				continue
			}
			all[i].Prior, all[i].LookFor = cmp.Or(all[i].Prior, c.Prior), cmp.Or(all[i].LookFor, c.LookFor)
			if len(all[i].LeadsTo) == 0 {
				all[i].LeadsTo = c.LeadsTo
			}
		}
	}
	return all
}

// causeCircle refuses causes that lead to each other in a circle.
func causeCircle(r studio.Rung) []studio.FieldError {
	all := causesOf(r)
	in := cues.Input{}
	for _, c := range all {
		in.Causes = append(in.Causes, cues.Cause{ID: c.Key, Before: c.LeadsTo})
	}
	var circle *cues.InputError
	if _, err := cues.Read(in, cues.Defaults()); errors.As(err, &circle) {
		return []studio.FieldError{{Field: r.Key + ".faults", Problem: "the causes lead to each other in a circle: " + circle.Problem}}
	}
	return nil
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
