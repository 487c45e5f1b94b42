package app

import (
	"slices"

	"github.com/google/uuid"
	"rungbook/internal/engine/lesson"
	"rungbook/internal/postgres"
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
		if c.StationID == "" {
			continue // a group that was never given a station; the page names the breach
		}
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

// stillHere is a plan less the children who are not in the class on the day and the people who are not on its roster.
func (e *evening) stillHere(p studio.Plan) studio.Plan {
	p.Members = slices.DeleteFunc(slices.Clone(p.Members), func(m studio.PlanMember) bool {
		return !slices.ContainsFunc(e.Children, func(c postgres.EveningChild) bool { return c.ID == m.ChildID })
	})
	p.Cells = slices.Clone(p.Cells)
	for i, c := range p.Cells {
		p.Cells[i].Staff = slices.DeleteFunc(slices.Clone(c.Staff), func(s studio.PlanStaff) bool {
			return !slices.ContainsFunc(e.Staff, func(x postgres.EveningStaff) bool { return x.ID == s.StaffID })
		})
	}
	return p
}

// asPlanned is the evening as a plan has it, so that the plan can be summed: whoever and whatever it names is there. Whether they are
// there in truth is for Check to say.
func (e *evening) asPlanned(p studio.Plan) lesson.Input {
	as := *e
	as.Children, as.Staff = nil, slices.Clone(e.Staff)
	for _, c := range e.Children {
		if p.GroupOf(c.ID) > 0 {
			c.Present = nil
			as.Children = append(as.Children, c)
		}
	}
	for i := range as.Staff {
		as.Staff[i].Present = nil
	}
	in := as.input(nil)
	in.Rotations, in.WorkSeconds = p.Rotations, p.WorkSeconds
	for _, m := range p.Members {
		in.Groups = max(in.Groups, m.GroupNo)
	}
	for _, c := range p.Cells {
		if !slices.ContainsFunc(in.Stations, func(s lesson.Station) bool { return s.ID == c.LadderKey }) {
			in.Stations = append(in.Stations, lesson.Station{ID: c.LadderKey, Name: e.ladder[c.LadderKey].Name})
		}
	}
	for _, entry := range p.Entries {
		id := activityOf(entry)
		if !slices.ContainsFunc(in.Activities, func(a lesson.Activity) bool { return a.ID == string(id) }) {
			in.Activities = append(in.Activities, e.activity(id))
		}
	}
	return in
}

// pinsFor are the pins of a plan that can hold tonight: those of somebody who is away, or of a station that has nothing for anybody
// here, wait until it changes.
func pinsFor(in lesson.Input, p studio.Plan) lesson.Pins {
	pins := pinsOf(p)
	child := func(id string) bool {
		return slices.ContainsFunc(in.Children, func(c lesson.Child) bool { return c.ID == id })
	}
	station := func(id string) bool {
		return slices.ContainsFunc(in.Stations, func(s lesson.Station) bool { return s.ID == id })
	}
	staff := func(id string) bool {
		return slices.ContainsFunc(in.Staff, func(s lesson.Staff) bool { return s.ID == id })
	}
	activity := func(id string) bool {
		return slices.ContainsFunc(in.Activities, func(a lesson.Activity) bool { return a.ID == id })
	}
	pins.Groups = slices.DeleteFunc(pins.Groups, func(x lesson.GroupPin) bool { return !child(x.ChildID) || x.Group > in.Groups })
	pins.Stations = slices.DeleteFunc(pins.Stations, func(x lesson.StationPin) bool {
		return !station(x.StationID) || x.Group > in.Groups || x.Rotation > in.Rotations
	})
	pins.Activities = slices.DeleteFunc(pins.Activities, func(x lesson.ActivityPin) bool {
		return !child(x.ChildID) || !activity(x.ActivityID) || x.Rotation > in.Rotations
	})
	pins.Duties = slices.DeleteFunc(pins.Duties, func(x lesson.DutyPin) bool {
		return !staff(x.StaffID) || !station(x.StationID) || x.Rotation > in.Rotations
	})
	return pins
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
