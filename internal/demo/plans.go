package demo

import (
	"context"
	"slices"

	"github.com/google/uuid"
	"rungbook/internal/app"
	"rungbook/internal/studio"
)

// planLastWeek plans the newest past lesson of the class that meets tonight, as its teacher would have: tonight's groups follow it.
func (h *house) planLastWeek(ctx context.Context) error {
	meetings, err := h.pastMeetings(ctx)
	if err != nil {
		return err
	}
	for _, m := range slices.Backward(meetings) {
		if m.course.name == courses()[0].name {
			return plan(ctx, h.use, m.lesson.ID)
		}
	}
	return nil
}

// plan proposes a plan for a lesson that has none, and shares it with the assistants.
func plan(ctx context.Context, use *app.App, lesson uuid.UUID) error {
	sheet, err := use.Lesson(ctx, studio.ProgramActor(), lesson)
	if err != nil || sheet.Plan != nil {
		return err
	}
	if err := use.Propose(ctx, studio.ProgramActor(), lesson, 0); err != nil {
		return err
	}
	if sheet, err = use.Lesson(ctx, studio.ProgramActor(), lesson); err != nil {
		return err
	}
	return use.SharePlan(ctx, studio.ProgramActor(), lesson, sheet.Plan.Version)
}
