package postgres

import (
	"context"

	"github.com/google/uuid"
	"rungbook/internal/studio"
)

// Clock reads the rotation clock of a lesson; one that nobody has started stands at rotation 1.
func (t *Tx) Clock(ctx context.Context, lesson uuid.UUID) (studio.Clock, error) {
	c, err := one[studio.Clock](ctx, t, clockSQL, lesson)
	if studio.CodeOf(err) == studio.NotFound {
		return studio.Clock{Rotation: 1}, nil
	}
	return c, err
}

// SetClock writes the clock over the version that it started from; studio.Missing when another was written meanwhile.
func (t *Tx) SetClock(ctx context.Context, lesson uuid.UUID, was int, c studio.Clock) error {
	return exec(ctx, t, `insert into lesson_clock as old (lesson_id, version, rotation, started_at, elapsed_ms, changed_by, changed_at)
		values ($1, $3, $4, $5, $6, $7, $8)
		on conflict (lesson_id) do update set version = $3, rotation = $4, started_at = $5, elapsed_ms = $6, changed_by = $7, changed_at = $8
		where old.version = $2`, lesson, was, c.Version, c.Rotation, c.StartedAt, c.ElapsedMS, t.savedBy(), t.Now)
}

// Rotations is how many rotations the plan of a lesson has, else how many its class usually has.
func (t *Tx) Rotations(ctx context.Context, lesson uuid.UUID) (int, error) {
	return value[int](ctx, t, `select coalesce((select p.rotations from plan p where p.lesson_id = l.id), c.rotations)
		from lesson l join class c on c.id = l.class_id where l.id = $1`, lesson)
}
