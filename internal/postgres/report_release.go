package postgres

import (
	"context"
	"time"

	"github.com/google/uuid"
	"rungbook/internal/studio"
)

const releasesSQL = `select r.class_id, r.child_id, c.name as class, m.name as term, r.as_of, r.released_at
	from report_release r join class c on c.id = r.class_id join term m on m.id = c.term_id where `

const releasesOfChild = `r.child_id = $1 order by r.released_at desc, r.class_id`

// ReleasesOfClass lists the reports of a class that families may read.
func (t *Tx) ReleasesOfClass(ctx context.Context, class uuid.UUID) ([]studio.ReleasedReport, error) {
	return many[studio.ReleasedReport](ctx, t, releasesSQL+`r.class_id = $1`, class)
}

// ReleasesOfChild lists the reports of a child that its family may read, the newest first.
func (t *Tx) ReleasesOfChild(ctx context.Context, child uuid.UUID) ([]studio.ReleasedReport, error) {
	return many[studio.ReleasedReport](ctx, t, releasesSQL+releasesOfChild, child)
}

// ReleasedFile is the file of a released report; studio.Missing when there is none to be seen.
func (t *Tx) ReleasedFile(ctx context.Context, class, child uuid.UUID) ([]byte, error) {
	return value[[]byte](ctx, t, `select body from report_release where class_id = $1 and child_id = $2`, class, child)
}

// ReleaseReport lets a child's family read a report; one released before is replaced.
func (t *Tx) ReleaseReport(ctx context.Context, class, child uuid.UUID, asOf time.Time, body []byte) error {
	return exec(ctx, t, `insert into report_release (class_id, child_id, released_by, released_at, as_of, body) values ($1, $2, $3, $4, $5, $6)
		on conflict (class_id, child_id) do update set released_by = $3, released_at = $4, as_of = $5, body = $6`, class, child, t.by(), t.Now, asOf, body)
}

// TakeBackReport ends it; studio.Missing when the report was not released.
func (t *Tx) TakeBackReport(ctx context.Context, class, child uuid.UUID) error {
	return exec(ctx, t, `delete from report_release where class_id = $1 and child_id = $2`, class, child)
}
