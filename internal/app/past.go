package app

import (
	"context"
	"slices"
	"time"

	"github.com/google/uuid"
	"rungbook/internal/postgres"
	"rungbook/internal/studio"
)

// The use cases of this file are for the program's own commands, which bring in what happened elsewhere. To everybody else, an owner
// too, they are not there: what people note, they note themselves, now and under their own name.

func onlyProgram(t *postgres.Tx) error {
	if !t.Actor.Program {
		return studio.Missing()
	}
	return nil
}

// PastLesson is who came to a lesson that has been, and the teacher's note on it.
type PastLesson struct {
	Lesson   uuid.UUID
	Children map[uuid.UUID]bool
	Staff    map[uuid.UUID]bool
	Note     string
}

// RecordPast brings in what was noted elsewhere: attendance, notes, and marks with the moments at which they were made and by whom.
// Marks need their ids, and none may lie in the future. All or nothing.
func (a *App) RecordPast(ctx context.Context, actor studio.Actor, lessons []PastLesson, marks []studio.Mark) error {
	return a.db.InTx(ctx, actor, func(t *postgres.Tx) error {
		if err := onlyProgram(t); err != nil {
			return err
		}
		if slices.ContainsFunc(marks, func(m studio.Mark) bool { return m.ID == uuid.Nil || m.MarkedAt.After(t.Now) }) {
			return &studio.Error{Code: studio.Invalid, Text: "A mark has no id or lies in the future. Nothing was recorded."}
		}
		for _, l := range lessons {
			if err := recordLesson(ctx, t, l); err != nil {
				return err
			}
		}
		if err := t.AddMarks(ctx, marks); err != nil {
			return err
		}
		return t.Audit(ctx, "recorded the past", "studio", map[string]any{"lessons": len(lessons), "marks": len(marks)})
	})
}

func recordLesson(ctx context.Context, t *postgres.Tx, l PastLesson) error {
	if err := t.SetPresent(ctx, l.Lesson, l.Children, l.Staff); err != nil {
		return err
	}
	if l.Note == "" {
		return nil
	}
	return t.SaveLessonNote(ctx, l.Lesson, l.Note)
}

// MeetAt makes a class meet at a moment of the present day: a lesson of that day is moved there, else there is one more. A
// lesson that is on already, from 15 minutes before to 15 after, stays as it is.
// The lesson comes back, and whether it was moved or made.
func (a *App) MeetAt(ctx context.Context, actor studio.Actor, class uuid.UUID, at time.Time) (lesson studio.Lesson, changed bool, err error) {
	err = a.db.InTx(ctx, actor, func(t *postgres.Tx) error {
		if err := onlyProgram(t); err != nil {
			return err
		}
		calendar, err := t.CalendarOf(ctx, class)
		if err != nil {
			return err
		}
		if i := slices.IndexFunc(calendar, func(l postgres.CalendarLesson) bool { return l.CancelledAt == nil && isOn(l.Lesson, t.Now) }); i >= 0 {
			lesson = calendar[i].Lesson
			return nil
		}
		for _, l := range calendar {
			if l.CancelledAt == nil && t.DayOf(l.StartsAt).Equal(t.Today) {
				lesson = l.Lesson
			}
		}
		if lesson.ID == uuid.Nil {
			lesson, err = addMeeting(ctx, t, class, at)
		} else {
			lesson.StartsAt = at
			err = t.MoveLesson(ctx, lesson.ID, at)
		}
		if err != nil {
			return err
		}
		changed = true
		return t.Audit(ctx, "made a class meet", "lesson "+lesson.ID.String(), map[string]any{"at": at})
	})
	return lesson, changed, err
}

// isOn reports whether somebody rostered may help at the lesson now.
func isOn(l studio.Lesson, now time.Time) bool {
	return !now.Before(l.StartsAt.Add(-15*time.Minute)) && !now.After(l.EndsAt().Add(15*time.Minute))
}

func addMeeting(ctx context.Context, t *postgres.Tx, class uuid.UUID, at time.Time) (studio.Lesson, error) {
	c, err := t.Class(ctx, class)
	if err != nil {
		return studio.Lesson{}, err
	}
	lesson := studio.Lesson{ID: uuid.New(), ClassID: class, StartsAt: at, Minutes: c.Minutes}
	return lesson, t.AddLessons(ctx, []studio.Lesson{lesson}, usualBlocks(c.Minutes))
}
