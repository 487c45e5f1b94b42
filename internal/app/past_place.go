package app

import (
	"context"

	"rungbook/internal/postgres"
	"rungbook/internal/studio"
)

// RecordPlaces brings in who was in which class from when until when. Like all of the past it is for the program's own commands.
func (a *App) RecordPlaces(ctx context.Context, actor studio.Actor, places []studio.Enrolment) error {
	return a.db.InTx(ctx, actor, func(t *postgres.Tx) error {
		if err := onlyProgram(t); err != nil {
			return err
		}
		if err := t.Enrol(ctx, places); err != nil {
			return err
		}
		return t.Audit(ctx, "recorded places in classes", "studio", map[string]any{"places": len(places)})
	})
}
