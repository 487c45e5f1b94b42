package postgres

import (
	"context"

	"rungbook/internal/studio"
)

// Equipment lists the kinds of equipment by name.
func (t *Tx) Equipment(ctx context.Context) ([]studio.Equipment, error) {
	return many[studio.Equipment](ctx, t, `select key, name, stock from equipment order by lower(name), key`)
}

// SaveEquipment writes a kind, new or known.
func (t *Tx) SaveEquipment(ctx context.Context, e studio.Equipment) error {
	return exec(ctx, t, `insert into equipment (key, name, stock) values ($1, $2, $3) on conflict (key) do update set name = $2, stock = $3`, e.Key, e.Name, e.Stock)
}

// DeleteEquipment removes a kind that no rung or drill needs.
func (t *Tx) DeleteEquipment(ctx context.Context, key string) error {
	return exec(ctx, t, `delete from equipment where key = $1`, key)
}
