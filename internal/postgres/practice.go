package postgres

import (
	"context"
	"time"

	"github.com/google/uuid"
	"rungbook/internal/studio"
)

const practiceSQL = `select p.assignment_id, p.child_id, h.drill_key, p.done_on from practice p
	join home_assignment h on h.id = p.assignment_id where p.child_id = $1 and p.done_on >= $2 order by p.done_on desc, h.assigned_at desc, h.id`

// PracticeOf lists what a child did at home from a day on, the latest day first.
func (t *Tx) PracticeOf(ctx context.Context, child uuid.UUID, from time.Time) ([]studio.Practice, error) {
	return many[studio.Practice](ctx, t, practiceSQL, child, from)
}

// NotePractice keeps that a drill was done on a day; it is no error when that is known.
func (t *Tx) NotePractice(ctx context.Context, child, assignment uuid.UUID, day time.Time) error {
	_, err := t.tx.Exec(ctx, `insert into practice (assignment_id, done_on, child_id, noted_by, noted_at) values ($1, $2, $3, $4, $5)
		on conflict do nothing`, assignment, day, child, t.by(), t.Now)
	return err
}

// StrikePractice takes it away again; studio.Missing when it is not there.
func (t *Tx) StrikePractice(ctx context.Context, child, assignment uuid.UUID, day time.Time) error {
	return exec(ctx, t, `delete from practice where assignment_id = $1 and child_id = $2 and done_on = $3`, assignment, child, day)
}
