package app

import (
	"slices"
	"testing"

	"rungbook/internal/studio"
)

// Two plans with the groups numbered the other way round differ only by the one child who went over and the one station that changed.
func TestChangesLookThroughGroupNumbers(t *testing.T) {
	e := fiveOfAKind(t)
	plan := func(worth float64, first string, groups ...int) studio.Plan {
		p := studio.Plan{Rotations: 1, Worth: worth, Cells: []studio.PlanCell{{Rotation: 1, GroupNo: 1, LadderKey: first}, {Rotation: 1, GroupNo: 2, LadderKey: "high"}}}
		for i, g := range groups {
			p.Members = append(p.Members, studio.PlanMember{ChildID: numbered(i), GroupNo: g})
		}
		return p
	}
	got := e.changes(plan(2, "low", 1, 1, 1, 2, 2), plan(2.5, "low", 2, 2, 1, 1, 1))
	want := []string{"Child 2 changed into group 1.", "Group 2 in rotation 1: High in place of Low.", "Group 1 in rotation 1: Low in place of High.", "The plan is worth 2.50, 0.50 more than before."}
	if !slices.Equal(got, want) {
		t.Errorf("changes are %q, want %q", got, want)
	}
	if got := e.changes(plan(2, "low", 1, 1, 2), plan(2, "low", 1, 1, 2)); !slices.Equal(got, []string{"The plan is worth the same, 2.00."}) {
		t.Errorf("no changes are %q", got)
	}
}
