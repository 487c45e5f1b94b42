package postgres

import (
	"context"

	"github.com/google/uuid"
	"rungbook/internal/studio"
)

// NoteHealthRead keeps that the actor reads health data of children, in the transaction of the reading: their families see it.
func (t *Tx) NoteHealthRead(ctx context.Context, kind string, children ...uuid.UUID) error {
	_, err := t.tx.Exec(ctx, `insert into health_read (child_id, at, by_account, by_name, kind)
		select distinct c, $2::timestamptz, $3::uuid, coalesce((select s.name from staff s where s.account_id = $3), $4::text), $5::text from unnest($1::uuid[]) x (c)`,
		children, t.Now, t.by(), t.Actor.Name, kind)
	return err
}

// HealthReads lists who read health data of a child, the latest first.
func (t *Tx) HealthReads(ctx context.Context, child uuid.UUID) ([]studio.HealthRead, error) {
	return many[studio.HealthRead](ctx, t, `select at, by_name, kind from health_read where child_id = $1 order by at desc, id`, child)
}
