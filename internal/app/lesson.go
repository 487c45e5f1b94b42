package app

import (
	"context"
	"errors"
	"fmt"

	"github.com/google/uuid"
	"rungbook/internal/engine/lesson"
	"rungbook/internal/postgres"
	"rungbook/internal/studio"
)

// Lesson is a lesson as its page shows it.
func (a *App) Lesson(ctx context.Context, actor studio.Actor, id uuid.UUID) (LessonSheet, error) {
	var sheet LessonSheet
	err := a.db.InTx(ctx, actor, func(t *postgres.Tx) error {
		if err := a.may(ctx, t, studio.SeeLesson, Target{Lesson: id}); err != nil {
			return err
		}
		e, plan, err := readEvening(ctx, t, id)
		if err != nil {
			return err
		}
		sheet = e.sheet(plan)
		if sheet.Effort, err = lessonEffort(ctx, t, e.Lesson); err != nil || plan == nil {
			return err
		}
		before, err := t.PlanUndo(ctx, plan.ID)
		if err == nil && before != nil {
			sheet.Plan.CanUndo, sheet.Plan.Changes = true, e.changes(*before, *plan)
		}
		return err
	})
	return sheet, err
}

// readEvening loads all that a lesson is planned from, and its plan, nil when there is none.
func readEvening(ctx context.Context, t *postgres.Tx, id uuid.UUID) (*evening, *studio.Plan, error) {
	read, err := t.Evening(ctx, id)
	if err != nil {
		return nil, nil, err
	}
	e := &evening{Evening: read, day: t.DayOf(read.Lesson.StartsAt)}
	if e.ladders, err = readLadders(ctx, t); err != nil {
		return nil, nil, err
	}
	var children []uuid.UUID
	for _, c := range e.Children {
		children = append(children, c.ID)
	}
	if e.marks, err = t.MarksOf(ctx, children); err != nil {
		return nil, nil, fmt.Errorf("read the marks: %w", err)
	}
	if e.boards, err = e.ladders.boardsOf(children, e.marks, t); err != nil {
		return nil, nil, err
	}
	if e.last, err = lastPlanned(ctx, t, id); err != nil {
		return nil, nil, fmt.Errorf("read the plan before: %w", err)
	}
	if e.week, err = weekLoad(ctx, t, children, e); err != nil {
		return nil, nil, err
	}
	plan, err := t.PlanOf(ctx, id)
	if studio.CodeOf(err) == studio.NotFound {
		return e, nil, nil
	}
	if err != nil {
		return nil, nil, fmt.Errorf("read the plan: %w", err)
	}
	return e, &plan, nil
}

// lastPlanned reads the last plan of the class before a lesson; nil when there is none.
func lastPlanned(ctx context.Context, t *postgres.Tx, id uuid.UUID) (*lastPlan, error) {
	plan, err := t.PlanBefore(ctx, id)
	if studio.CodeOf(err) == studio.NotFound {
		return nil, nil
	}
	if err != nil {
		return nil, err
	}
	l, err := t.Lesson(ctx, plan.LessonID)
	return &lastPlan{plan, t.DayOf(l.StartsAt)}, err
}

// NotePresent writes who is here.
func (a *App) NotePresent(ctx context.Context, actor studio.Actor, id uuid.UUID, children, staff map[uuid.UUID]bool) error {
	return a.db.InTx(ctx, actor, func(t *postgres.Tx) error {
		if err := a.may(ctx, t, studio.KeepLesson, Target{Lesson: id}); err != nil {
			return err
		}
		if _, err := t.Lesson(ctx, id); err != nil {
			return err
		}
		return t.SetPresent(ctx, id, children, staff)
	})
}

// NoteLesson writes the teacher's note of a lesson.
func (a *App) NoteLesson(ctx context.Context, actor studio.Actor, id uuid.UUID, note string) error {
	return a.db.InTx(ctx, actor, func(t *postgres.Tx) error {
		if err := a.may(ctx, t, studio.KeepLesson, Target{Lesson: id}); err != nil {
			return err
		}
		return t.SaveLessonNote(ctx, id, note)
	})
}

// KeepBlocks writes the blocks of a lesson: their minutes must be those of the lesson, and one of them the stations.
func (a *App) KeepBlocks(ctx context.Context, actor studio.Actor, id uuid.UUID, blocks []studio.Block) error {
	return a.db.InTx(ctx, actor, func(t *postgres.Tx) error {
		if err := a.may(ctx, t, studio.KeepLesson, Target{Lesson: id}); err != nil {
			return err
		}
		l, err := t.Lesson(ctx, id)
		if err != nil {
			return err
		}
		if err := checkBlocks(l, blocks); err != nil {
			return err
		}
		return t.SaveBlocks(ctx, id, blocks)
	})
}

