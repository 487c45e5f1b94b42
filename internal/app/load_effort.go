package app

import (
	"context"
	"slices"

	"github.com/google/uuid"
	"rungbook/internal/postgres"
	"rungbook/internal/studio"
)

// LessonEffort is how hard a lesson was, 0 to 10: for the class, and for each child of whom something else was noted.
type LessonEffort struct {
	Asked    bool // the lesson has begun
	Class    *int
	Children map[uuid.UUID]int
}

func lessonEffort(ctx context.Context, t *postgres.Tx, l studio.Lesson) (LessonEffort, error) {
	if l.StartsAt.After(t.Now) || l.CancelledAt != nil {
		return LessonEffort{}, nil
	}
	noted, err := t.EffortsOf(ctx, l.ID)
	return LessonEffort{Asked: true, Class: noted.Class, Children: noted.Children}, err
}

// NoteEffort notes how hard a lesson was: for the class unless class is nil, and for the children named, of whom nil takes a figure back.
func (a *App) NoteEffort(ctx context.Context, actor studio.Actor, id uuid.UUID, class *int, children map[uuid.UUID]*int) error {
	return a.db.InTx(ctx, actor, func(t *postgres.Tx) error {
		if err := a.may(ctx, t, studio.KeepLesson, Target{Lesson: id}); err != nil {
			return err
		}
		evening, err := t.Evening(ctx, id)
		if err != nil {
			return err
		}
		if evening.Lesson.StartsAt.After(t.Now) || evening.Lesson.CancelledAt != nil {
			return &studio.Error{Code: studio.Invalid, Text: "The lesson has not been held yet. Note how hard it was when it is over."}
		}
		if class != nil {
			if err := t.SetEffort(ctx, id, *class); err != nil {
				return err
			}
		}
		for child := range children {
			if !slices.ContainsFunc(evening.Children, func(c postgres.EveningChild) bool { return c.ID == child }) {
				return studio.Missing()
			}
		}
		return t.SetEffortsOf(ctx, id, children)
	})
}
