package app

import (
	"errors"
	"strings"
	"testing"

	"rungbook/internal/engine/lesson"
	"rungbook/internal/studio"
)

// Where spotters are short, the way out names the rung that one more sign-off opens to the most children (counted by hand: "Over" is an
// option of two, "Back" of one; "Down" has its spotter).
func TestWayOutNamesTheSignOff(t *testing.T) {
	option := func(id string) lesson.Option { return lesson.Option{ActivityID: id, StationID: "s", Priority: 1} }
	in := lesson.Input{
		Activities: []lesson.Activity{{ID: "a", Name: "Over", SpottersNeeded: 1}, {ID: "b", Name: "Back", SpottersNeeded: 2}, {ID: "c", Name: "Down", SpottersNeeded: 1}},
		Children:   []lesson.Child{{ID: "1", Options: []lesson.Option{option("a"), option("c")}}, {ID: "2", Options: []lesson.Option{option("a"), option("b"), option("c")}}, {ID: "3", Options: []lesson.Option{option("c")}}},
		Staff:      []lesson.Staff{{ID: "x", MaySpot: true, SignedOff: []string{"b", "c"}}, {ID: "trainee", SignedOff: []string{"a"}}},
	}
	wanted := signOffWanted(in)
	if wanted != `One more person signed off for "Over" would open it to 2 children.` {
		t.Errorf("the way out is %q", wanted)
	}
	var refused *studio.Error
	err := planRefusal(&lesson.Infeasible{Conflicts: []lesson.Conflict{{Rule: lesson.RuleSpotting, Words: "Too few.", WaysOut: []string{"Ask somebody."}}}}, wanted)
	if !errors.As(err, &refused) || !strings.HasPrefix(refused.Fields[0].Problem, wanted) {
		t.Errorf("the refusal says %v", err)
	}
	in.Staff[0].SignedOff = append(in.Staff[0].SignedOff, "a")
	in.Activities[1].SpottersNeeded = 1
	if wanted := signOffWanted(in); wanted != "" {
		t.Errorf("nobody is missing, and yet %q", wanted)
	}
}
