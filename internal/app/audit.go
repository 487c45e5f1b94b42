package app

import (
	"context"
	"time"

	"github.com/google/uuid"
	"rungbook/internal/postgres"
	"rungbook/internal/studio"
)

// TrailPlace is a place in the trail: that of an entry. The zero place is before the newest one.
type TrailPlace struct {
	At time.Time
	ID uuid.UUID
}

// Trail lists what was done before a place, the newest first, at most limit entries.
func (a *App) Trail(ctx context.Context, actor studio.Actor, before TrailPlace, limit int) ([]studio.TrailEntry, Day, error) {
	var entries []studio.TrailEntry
	var day Day
	err := a.within(ctx, actor, studio.SeeStudio, func(t *postgres.Tx) error {
		day = t.Day()
		if before.At.IsZero() {
			before.At = t.Now.Add(time.Second)
		}
		var err error
		entries, err = t.Trail(ctx, before.At, before.ID, limit)
		return err
	})
	return entries, day, err
}
