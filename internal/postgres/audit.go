package postgres

import (
	"context"

	"github.com/google/uuid"
)

// Audit writes to the trail, in the same transaction as what it tells of.
func (t *Tx) Audit(ctx context.Context, action, subject string, detail map[string]any) error {
	if detail == nil {
		detail = map[string]any{}
	}
	var actor *uuid.UUID
	if t.Actor.SignedIn() {
		actor = &t.Actor.ID
	}
	_, err := t.tx.Exec(ctx, `insert into audit (at, actor, action, subject, detail) values ($1, $2, $3, $4, $5)`,
		t.Now, actor, action, subject, detail)
	return err
}
