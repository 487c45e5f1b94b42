package postgres

import (
	"context"
	"time"

	"github.com/google/uuid"
)

// OpenExport lets the rest of the transaction read what a guardian's copy of an own child's data holds beyond its pages (migration
// 0013): no other transaction of a guardian reads it.
func (t *Tx) OpenExport(ctx context.Context) error { return t.open(ctx, "app.export", "on") }

// OpenErasure lets an owner delete, in the rest of the transaction, what goes with a child that is erased: of this child alone.
func (t *Tx) OpenErasure(ctx context.Context, child uuid.UUID) error {
	return t.open(ctx, "app.erase", child.String())
}

// OpenClearing lets the program delete, in the rest of the transaction, what was kept long enough today.
func (t *Tx) OpenClearing(ctx context.Context) error {
	return t.open(ctx, "app.clear", t.Today.Format(time.DateOnly))
}

func (t *Tx) open(ctx context.Context, setting, to string) error {
	_, err := t.tx.Exec(ctx, `select set_config($1, $2, true)`, setting, to)
	return err
}
