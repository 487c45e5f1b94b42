package app

import (
	"context"
	"slices"

	"github.com/google/uuid"
	"rungbook/internal/postgres"
	"rungbook/internal/studio"
)

// CopyPlan brings the last plan of the class forward to a lesson, as a draft: groups, stations, the people who are here, and what each
// child still may do. Whoever is not here leaves it; pins stay behind. What does not fit is for the page to name. version is that of
// the plan that the teacher saw, 0 for none.
func (a *App) CopyPlan(ctx context.Context, actor studio.Actor, id uuid.UUID, version int) error {
	return a.db.InTx(ctx, actor, func(t *postgres.Tx) error {
		if err := a.may(ctx, t, studio.PlanLesson, Target{Lesson: id}); err != nil {
			return err
		}
		e, plan, err := readEvening(ctx, t, id)
		if err != nil {
			return err
		}
		if versionOf(plan) != version {
			return overtaken()
		}
		if e.last == nil {
			return &studio.Error{Code: studio.Invalid, Text: "No earlier lesson of this class has a plan, so there is nothing to copy. Propose a plan."}
		}
		if len(e.present()) == 0 || e.workSeconds() < 60 {
			return &studio.Error{Code: studio.Invalid, Text: "Nobody is here, or the stations are too short for the rotations, so nothing was copied. Say who is here or change the times."}
		}
		next, err := e.summed(e.carried(e.last.Plan))
		if err != nil {
			return err
		}
		next.Version = version
		_, err = t.SavePlan(ctx, next)
		return err
	})
}

// carried is an earlier plan for who is here, in the rotations and groups that the class has now.
func (e *evening) carried(p studio.Plan) studio.Plan {
	next := studio.Plan{LessonID: e.Lesson.ID, Rotations: e.Class.Rotations, WorkSeconds: e.workSeconds()}
	for _, m := range p.Members {
		here := slices.ContainsFunc(e.present(), func(c postgres.EveningChild) bool { return c.ID == m.ChildID })
		if here && m.GroupNo <= e.Class.Groups {
			next.Members = append(next.Members, studio.PlanMember{ChildID: m.ChildID, GroupNo: m.GroupNo})
		}
	}
	for _, c := range p.Cells {
		if c.Rotation > next.Rotations || c.GroupNo > e.Class.Groups {
			continue
		}
		c.Pinned = false
		c.Staff = slices.DeleteFunc(slices.Clone(c.Staff), func(s studio.PlanStaff) bool {
			return !slices.ContainsFunc(e.staffHere(), func(x postgres.EveningStaff) bool { return x.ID == s.StaffID })
		})
		next.Cells = append(next.Cells, c)
		for _, m := range next.Members {
			if was := p.Entry(c.Rotation, m.ChildID); m.GroupNo == c.GroupNo && was != nil {
				e.carry(&next, c, *was)
			}
		}
	}
	return next
}

// carry gives a child at a cell what it had there as long as that is still for it, else what matters most to it there now.
func (e *evening) carry(next *studio.Plan, c studio.PlanCell, was studio.PlanEntry) {
	setActivity(next, c.Rotation, was.ChildID, activityOf(was))
	for _, o := range e.ladderOptions(e.ladder[c.LadderKey], e.boards[was.ChildID]) {
		if o.ActivityID == string(activityOf(was)) {
			return
		}
	}
	e.settle(next, c, was.ChildID)
}
