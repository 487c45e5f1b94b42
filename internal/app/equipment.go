package app

import (
	"context"
	"slices"

	"rungbook/internal/postgres"
	"rungbook/internal/studio"
)

// Equipment lists what the hall has.
func (a *App) Equipment(ctx context.Context, actor studio.Actor) ([]studio.Equipment, error) {
	var list []studio.Equipment
	err := a.within(ctx, actor, studio.KeepEquipment, func(t *postgres.Tx) error {
		var err error
		list, err = t.Equipment(ctx)
		return err
	})
	return list, err
}

// SaveEquipment writes kinds with their stock, new or known; all or nothing.
func (a *App) SaveEquipment(ctx context.Context, actor studio.Actor, list ...studio.Equipment) error {
	return a.within(ctx, actor, studio.KeepEquipment, func(t *postgres.Tx) error {
		var problems []studio.FieldError
		for _, e := range list {
			for _, p := range e.Validate() {
				problems = append(problems, studio.FieldError{Field: p.Field + "-" + e.Key, Problem: p.Problem})
			}
		}
		if err := studio.Refuse("Nothing was saved.", problems); err != nil {
			return err
		}
		stock := map[string]any{}
		for _, e := range list {
			if err := t.SaveEquipment(ctx, e); err != nil {
				return err
			}
			stock[e.Key] = e.Stock
		}
		return t.Audit(ctx, "changed the equipment", "equipment", stock)
	})
}

// AddEquipment adds a kind; one of the same key is not written over.
func (a *App) AddEquipment(ctx context.Context, actor studio.Actor, e studio.Equipment) error {
	return a.within(ctx, actor, studio.KeepEquipment, func(t *postgres.Tx) error {
		if err := studio.Refuse("Nothing was saved.", e.Validate()); err != nil {
			return err
		}
		known, err := t.Equipment(ctx)
		if err != nil {
			return err
		}
		if slices.ContainsFunc(known, func(k studio.Equipment) bool { return k.Key == e.Key }) {
			return studio.Refuse("Nothing was saved.", []studio.FieldError{{Field: "name", Problem: "There is equipment of that name already. Change its stock above."}})
		}
		if err := t.SaveEquipment(ctx, e); err != nil {
			return err
		}
		return t.Audit(ctx, "added equipment", "equipment "+e.Key, map[string]any{"stock": e.Stock})
	})
}

// DeleteEquipment removes a kind that no rung or drill needs.
func (a *App) DeleteEquipment(ctx context.Context, actor studio.Actor, key string) error {
	return a.within(ctx, actor, studio.KeepEquipment, func(t *postgres.Tx) error {
		if err := t.DeleteEquipment(ctx, key); err != nil {
			return err
		}
		return t.Audit(ctx, "removed from the equipment", "equipment "+key, nil)
	})
}
