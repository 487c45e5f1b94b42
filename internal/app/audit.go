package app

import (
	"context"
	"time"

	"rungbook/internal/postgres"
	"rungbook/internal/studio"
)

// Trail lists what was done before a moment, the newest first, at most limit entries; the zero moment means now.
func (a *App) Trail(ctx context.Context, actor studio.Actor, before time.Time, limit int) ([]studio.TrailEntry, Day, error) {
	var day Day
	var entries []studio.TrailEntry
	err := a.within(ctx, actor, studio.SeeStudio, func(t *postgres.Tx) error {
		if before.IsZero() {
			before = t.Now.Add(time.Second)
		}
		day = t.Day()
		var err error
		entries, err = t.Trail(ctx, before, limit)
		return err
	})
	return entries, day, err
}
