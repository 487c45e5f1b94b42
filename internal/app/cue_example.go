package app

import (
	"fmt"
	"slices"

	"rungbook/internal/engine/cues"
	"rungbook/internal/postgres"
	"rungbook/internal/studio"
)

// exampleSeen of exampleTurns are those of the example beside a fault's form.
const (
	exampleSeen  = 4
	exampleTurns = 6
)

// CueShare is how likely a cause is in the example of a fault, in words, and what is said for it: "" when it gets no cue.
type CueShare struct {
	Name   string
	Chance string
	Cue    string
}

// CueExample says what a fault's numbers come to: how likely each of its causes is, and what is said, when the fault is seen in 4 of
// the last 6 turns and no other fault of the rung is. The fault stands for the one of its key. ok is false when nothing follows.
func CueExample(rung studio.Rung, fault studio.Fault) (shares []CueShare, ok bool) {
	fault.Causes = keyedCauses(fault.Causes)
	rung.Faults = slices.Clone(rung.Faults)
	if at := slices.IndexFunc(rung.Faults, func(f studio.Fault) bool { return f.Key == fault.Key }); at >= 0 {
		rung.Faults[at] = fault
	} else {
		fault.Key = studio.NewKey(fault.Name, "fault", func(key string) bool { _, taken := rung.Fault(key); return taken })
		rung.Faults = append(rung.Faults, fault)
	}
	shareCauses(rung.Faults, fault)
	reading, err := cues.Read(cueInput(rung, exampleMarks(fault.Key)), cues.Defaults())
	if err != nil {
		return nil, false // causes in a circle, or too many: the form says so when it is saved
	}
	said := reading.Choose().Cues
	for _, c := range reading.Causes() {
		if !slices.ContainsFunc(fault.Causes, func(own studio.Cause) bool { return own.Key == c.Cause }) {
			continue
		}
		share := CueShare{Name: c.Name, Chance: cues.InHundred(c.Posterior)}
		if at := slices.IndexFunc(said, func(cue cues.Cue) bool { return cue.Cause == c.Cause }); at >= 0 {
			share.Cue = said[at].Words
		}
		shares = append(shares, share)
	}
	return shares, len(shares) > 0
}

// ExampleWords says what the example is of.
func ExampleWords() string {
	return fmt.Sprintf("The fault is seen in %d of the last %d turns, and no other fault of the rung is.", exampleSeen, exampleTurns)
}

// exampleMarks are turns of which some show the fault.
func exampleMarks(fault string) []postgres.SeenMark {
	marks := make([]postgres.SeenMark, exampleTurns)
	for i := range exampleSeen {
		marks[i].Faults = []string{fault}
	}
	return marks
}

// CausesOf are a rung's causes, each once, with what counts of them.
func CausesOf(rung studio.Rung) []studio.Cause { return causesOf(rung) }

// shareCauses writes what a fault says of its causes to the other faults that name them: a cause is one, wherever it stands.
func shareCauses(faults []studio.Fault, said studio.Fault) {
	for i, f := range faults {
		if f.Key == said.Key {
			continue
		}
		faults[i].Causes = slices.Clone(f.Causes)
		for j, c := range faults[i].Causes {
			if at := slices.IndexFunc(said.Causes, func(own studio.Cause) bool { return own.Key == c.Key }); at >= 0 {
				own := said.Causes[at]
				faults[i].Causes[j].Prior, faults[i].Causes[j].LeadsTo, faults[i].Causes[j].LookFor = own.Prior, own.LeadsTo, own.LookFor
			}
		}
	}
}

// takeOver fills in, for causes without a key that the rung has elsewhere by their name, what it says of them there.
func takeOver(rung studio.Rung, causes []studio.Cause) {
	for i, c := range causes {
		if c.Key != "" || c.Prior != 0 || len(c.LeadsTo) > 0 || c.LookFor != "" {
			continue
		}
		for _, known := range causesOf(rung) {
			if known.Key == studio.NewKey(c.Name, "cause", func(string) bool { return false }) {
				causes[i].Prior, causes[i].LeadsTo, causes[i].LookFor = known.Prior, known.LeadsTo, known.LookFor
			}
		}
	}
}
