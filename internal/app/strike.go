package app

import (
	"context"

	"github.com/google/uuid"
	"rungbook/internal/postgres"
	"rungbook/internal/studio"
)

// StrikeMark takes a mark back altogether: neither it nor the row that takes it back counts, and both stay in the history.
func (a *App) StrikeMark(ctx context.Context, actor studio.Actor, child, mark uuid.UUID) error {
	return a.db.InTx(ctx, actor, func(t *postgres.Tx) error {
		if err := a.may(ctx, t, studio.MarkChild, Target{Child: child}); err != nil {
			return err
		}
		return strike(ctx, t, child, mark)
	})
}

// strike takes a mark of the child back; the actor may mark the child.
func strike(ctx context.Context, t *postgres.Tx, child, id uuid.UUID) error {
	old, err := t.StandingMark(ctx, id)
	if studio.CodeOf(err) == studio.NotFound || err == nil && old.ChildID != child {
		return gone(ctx, t, child, id)
	}
	if err != nil {
		return err
	}
	row, err := uuid.NewV7()
	if err != nil {
		return err
	}
	back := studio.Mark{ID: row, ChildID: child, RungKey: old.RungKey, LessonID: old.LessonID, Side: old.Side, Outcome: studio.Withdrawn, MarkedAt: old.MarkedAt, Replaces: &old.ID}
	if t.Actor.SignedIn() {
		back.MarkedBy = &t.Actor.ID
	}
	if err := t.AddMarks(ctx, []studio.Mark{back}); err != nil {
		return err
	}
	return t.Audit(ctx, "took a mark back", "child "+child.String(), map[string]any{"mark": old.ID.String(), "rung": old.RungKey})
}

// gone says why a mark does not stand: it was corrected or taken back, or it never was one of the child's.
func gone(ctx context.Context, t *postgres.Tx, child, id uuid.UUID) error {
	known, err := t.KnowsMark(ctx, child, id)
	switch {
	case err != nil:
		return err
	case !known:
		return studio.Missing()
	}
	return &studio.Error{Code: studio.Conflict, Text: "That mark was corrected or taken back meanwhile. Nothing was changed; look at the marks again."}
}
