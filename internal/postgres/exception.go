package postgres

import (
	"context"

	"github.com/google/uuid"
	"rungbook/internal/studio"
)

const exceptionsSQL = `select id, child_id, drill_key, reason, signed, ticked_on, until_on, coalesce(ended_how, '') as ended_how, ended_at
	from home_exception where child_id = any($1) order by ended_at is not null, ticked_at desc, id`

// TickException keeps an exception, as the actor's. One for the same drill whose last day has passed is closed first; a second live one
// is a studio.Conflict. The database refuses a drill that needs a spotter.
func (t *Tx) TickException(ctx context.Context, x studio.HomeException) error {
	if _, err := t.tx.Exec(ctx, `update home_exception set ended_how = $4, ended_at = $5 where child_id = $1 and drill_key = $2 and ended_at is null and until_on < $3`,
		x.ChildID, x.DrillKey, t.Today, studio.EndOver, t.Now); err != nil {
		return err
	}
	return exec(ctx, t, `insert into home_exception (child_id, drill_key, reason, signed, ticked_by, ticked_at, ticked_on, until_on) values ($1, $2, $3, $4, $5, $6, $7, $8)`,
		x.ChildID, x.DrillKey, x.Reason, x.Signed, t.by(), t.Now, x.TickedOn, x.UntilOn)
}

// EndException ends one, and with it what was sent by it; studio.Missing when it is not there or has ended. The drill's key comes back.
func (t *Tx) EndException(ctx context.Context, child, exception uuid.UUID) (string, error) {
	return value[string](ctx, t, `update home_exception set ended_how = $3, ended_at = $4, ended_by = $5 where id = $1 and child_id = $2 and ended_at is null returning drill_key`,
		exception, child, studio.EndTakenBack, t.Now, t.by())
}

// EndExceptionsOf ends all of a child for want of consent, and with them what was sent by them; it counts them.
func (t *Tx) EndExceptionsOf(ctx context.Context, child uuid.UUID) (int, error) {
	tag, err := t.tx.Exec(ctx, `update home_exception set ended_how = $2, ended_at = $3, ended_by = $4 where child_id = $1 and ended_at is null`,
		child, studio.EndNoConsent, t.Now, t.by())
	return int(tag.RowsAffected()), err
}

// closeExceptions notes of those whose last day has passed that they are over.
func (t *Tx) closeExceptions(ctx context.Context) error {
	_, err := t.tx.Exec(ctx, `update home_exception set ended_how = $1, ended_at = $2 where ended_at is null and until_on < $3`, studio.EndOver, t.Now, t.Today)
	return err
}

// refusedException gives the words for a constraint about exceptions, "" for another.
func refusedException(constraint string) string {
	return map[string]string{
		"home_assignment_has_exception": "No exception for that drill is live over these days, so it was not sent.",
		"home_exception_no_spotter":     "A child may do this drill at home by an exception now, so it must not need a spotter. End the exception on the child's page first.",
		"home_exception_span":           "An exception lasts twelve weeks at most, from the day on which it is ticked.",
	}[constraint]
}
