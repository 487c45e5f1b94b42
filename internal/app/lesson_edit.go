package app

import (
	"bytes"
	"context"
	"slices"

	"github.com/google/uuid"
	"rungbook/internal/engine/lesson"
	"rungbook/internal/postgres"
	"rungbook/internal/studio"
)

// editPlan changes a plan by hand in one transaction: read, change, sum again, save. A change may break a rule; the page names it.
// What is changed by hand takes the plan back from the assistants until it is shared again, unless change shares it.
func (a *App) editPlan(ctx context.Context, actor studio.Actor, id uuid.UUID, version int, change func(*postgres.Tx, *evening, *studio.Plan) error) error {
	return a.db.InTx(ctx, actor, func(t *postgres.Tx) error {
		if err := a.may(ctx, t, studio.PlanLesson, Target{Lesson: id}); err != nil {
			return err
		}
		e, plan, err := readEvening(ctx, t, id)
		if err != nil {
			return err
		}
		if plan == nil {
			return studio.Missing()
		}
		if plan.Version != version {
			return overtaken()
		}
		was := *plan
		plan.SharedAt = nil
		if err := change(t, e, plan); err != nil {
			return err
		}
		next, err := e.summed(*plan)
		if err != nil {
			return err
		}
		next.Bound, next.Optimal = was.Bound, false
		if next.Worth == was.Worth {
			next.Optimal = was.Optimal
		}
		_, err = t.SavePlan(ctx, next)
		return err
	})
}

// summed works out turns, waiting and worth of a plan that people have changed.
func (e *evening) summed(p studio.Plan) (studio.Plan, error) {
	p = e.stillHere(p)
	if len(p.Members) == 0 {
		p.Entries = nil
		return p, nil
	}
	sums, err := lesson.Evaluate(e.asPlanned(p), enginePlan(p))
	if err != nil {
		return p, planRefusal(err, "")
	}
	next := e.planOf(sums, &p)
	next.Rotations, next.WorkSeconds = p.Rotations, p.WorkSeconds
	return next, nil
}

// MoveChild puts a child who is here into a group, 0 for none; in each rotation it gets what matters most to it at its new station.
func (a *App) MoveChild(ctx context.Context, actor studio.Actor, id uuid.UUID, version int, child uuid.UUID, group int) error {
	return a.editPlan(ctx, actor, id, version, func(_ *postgres.Tx, e *evening, p *studio.Plan) error {
		known := func(c postgres.EveningChild) bool { return c.ID == child }
		if group < 0 || group > e.Class.Groups || !slices.ContainsFunc(e.Children, known) {
			return studio.Missing()
		}
		p.Members = slices.DeleteFunc(p.Members, func(m studio.PlanMember) bool { return m.ChildID == child })
		if group == 0 {
			return nil
		}
		p.Members = append(p.Members, studio.PlanMember{ChildID: child, GroupNo: group})
		for _, c := range p.Cells {
			if c.GroupNo == group {
				e.settle(p, c, child)
			}
		}
		return nil
	})
}

// settle gives a child at a cell the activity there that matters most to it; where it has none, it keeps what it had, and the page
// names the breach.
func (e *evening) settle(p *studio.Plan, c studio.PlanCell, child uuid.UUID) {
	options := e.ladderOptions(e.ladder[c.LadderKey], e.boards[child])
	if len(options) == 0 {
		return
	}
	setActivity(p, c.Rotation, child, activityID(options[0].ActivityID))
}

func setActivity(p *studio.Plan, rotation int, child uuid.UUID, id activityID) {
	entry := p.Entry(rotation, child)
	if entry == nil {
		p.Entries = append(p.Entries, studio.PlanEntry{Rotation: rotation, ChildID: child})
		entry = &p.Entries[len(p.Entries)-1]
	}
	entry.RungKey, entry.DrillKey, entry.Why, entry.Pinned = "", "", "Chosen by hand.", false
	if id.isDrill() {
		entry.DrillKey = id.key()
	} else {
		entry.RungKey = id.key()
	}
}

