package app

import (
	"fmt"
	"slices"
	"time"

	"github.com/google/uuid"
	"rungbook/internal/engine/lesson"
	"rungbook/internal/studio"
)

func (e *evening) sheetPlan(plan studio.Plan, s LessonSheet) *SheetPlan {
	view := &SheetPlan{Plan: plan, Words: goodness(plan), Asked: e.asked()}
	for _, c := range plan.Cells {
		if !slices.ContainsFunc(view.Stations, func(l studio.Ladder) bool { return l.Key == c.LadderKey }) {
			view.Stations = append(view.Stations, e.ladder[c.LadderKey])
		}
	}
	start := s.stationsStart()
	breaches := lesson.Check(e.input(&plan), enginePlan(plan))
	view.Broken = len(breaches)
	view.Held = e.held(plan)
	view.Without = e.withoutEach(plan, s, breaches)
	for r := 1; r <= plan.Rotations; r++ {
		length := time.Duration(plan.WorkSeconds)*time.Second + changeover
		row := SheetRotation{No: r, From: start.Add(time.Duration(r-1) * length)}
		row.To = row.From.Add(length)
		for _, c := range plan.Cells {
			if c.Rotation == r {
				row.Cells = append(row.Cells, e.sheetCell(plan, c, s, breaches))
			}
		}
		view.Rows = append(view.Rows, row)
	}
	for _, b := range breaches {
		if b.Rotation == 0 || b.Group == 0 || plan.Cell(b.Rotation, b.Group) == nil {
			view.Breaches = append(view.Breaches, b.Sentence)
		}
	}
	return view
}

func (s LessonSheet) stationsStart() time.Time {
	for _, b := range s.Blocks {
		if b.Kind == studio.StationsBlock {
			return b.From
		}
	}
	return s.Lesson.StartsAt
}

// goodness says in a sentence how good a plan is.
func goodness(p studio.Plan) string {
	switch {
	case p.Optimal:
		return "No better plan exists for who is here."
	case p.Bound <= 0:
		return "Nothing can be said about how good this plan is."
	}
	return fmt.Sprintf("Within %.1f%% of the best possible.", 100*p.Gap())
}

func (e *evening) sheetCell(plan studio.Plan, c studio.PlanCell, s LessonSheet, breaches []lesson.Breach) SheetCell {
	cell := SheetCell{Rotation: c.Rotation, Group: c.GroupNo, Ladder: e.ladder[c.LadderKey], Pinned: c.Pinned, Turns: -1}
	for _, duty := range c.Staff {
		i := slices.IndexFunc(s.Staff, func(x SheetStaff) bool { return x.ID == duty.StaffID })
		switch {
		case i < 0:
		case duty.Duty == studio.Leads:
			cell.Lead = &s.Staff[i]
		default:
			cell.Spotters = append(cell.Spotters, s.Staff[i])
		}
	}
	for _, child := range s.Children {
		entry := plan.Entry(c.Rotation, child.ID)
		if child.Group != c.GroupNo || entry == nil {
			continue
		}
		cell.Children = append(cell.Children, e.sheetEntry(*entry, c, child, plan.WorkSeconds, breaches))
		if cell.Turns < 0 || entry.Turns < cell.Turns {
			cell.Turns = entry.Turns
		}
		cell.Wait = max(cell.Wait, time.Duration(entry.WaitShare*float64(plan.WorkSeconds))*time.Second)
	}
	cell.Turns = max(cell.Turns, 0)
	for _, b := range breaches {
		if b.Rotation == c.Rotation && b.Group == c.GroupNo {
			cell.Breaches = append(cell.Breaches, b.Sentence)
		}
	}
	return cell
}

// say is the first correction for a child at a rung, "" when nothing was seen to correct. It cannot fail on a library that was saved:
// its causes were read when they were.
func (e *evening) say(child uuid.UUID, rung string) string {
	cues, err := e.cuesAt(e.marks, child, rung)
	if err != nil || len(cues) == 0 {
		return ""
	}
	return cues[0]
}

func (e *evening) sheetEntry(entry studio.PlanEntry, c studio.PlanCell, child SheetChild, work int, breaches []lesson.Breach) SheetEntry {
	id := activityOf(entry)
	out := SheetEntry{Child: child, Activity: string(id), Name: e.activity(id).Name, Drill: id.isDrill(), Turns: entry.Turns, Why: e.whyThis(entry, work),
		Pinned: entry.Pinned, Say: e.say(child.ID, entry.RungKey)}
	if s, ok := e.boards[child.ID].On(entry.RungKey); ok && entry.RungKey != "" {
		out.State = string(s.State)
	}
	out.Choices = append(out.Choices, SheetChoice{string(id), out.Name})
	for _, o := range e.ladderOptions(e.ladder[c.LadderKey], e.boards[child.ID]) {
		if a := activityID(o.ActivityID); a != id {
			out.Choices = append(out.Choices, SheetChoice{o.ActivityID, e.activity(a).Name})
		}
	}
	for _, b := range breaches {
		if b.ChildID == child.ID.String() && b.Rotation == c.Rotation {
			out.Breaches = append(out.Breaches, b.Sentence)
		}
	}
	return out
}
