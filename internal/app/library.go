package app

import (
	"context"

	"rungbook/internal/postgres"
	"rungbook/internal/studio"
)

const nothingSaved = "Nothing was saved."

// Library is the whole skill library.
func (a *App) Library(ctx context.Context, actor studio.Actor) (studio.Library, error) {
	shelf, err := a.Shelf(ctx, actor)
	return shelf.Library, err
}

// Shelf is the whole skill library with the kinds of equipment that it names.
type Shelf struct {
	studio.Library
	Equipment []studio.Equipment
}

// Shelf reads the library and the equipment.
func (a *App) Shelf(ctx context.Context, actor studio.Actor) (Shelf, error) {
	var shelf Shelf
	err := a.db.InTx(ctx, actor, func(t *postgres.Tx) error {
		if err := a.may(ctx, t, studio.ReadLibrary, Target{}); err != nil {
			return err
		}
		var err error
		if shelf.Library, err = t.Library(ctx); err != nil {
			return err
		}
		shelf.Equipment, err = t.Equipment(ctx)
		return err
	})
	return shelf, err
}

// editLibrary runs an edit on the library as it is now, one edit at a time.
func (a *App) editLibrary(ctx context.Context, actor studio.Actor, edit func(*postgres.Tx, *ladders) error) error {
	return a.db.InTx(ctx, actor, func(t *postgres.Tx) error {
		if err := a.may(ctx, t, studio.EditLibrary, Target{}); err != nil {
			return err
		}
		if err := t.LockLibrary(ctx); err != nil {
			return err
		}
		l, err := readLadders(ctx, t)
		if err != nil {
			return err
		}
		return edit(t, l)
	})
}

func changedMeanwhile(noun string) error {
	return &studio.Error{Code: studio.Conflict, Text: "Somebody changed this " + noun + " while you were writing. Your text is kept here and nothing was saved. " +
		"Open the " + noun + " in another tab to see what is new; saving again puts your text in its place."}
}
