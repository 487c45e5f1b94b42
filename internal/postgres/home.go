package postgres

import (
	"context"
	"time"

	"github.com/google/uuid"
	"rungbook/internal/studio"
)

type homeRow struct {
	ID          uuid.UUID
	ChildID     uuid.UUID
	DrillKey    string
	Sets        int
	Repeats     int
	HoldSeconds int
	FromOn      time.Time
	UntilOn     time.Time
	Why         string
	Signed      string
	WithdrawnAt *time.Time
	ExceptionID *uuid.UUID
	TickedBy    string
	TickedOn    time.Time
	TickedUntil time.Time
	TickedFor   string
}

func (r homeRow) assignment() studio.HomeAssignment {
	h := studio.HomeAssignment{ID: r.ID, ChildID: r.ChildID, DrillKey: r.DrillKey, FromOn: r.FromOn, UntilOn: r.UntilOn, Why: r.Why, Signed: r.Signed,
		WithdrawnAt: r.WithdrawnAt, Dose: studio.Dose{Sets: r.Sets, Repeats: r.Repeats, HoldSeconds: r.HoldSeconds}}
	if r.ExceptionID != nil {
		h.Exception = &studio.HomeException{ID: *r.ExceptionID, ChildID: r.ChildID, DrillKey: r.DrillKey, Reason: r.TickedFor, Signed: r.TickedBy, TickedOn: r.TickedOn, UntilOn: r.TickedUntil}
	}
	return h
}

// homeOfSQL reads assignments of the children $1 with the exceptions that they stand on. Families see no staff, so no name.
const homeOfSQL = `select h.id, h.child_id, h.drill_key, h.sets, h.repeats, h.hold_seconds, h.from_on, h.until_on, h.why, h.withdrawn_at, h.exception_id,
	coalesce((select s.name from staff s where s.account_id = h.assigned_by), '') as signed, coalesce(x.signed, '') as ticked_by,
	coalesce(x.ticked_on, h.from_on) as ticked_on, coalesce(x.until_on, h.until_on) as ticked_until, coalesce(x.reason, '') as ticked_for
	from home_assignment h left join home_exception x on x.id = h.exception_id where h.child_id = any($1) order by h.assigned_at desc, h.id`

// HomeAssignmentsOf lists what a child was given for home, latest first, withdrawn ones too.
func (t *Tx) HomeAssignmentsOf(ctx context.Context, child uuid.UUID) ([]studio.HomeAssignment, error) {
	rows, err := many[homeRow](ctx, t, homeOfSQL, []uuid.UUID{child})
	return assignments(rows), err
}

func assignments(rows []homeRow) []studio.HomeAssignment {
	var given []studio.HomeAssignment
	for _, r := range rows {
		given = append(given, r.assignment())
	}
	return given
}

// AssignHome sends a drill home. The database refuses one that is not marked safe for home unless a live exception of the child for the
// drill is given, and one that a care limit forbids.
func (t *Tx) AssignHome(ctx context.Context, h studio.HomeAssignment) error {
	var exception *uuid.UUID
	if h.Exception != nil {
		exception = &h.Exception.ID
	}
	return exec(ctx, t, `insert into home_assignment (child_id, drill_key, sets, repeats, hold_seconds, from_on, until_on, why, assigned_by, assigned_at, home_safe, exception_id)
		values ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10, $11, $12)`,
		h.ChildID, h.DrillKey, h.Dose.Sets, h.Dose.Repeats, h.Dose.HoldSeconds, h.FromOn, h.UntilOn, h.Why, t.by(), t.Now, exception == nil, exception)
}

// WithdrawHome takes a drill back; studio.Missing when it is not out.
func (t *Tx) WithdrawHome(ctx context.Context, child, assignment uuid.UUID) error {
	return exec(ctx, t, `update home_assignment set withdrawn_at = $3 where id = $1 and child_id = $2 and withdrawn_at is null`, assignment, child, t.Now)
}
