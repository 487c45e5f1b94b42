package app

import (
	"github.com/google/uuid"
	"rungbook/internal/engine/lesson"
	"rungbook/internal/studio"
)

// planOf puts the planner's plan into the studio's words. Pins that were there stay.
func (e *evening) planOf(p lesson.Plan, was *studio.Plan) studio.Plan {
	plan := studio.Plan{LessonID: e.Lesson.ID, Rotations: e.Class.Rotations, WorkSeconds: e.workSeconds(), Worth: p.Worth}
	if was != nil {
		plan.Version, plan.SharedAt = was.Version, was.SharedAt
	}
	for i, group := range p.Groups {
		for _, id := range group {
			child := uuid.MustParse(id)
			plan.Members = append(plan.Members, studio.PlanMember{ChildID: child, GroupNo: i + 1, Pinned: was != nil && was.PinnedMember(child)})
		}
	}
	for _, c := range p.Cells {
		cell := studio.PlanCell{Rotation: c.Rotation, GroupNo: c.Group, LadderKey: c.StationID}
		cell.Pinned = was != nil && was.PinnedCell(c.Rotation, c.Group)
		if c.Lead != "" {
			cell.Staff = append(cell.Staff, studio.PlanStaff{StaffID: uuid.MustParse(c.Lead), Duty: studio.Leads})
		}
		for _, s := range c.Spotters {
			cell.Staff = append(cell.Staff, studio.PlanStaff{StaffID: uuid.MustParse(s), Duty: studio.Spots})
		}
		plan.Cells = append(plan.Cells, cell)
		for _, entry := range c.Entries {
			plan.Entries = append(plan.Entries, planEntry(c.Rotation, entry, was))
		}
	}
	return plan
}

func planEntry(rotation int, entry lesson.Entry, was *studio.Plan) studio.PlanEntry {
	child := uuid.MustParse(entry.ChildID)
	e := studio.PlanEntry{Rotation: rotation, ChildID: child, Turns: entry.Turns, WaitShare: entry.WaitShare, Why: entry.Why}
	if id := activityID(entry.ActivityID); id.isDrill() {
		e.DrillKey = id.key()
	} else {
		e.RungKey = id.key()
	}
	if was != nil {
		old := was.Entry(rotation, child)
		e.Pinned = old != nil && old.Pinned && old.Activity() == e.Activity()
	}
	return e
}

// enginePlan puts a stored plan into the planner's words, less the sums, which Evaluate does.
func enginePlan(p studio.Plan) lesson.Plan {
	var plan lesson.Plan
	for _, m := range p.Members {
		for len(plan.Groups) < m.GroupNo {
			plan.Groups = append(plan.Groups, nil)
		}
		plan.Groups[m.GroupNo-1] = append(plan.Groups[m.GroupNo-1], m.ChildID.String())
	}
	for _, c := range p.Cells {
		cell := lesson.Cell{Rotation: c.Rotation, Group: c.GroupNo, StationID: c.LadderKey}
		for _, s := range c.Staff {
			if s.Duty == studio.Leads {
				cell.Lead = s.StaffID.String()
			} else {
				cell.Spotters = append(cell.Spotters, s.StaffID.String())
			}
		}
		for _, e := range p.Entries {
			if e.Rotation == c.Rotation && p.GroupOf(e.ChildID) == c.GroupNo {
				cell.Entries = append(cell.Entries, lesson.Entry{ChildID: e.ChildID.String(), ActivityID: string(activityOf(e)), Turns: e.Turns,
					WaitShare: e.WaitShare, Why: e.Why})
			}
		}
		plan.Cells = append(plan.Cells, cell)
	}
	return plan
}

func activityOf(e studio.PlanEntry) activityID {
	if e.DrillKey != "" {
		return drillActivity(e.DrillKey)
	}
	return rungActivity(e.RungKey)
}

// pinsOf are the parts of a stored plan that must stay. The people of a pinned cell stay with it.
func pinsOf(p studio.Plan) lesson.Pins {
	var pins lesson.Pins
	for _, m := range p.Members {
		if m.Pinned {
			pins.Groups = append(pins.Groups, lesson.GroupPin{ChildID: m.ChildID.String(), Group: m.GroupNo})
		}
	}
	for _, c := range p.Cells {
		if !c.Pinned {
			continue
		}
		pins.Stations = append(pins.Stations, lesson.StationPin{Rotation: c.Rotation, Group: c.GroupNo, StationID: c.LadderKey})
		for _, s := range c.Staff {
			pins.Duties = append(pins.Duties, lesson.DutyPin{Rotation: c.Rotation, StaffID: s.StaffID.String(), StationID: c.LadderKey, Duty: lesson.Duty(s.Duty)})
		}
	}
	for _, e := range p.Entries {
		if e.Pinned {
			pins.Activities = append(pins.Activities, lesson.ActivityPin{Rotation: e.Rotation, ChildID: e.ChildID.String(), ActivityID: string(activityOf(e))})
		}
	}
	return pins
}
