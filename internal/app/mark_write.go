package app

import (
	"context"
	"slices"

	"github.com/google/uuid"
	"rungbook/internal/postgres"
	"rungbook/internal/studio"
)

// WriteMark writes a mark, or the correction of one. A correction keeps the rung, lesson and day of what it stands for.
func (a *App) WriteMark(ctx context.Context, actor studio.Actor, m NewMark) error {
	return a.db.InTx(ctx, actor, func(t *postgres.Tx) error {
		if err := a.may(ctx, t, studio.MarkChild, Target{Child: m.Child}); err != nil {
			return err
		}
		mark, err := a.newMark(ctx, t, m)
		if err != nil {
			return err
		}
		if err := t.AddMarks(ctx, []studio.Mark{mark}); err != nil {
			return err
		}
		did := "marked a child"
		if mark.Replaces != nil {
			did = "corrected a mark"
		}
		return t.Audit(ctx, did, "child "+m.Child.String(), map[string]any{"mark": mark.ID.String(), "rung": mark.RungKey})
	})
}

func (a *App) newMark(ctx context.Context, t *postgres.Tx, m NewMark) (studio.Mark, error) {
	id, err := uuid.NewV7()
	if err != nil {
		return studio.Mark{}, err
	}
	mark := studio.Mark{ID: id, ChildID: m.Child, RungKey: m.Rung, Side: m.Side, Outcome: m.Outcome, Faults: m.Faults, MarkedAt: t.Now}
	if t.Actor.SignedIn() {
		mark.MarkedBy = &t.Actor.ID
	}
	switch {
	case m.Replaces != uuid.Nil:
		err = keepPlace(ctx, t, &mark, m.Replaces)
	case m.Lesson != uuid.Nil:
		err = placeIn(ctx, t, &mark, m.Lesson)
	}
	if err != nil {
		return mark, err
	}
	library, err := readLadders(ctx, t)
	if err != nil {
		return mark, err
	}
	return mark, library.checkMark(mark)
}

// keepPlace gives a correction the rung, lesson and day of the mark in force that it stands for.
func keepPlace(ctx context.Context, t *postgres.Tx, mark *studio.Mark, replaces uuid.UUID) error {
	marks, err := t.MarksOf(ctx, []uuid.UUID{mark.ChildID})
	if err != nil {
		return err
	}
	i := slices.IndexFunc(marks, func(m postgres.SeenMark) bool { return m.ID == replaces })
	if i < 0 {
		return &studio.Error{Code: studio.Conflict, Text: "That mark was corrected meanwhile, or is not this child's. Nothing was saved; look at the marks again."}
	}
	old := marks[i]
	mark.RungKey, mark.LessonID, mark.MarkedAt, mark.Replaces = old.RungKey, old.LessonID, old.MarkedAt, &old.ID
	return nil
}

// placeIn puts a mark in a lesson that has begun, at its start.
func placeIn(ctx context.Context, t *postgres.Tx, mark *studio.Mark, lesson uuid.UUID) error {
	lessons, err := lessonsToMark(ctx, t, mark.ChildID)
	if err != nil {
		return err
	}
	i := slices.IndexFunc(lessons, func(l LessonLine) bool { return l.ID == lesson })
	if i < 0 {
		return studio.Refuse("Nothing was saved.", []studio.FieldError{{Field: "lesson", Problem: "Choose one of the lessons offered, or none."}})
	}
	mark.LessonID = &lessons[i].ID
	if t.Now.After(lessons[i].EndsAt) {
		mark.MarkedAt = lessons[i].StartsAt.UTC()
	}
	return nil
}

// checkMark judges a mark by the rung that it is of.
func (l *ladders) checkMark(m studio.Mark) error {
	rung, ok := l.rungs[m.RungKey]
	if !ok {
		return studio.Refuse("Nothing was saved.", []studio.FieldError{{Field: "rung", Problem: "Choose a rung."}})
	}
	var wrong []studio.FieldError
	if !slices.Contains([]studio.Outcome{studio.Missed, studio.Supported, studio.Clean}, m.Outcome) {
		wrong = append(wrong, studio.FieldError{Field: "outcome", Problem: "Say how the turn went."})
	}
	sided := m.Side == studio.Left || m.Side == studio.Right
	if rung.TwoSided && !sided {
		wrong = append(wrong, studio.FieldError{Field: "side", Problem: "Say which side led."})
	}
	if !rung.TwoSided && m.Side != studio.NoSide {
		wrong = append(wrong, studio.FieldError{Field: "side", Problem: "This rung has no sides."})
	}
	for _, key := range m.Faults {
		if !slices.ContainsFunc(rung.Faults, func(f studio.Fault) bool { return f.Key == key }) {
			wrong = append(wrong, studio.FieldError{Field: "faults", Problem: "Choose from the faults of this rung."})
			break
		}
	}
	return studio.Refuse("Nothing was saved.", wrong)
}
