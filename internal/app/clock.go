package app

import (
	"context"
	"time"

	"github.com/google/uuid"
	"rungbook/internal/postgres"
	"rungbook/internal/studio"
)

// ClockFace is the clock at a moment of the server's.
type ClockFace struct {
	studio.Clock
	Now time.Time
}

// TurnClock starts, pauses, moves or sets the rotation clock of a lesson, and gives the clock as it is then. When somebody else turned it
// meanwhile the error is a studio.Conflict, and the clock that comes with it is theirs.
func (a *App) TurnClock(ctx context.Context, actor studio.Actor, lesson uuid.UUID, order studio.ClockOrder) (ClockFace, error) {
	var face ClockFace
	err := a.db.InTx(ctx, actor, func(t *postgres.Tx) error {
		if err := a.may(ctx, t, studio.RunSheet, Target{Lesson: lesson}); err != nil {
			return err
		}
		rotations, err := t.Rotations(ctx, lesson)
		if err != nil {
			return err
		}
		if face.Clock, err = t.Clock(ctx, lesson); err != nil {
			return err
		}
		face.Now = t.Now
		next, err := face.Follow(order, rotations, t.Now)
		if err != nil {
			return err
		}
		err = t.SetClock(ctx, lesson, face.Version, next)
		if studio.CodeOf(err) == studio.NotFound { // between the reading and the writing
			if face.Clock, err = t.Clock(ctx, lesson); err != nil {
				return err
			}
			_, err = face.Follow(order, rotations, t.Now)
			return err
		}
		face.Clock = next
		return err
	})
	return face, err
}
