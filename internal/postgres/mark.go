package postgres

import (
	"context"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"
	"rungbook/internal/studio"
)

// SeenMark is a mark as engines read it.
type SeenMark struct {
	studio.Mark
	MarkedByName string // as it may be shown; "" when the account is not to be seen or gone
	SafetyFault  bool   // one of its faults can hurt
}

const marksSQL = `select m.id, m.child_id, m.rung_key, m.lesson_id, m.side, m.outcome, m.marked_by, m.marked_at, m.replaces,
	coalesce(array_agg(f.fault_key order by f.fault_key) filter (where f.fault_key is not null), '{}') as faults,
	coalesce(bool_or(x.safety), false) as safety_fault,
	coalesce((select s.name from staff s where s.account_id = m.marked_by), '') as marked_by_name
	from mark m left join mark_fault f on f.mark_id = m.id left join fault x on (x.rung_key, x.key) = (f.rung_key, f.fault_key)
	where m.child_id = any($1) and ` + standingMarks + ` and not ` + waitingMark + `
	group by m.id order by m.received_at, m.marked_at, m.id`

// MarksOf reads the marks in force of children, oldest first: less those that were corrected, taken back, or wait for
// a teacher's word.
func (t *Tx) MarksOf(ctx context.Context, children []uuid.UUID) ([]SeenMark, error) {
	return many[SeenMark](ctx, t, marksSQL, children)
}

// AddMarks appends marks with their faults.
func (t *Tx) AddMarks(ctx context.Context, marks []studio.Mark) error {
	batch := &pgx.Batch{}
	for _, m := range marks {
		batch.Queue(`insert into mark (id, child_id, rung_key, lesson_id, side, outcome, marked_by, marked_at, received_at, replaces)
			values ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10)`,
			m.ID, m.ChildID, m.RungKey, m.LessonID, m.Side, m.Outcome, m.MarkedBy, m.MarkedAt, t.Now, m.Replaces)
		for _, f := range m.Faults {
			batch.Queue(`insert into mark_fault (mark_id, rung_key, fault_key) values ($1, $2, $3)`, m.ID, m.RungKey, f)
		}
	}
	return t.tx.SendBatch(ctx, batch).Close()
}

// KnowsMark reports whether a mark of the child was ever made, in force or not.
func (t *Tx) KnowsMark(ctx context.Context, child, id uuid.UUID) (bool, error) {
	return value[bool](ctx, t, `select exists (select from mark where id = $1 and child_id = $2)`, id, child)
}
