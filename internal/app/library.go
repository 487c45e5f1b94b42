package app

import (
	"context"

	"rungbook/internal/postgres"
	"rungbook/internal/studio"
)

// Library is the whole skill library.
func (a *App) Library(ctx context.Context, actor studio.Actor) (studio.Library, error) {
	var library studio.Library
	err := a.db.InTx(ctx, actor, func(t *postgres.Tx) error {
		if err := a.may(ctx, t, studio.ReadLibrary, Target{}); err != nil {
			return err
		}
		var err error
		library, err = t.Library(ctx)
		return err
	})
	return library, err
}

// ImportLibrary writes a library over the studio's: known keys are changed, new ones added, none removed; all or nothing.
func (a *App) ImportLibrary(ctx context.Context, actor studio.Actor, library studio.Library) error {
	return a.db.InTx(ctx, actor, func(t *postgres.Tx) error {
		if err := a.may(ctx, t, studio.EditLibrary, Target{}); err != nil {
			return err
		}
		if err := studio.Refuse("Nothing was imported.", library.Validate()); err != nil {
			return err
		}
		if err := t.SaveLibrary(ctx, library); err != nil {
			return err
		}
		if _, err := readLadders(ctx, t); err != nil { // together with what was there already: still no circle
			return err
		}
		return t.Audit(ctx, "imported library", "library", map[string]any{"ladders": len(library.Ladders), "drills": len(library.Drills)})
	})
}
