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
	WithdrawnAt *time.Time
}

func (r homeRow) assignment() studio.HomeAssignment {
	return studio.HomeAssignment{ID: r.ID, ChildID: r.ChildID, DrillKey: r.DrillKey, FromOn: r.FromOn, UntilOn: r.UntilOn, Why: r.Why,
		WithdrawnAt: r.WithdrawnAt, Dose: studio.Dose{Sets: r.Sets, Repeats: r.Repeats, HoldSeconds: r.HoldSeconds}}
}

const homeOfSQL = `select id, child_id, drill_key, sets, repeats, hold_seconds, from_on, until_on, why, withdrawn_at
	from home_assignment where child_id = $1 order by assigned_at desc, id`

// HomeAssignmentsOf lists what a child was given for home, latest first, withdrawn ones too.
func (t *Tx) HomeAssignmentsOf(ctx context.Context, child uuid.UUID) ([]studio.HomeAssignment, error) {
	rows, err := many[homeRow](ctx, t, homeOfSQL, child)
	return assignments(rows), err
}

func assignments(rows []homeRow) []studio.HomeAssignment {
	var given []studio.HomeAssignment
	for _, r := range rows {
		given = append(given, r.assignment())
	}
	return given
}

// AssignHome sends a drill home. The database refuses one that is not marked safe for home, or that a care limit forbids.
func (t *Tx) AssignHome(ctx context.Context, h studio.HomeAssignment) error {
	return exec(ctx, t, `insert into home_assignment (child_id, drill_key, sets, repeats, hold_seconds, from_on, until_on, why, assigned_by, assigned_at)
		values ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10)`,
		h.ChildID, h.DrillKey, h.Dose.Sets, h.Dose.Repeats, h.Dose.HoldSeconds, h.FromOn, h.UntilOn, h.Why, t.by(), t.Now)
}

// WithdrawHome takes a drill back; studio.Missing when it is not out.
func (t *Tx) WithdrawHome(ctx context.Context, child, assignment uuid.UUID) error {
	return exec(ctx, t, `update home_assignment set withdrawn_at = $3 where id = $1 and child_id = $2 and withdrawn_at is null`, assignment, child, t.Now)
}
