package postgres

import (
	"context"
	"time"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"
	"rungbook/internal/studio"
)

const enrolmentSQL = `select e.class_id, e.child_id, e.from_on, e.until_on, c.given_name, c.initial, coalesce(d.family_name, '') as family_name, k.name as class_name
	from enrolment e join child c on c.id = e.child_id left join child_detail d on d.child_id = c.id join class k on k.id = e.class_id `

// EnrolmentsOfClass lists the children who are or were in a class, by name.
func (t *Tx) EnrolmentsOfClass(ctx context.Context, class uuid.UUID) ([]studio.Enrolment, error) {
	return many[studio.Enrolment](ctx, t, enrolmentSQL+`where e.class_id = $1 order by lower(c.given_name), c.initial, c.id`, class)
}

// EnrolmentsOfChild lists the classes that a child is or was in, the newest first.
func (t *Tx) EnrolmentsOfChild(ctx context.Context, child uuid.UUID) ([]studio.Enrolment, error) {
	return many[studio.Enrolment](ctx, t, enrolmentSQL+`where e.child_id = $1 order by e.from_on desc, k.name`, child)
}

// EnrolmentsIn lists the enrolments of several classes.
func (t *Tx) EnrolmentsIn(ctx context.Context, classes []uuid.UUID) ([]studio.Enrolment, error) {
	return many[studio.Enrolment](ctx, t, enrolmentSQL+`where e.class_id = any($1) order by lower(c.given_name), c.initial, c.id`, classes)
}

// Enrol puts children into classes. Whoever is in the class already keeps the first day there, and an end that was set is lifted.
func (t *Tx) Enrol(ctx context.Context, enrolments []studio.Enrolment) error {
	batch := &pgx.Batch{}
	for _, e := range enrolments {
		batch.Queue(`insert into enrolment (class_id, child_id, from_on, until_on) values ($1, $2, $3, $4)
			on conflict (class_id, child_id) do update set until_on = $4, from_on = least(enrolment.from_on, $3)`, e.ClassID, e.ChildID, e.FromOn, e.UntilOn)
	}
	return t.tx.SendBatch(ctx, batch).Close()
}

// EndEnrolment ends a child's time in a class on a day; one that begins later never was.
func (t *Tx) EndEnrolment(ctx context.Context, class, child uuid.UUID, on time.Time) error {
	tag, err := t.tx.Exec(ctx, `delete from enrolment where class_id = $1 and child_id = $2 and from_on > $3`, class, child, on)
	if err != nil || tag.RowsAffected() > 0 {
		return err
	}
	return exec(ctx, t, `update enrolment set until_on = $3 where class_id = $1 and child_id = $2`, class, child, on)
}

// BirthDates are the birth dates of children, of those whom the actor may know them of.
func (t *Tx) BirthDates(ctx context.Context, children []uuid.UUID) (map[uuid.UUID]time.Time, error) {
	rows, err := many[struct {
		ChildID   uuid.UUID
		BirthDate time.Time
	}](ctx, t, `select child_id, birth_date from child_detail where child_id = any($1)`, children)
	born := make(map[uuid.UUID]time.Time, len(rows))
	for _, r := range rows {
		born[r.ChildID] = r.BirthDate
	}
	return born, err
}
