package app

import (
	"slices"
	"strings"
	"testing"

	"rungbook/internal/postgres"
	"rungbook/internal/studio"
)

// seenTurns are marks at one rung, each with the faults named.
func seenTurns(faults ...[]string) []postgres.SeenMark {
	var marks []postgres.SeenMark
	for _, f := range faults {
		marks = append(marks, postgres.SeenMark{Mark: studio.Mark{RungKey: "hs-return", Outcome: studio.Supported, Faults: f}})
	}
	return marks
}

// At most two corrections at a time: common practice, no source. The safety fault's likelier cause comes first: with the starter
// library's strengths 0.6 and 0.4 and equal priors, noisy-OR puts "shoulders not lifted" above "arms not ready".
func TestCorrectionsAreFewAndSafetyFirst(t *testing.T) {
	l, err := newLadders(starter(t))
	if err != nil {
		t.Fatal(err)
	}
	bend, drop, stumble := []string{"arms-bend"}, []string{"arms-drop"}, []string{"return-stumbles"}
	got, err := l.corrections("hs-return", seenTurns(bend, drop, bend, stumble, nil, bend))
	if err != nil {
		t.Fatal(err)
	}
	if len(got) == 0 || len(got) > mostCues {
		t.Fatalf("%d corrections: %v", len(got), got)
	}
	if got[0].Cue != "Push the floor away" {
		t.Errorf("first comes %q", got[0].Cue)
	}
	if !strings.Contains(got[0].Why, "3 of the last 6") {
		t.Errorf("the reason has no numbers: %q", got[0].Why)
	}
	if !slices.Contains(got[0].Drills, DrillName{"d-hand-wall-push", l.drills["d-hand-wall-push"].Name, l.drills["d-hand-wall-push"].Home.Safe}) {
		t.Errorf("its drills: %v", got[0].Drills)
	}
}

func TestNoFaultNoCorrection(t *testing.T) {
	l, err := newLadders(starter(t))
	if err != nil {
		t.Fatal(err)
	}
	if got, err := l.corrections("hs-return", seenTurns(nil, nil)); err != nil || got != nil {
		t.Errorf("%v, %v", got, err)
	}
	if got, err := l.corrections("", seenTurns([]string{"arms-bend"})); err != nil || got != nil {
		t.Errorf("a drill has %v, %v", got, err)
	}
}

// Every rung of the starter library can be read with all of its faults seen at once.
func TestEveryStarterRungCanBeCorrected(t *testing.T) {
	l, err := newLadders(starter(t))
	if err != nil {
		t.Fatal(err)
	}
	for key, r := range l.rungs {
		var faults []string
		for _, f := range r.Faults {
			faults = append(faults, f.Key)
		}
		got, err := l.corrections(key, seenTurns(faults, faults))
		if err != nil || len(got) == 0 || len(got) > mostCues {
			t.Errorf("%s: %v, %v", key, got, err)
		}
	}
}
