package app

import (
	"slices"
	"testing"

	"rungbook/internal/engine/lesson"
	"rungbook/internal/studio"
)

// A teacher who roams is in no cell, and counts among the adults who are free.
func TestRoamingTeacherIsInNoCell(t *testing.T) {
	e := fiveOfAKind(t)
	e.Staff[0].Duty, e.Class.TeacherRoams = studio.TeacherDuty, true
	plan := proposed(t, e)
	for _, c := range plan.Cells {
		if slices.ContainsFunc(c.Staff, func(s studio.PlanStaff) bool { return s.StaffID == e.Staff[0].ID }) {
			t.Errorf("the teacher is at %s in rotation %d", c.LadderKey, c.Rotation)
		}
	}
	if in := e.input(nil); !in.Staff[0].Adult {
		t.Error("the teacher does not count as an adult")
	}
}

// A plan that keeps every rule and is worth more than the proposed one stays; one of somebody who has left does not.
func TestBetterPlanStays(t *testing.T) {
	e := fiveOfAKind(t)
	best := proposed(t, e)
	in := e.input(&best)
	worse := enginePlan(best)
	worse.Worth, worse.Short = best.Worth-1, 0
	kept := betterOf(in, worse, &best)
	if kept.Worth != best.Worth {
		t.Errorf("worth %v, want that of the plan that was there, %v", kept.Worth, best.Worth)
	}
	away := false
	e.Children[0].Present = &away
	proposal := lesson.Plan{Worth: 0.1}
	if got := betterOf(e.input(nil), proposal, &best); got.Worth != proposal.Worth {
		t.Error("a plan with a child who is away was kept")
	}
}

// Half of a group works at once, and stations share the equipment evenly: of 8 mats, three groups have two each, with a place on each.
func TestStationsShareTheEquipment(t *testing.T) {
	e := fiveOfAKind(t)
	e.Class.Groups = 3
	e.Equipment = []studio.Equipment{{Key: "panel-mat", Stock: 8}}
	for len(e.Children) < 12 {
		e.Children = append(e.Children, e.Children[0])
	}
	got := e.needs([]studio.EquipmentNeed{{Key: "panel-mat", Count: 1, Places: 1}})
	want := []lesson.Need{{Key: floor, Count: 1, Places: 2}, {Key: "panel-mat", Count: 2, Places: 2}}
	if !slices.Equal(got, want) {
		t.Errorf("%v, want %v", got, want)
	}
}
