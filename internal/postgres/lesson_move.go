package postgres

import (
	"context"
	"time"

	"github.com/google/uuid"
)

// MoveLesson makes a lesson start at another moment.
func (t *Tx) MoveLesson(ctx context.Context, lesson uuid.UUID, startsAt time.Time) error {
	return exec(ctx, t, `update lesson set starts_at = $2 where id = $1`, lesson, startsAt)
}