// SetActivity gives a child another rung or drill in a rotation; pinned keeps it when the lesson is proposed again. activity is as in
// SheetChoice.
func (a *App) SetActivity(ctx context.Context, actor studio.Actor, id uuid.UUID, version, rotation int, child uuid.UUID, activity string, pinned bool) error {
	return a.editPlan(ctx, actor, id, version, func(_ *postgres.Tx, e *evening, p *studio.Plan) error {
		chosen := activityID(activity)
		_, isRung := e.rungs[chosen.key()]
		_, isDrill := e.drills[chosen.key()]
		entry := p.Entry(rotation, child)
		if entry == nil || chosen.isDrill() && !isDrill || !chosen.isDrill() && !isRung {
			return studio.Missing()
		}
		if activityOf(*entry) != chosen {
			setActivity(p, rotation, child, chosen)
		}
		entry.Pinned = pinned
		return nil
	})
}

// SetStation sends a group to another ladder in a rotation; its children get what matters most to them there.
func (a *App) SetStation(ctx context.Context, actor studio.Actor, id uuid.UUID, version, rotation, group int, ladder string) error {
	return a.editPlan(ctx, actor, id, version, func(_ *postgres.Tx, e *evening, p *studio.Plan) error {
		cell := p.Cell(rotation, group)
		if _, known := e.ladder[ladder]; cell == nil || !known {
			return studio.Missing()
		}
		cell.LadderKey = ladder
		for _, m := range p.Members {
			if m.GroupNo == group {
				e.settle(p, *cell, m.ChildID)
			}
		}
		return nil
	})
}

// SetStaff says who runs a cell (uuid.Nil: nobody) and who spots there.
func (a *App) SetStaff(ctx context.Context, actor studio.Actor, id uuid.UUID, version, rotation, group int, lead uuid.UUID, spotters []uuid.UUID) error {
	return a.editPlan(ctx, actor, id, version, func(_ *postgres.Tx, e *evening, p *studio.Plan) error {
		cell := p.Cell(rotation, group)
		if cell == nil {
			return studio.Missing()
		}
		cell.Staff = nil
		if lead != uuid.Nil {
			cell.Staff = append(cell.Staff, studio.PlanStaff{StaffID: lead, Duty: studio.Leads})
		}
		slices.SortFunc(spotters, func(a, b uuid.UUID) int { return bytes.Compare(a[:], b[:]) })
		for _, s := range slices.Compact(spotters) {
			cell.Staff = append(cell.Staff, studio.PlanStaff{StaffID: s, Duty: studio.Spots})
		}
		for _, s := range cell.Staff {
			if !slices.ContainsFunc(e.Staff, func(x postgres.EveningStaff) bool { return x.ID == s.StaffID }) {
				return studio.Missing()
			}
		}
		return nil
	})
}

// PinCell keeps the station and the people of a cell when the lesson is proposed again, or lets them go.
func (a *App) PinCell(ctx context.Context, actor studio.Actor, id uuid.UUID, version, rotation, group int, pinned bool) error {
	return a.editPlan(ctx, actor, id, version, func(_ *postgres.Tx, _ *evening, p *studio.Plan) error {
		cell := p.Cell(rotation, group)
		if cell == nil {
			return studio.Missing()
		}
		cell.Pinned = pinned
		return nil
	})
}

// PinChild keeps a child in its group when the lesson is proposed again, or lets it go.
func (a *App) PinChild(ctx context.Context, actor studio.Actor, id uuid.UUID, version int, child uuid.UUID, pinned bool) error {
	return a.editPlan(ctx, actor, id, version, func(_ *postgres.Tx, _ *evening, p *studio.Plan) error {
		i := slices.IndexFunc(p.Members, func(m studio.PlanMember) bool { return m.ChildID == child })
		if i < 0 {
			return studio.Missing()
		}
		p.Members[i].Pinned = pinned
		return nil
	})
}