func checkBlocks(l studio.Lesson, blocks []studio.Block) error {
	minutes, stations := 0, 0
	for _, b := range blocks {
		minutes += b.Minutes
		if b.Kind == studio.StationsBlock {
			stations += b.Minutes
		}
	}
	var wrong []studio.FieldError
	if minutes != l.Minutes {
		wrong = append(wrong, studio.FieldError{Field: "minutes", Problem: fmt.Sprintf("The blocks take %d minutes; the lesson has %d.", minutes, l.Minutes)})
	}
	if stations < 5 {
		wrong = append(wrong, studio.FieldError{Field: "stations", Problem: "The stations need at least 5 minutes."})
	}
	return studio.Refuse("Nothing was saved.", wrong)
}

// Propose asks the planner for the best plan for who is here and keeps it as a draft; pins of the plan that is there hold. version
// is that of the plan that the teacher saw, 0 for none. When no plan keeps every rule, the error names the rules in conflict and the
// ways out, and the plan that was there stays.
func (a *App) Propose(ctx context.Context, actor studio.Actor, id uuid.UUID, version int) error {
	e, plan, err := a.planning(ctx, actor, id, version)
	if err != nil {
		return err
	}
	if len(e.present()) == 0 {
		return &studio.Error{Code: studio.Invalid, Text: "Nobody is marked as here, so there is nothing to plan. Say who is here and propose again."}
	}
	in := e.input(plan)
	result, err := lesson.Propose(ctx, in)
	if err != nil {
		return planRefusal(err, signOffWanted(in))
	}
	next := e.planOf(betterOf(in, result.Plan, plan), plan)
	next.Bound, next.Optimal, next.SharedAt = result.Bound, result.Optimal, nil
	return a.keepPlan(ctx, actor, id, next)
}

// betterOf is the proposed plan, or the one that was there where it keeps every rule for who is here and is worth more: a search that
// ran out of time never takes a better plan away.
func betterOf(in lesson.Input, proposed lesson.Plan, was *studio.Plan) lesson.Plan {
	if was == nil || len(lesson.Check(in, enginePlan(*was))) > 0 {
		return proposed
	}
	old, err := lesson.Evaluate(in, enginePlan(*was))
	if err != nil || old.Short > proposed.Short || old.Short == proposed.Short && old.Worth <= proposed.Worth {
		return proposed
	}
	return old
}

// planning reads an evening for a change of its plan and refuses a plan that was saved meanwhile.
func (a *App) planning(ctx context.Context, actor studio.Actor, id uuid.UUID, version int) (*evening, *studio.Plan, error) {
	var e *evening
	var plan *studio.Plan
	err := a.db.InTx(ctx, actor, func(t *postgres.Tx) error {
		if err := a.may(ctx, t, studio.PlanLesson, Target{Lesson: id}); err != nil {
			return err
		}
		var err error
		if e, plan, err = readEvening(ctx, t, id); err != nil {
			return err
		}
		if have := versionOf(plan); have != version {
			return overtaken()
		}
		return nil
	})
	return e, plan, err
}

func overtaken() error {
	return &studio.Error{Code: studio.Conflict, Text: "Somebody else saved this plan meanwhile. Nothing of theirs was changed: open the lesson again to see it, then make your change."}
}

func versionOf(plan *studio.Plan) int {
	if plan == nil {
		return 0
	}
	return plan.Version
}

func (a *App) keepPlan(ctx context.Context, actor studio.Actor, id uuid.UUID, plan studio.Plan) error {
	return a.db.InTx(ctx, actor, func(t *postgres.Tx) error {
		if err := a.may(ctx, t, studio.PlanLesson, Target{Lesson: id}); err != nil {
			return err
		}
		_, err := t.SavePlan(ctx, plan)
		return err
	})
}

// planRefusal puts the planner's error into words for the teacher; wanted, when there is one, is the way out where spotters are short.
func planRefusal(err error, wanted string) error {
	var none *lesson.Infeasible
	var input *lesson.InputError
	switch {
	case errors.As(err, &none):
		e := &studio.Error{Code: studio.Invalid, Text: "No plan keeps every rule with who is here."}
		for _, c := range none.Conflicts {
			if wanted != "" && (c.Rule == lesson.RuleSpotting || c.Rule == lesson.RuleEligible) {
				c.WaysOut = append([]string{wanted}, c.WaysOut...)
			}
			e.Fields = append(e.Fields, studio.FieldError{Field: c.Words, Problem: joinWays(c.WaysOut)})
		}
		return e
	case errors.As(err, &input):
		return &studio.Error{Code: studio.Invalid, Text: "The lesson cannot be planned as it is set up: " + input.Problem + ". Change the class's or the lesson's settings and propose again.", Cause: err}
	}
	return fmt.Errorf("propose a plan: %w", err)
}

func joinWays(ways []string) string {
	text := ""
	for i, w := range ways {
		if i > 0 {
			text += " Or: "
		}
		text += w
	}
	return text
}

// SharePlan saves the plan for the assistants: they see it from 15 minutes before the lesson.
func (a *App) SharePlan(ctx context.Context, actor studio.Actor, id uuid.UUID, version int) error {
	return a.editPlan(ctx, actor, id, version, func(t *postgres.Tx, _ *evening, p *studio.Plan) error {
		p.SharedAt = &t.Now
		return t.Audit(ctx, "shared a plan", "lesson "+id.String(), map[string]any{"version": p.Version + 1})
	})
}
