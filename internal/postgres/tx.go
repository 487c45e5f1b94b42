package postgres

import (
	"context"
	"errors"
	"fmt"
	"strconv"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgconn"
	"github.com/jackc/pgx/v5/pgxpool"
	"rungbook/internal/studio"
)

// Tx is one transaction of one actor. Now is its one moment, Today the day of it in the studio's time zone (midnight UTC);
// Scope is what the actor may reach, Settings the studio's own.
type Tx struct {
	tx       *pgxpool.Conn // within the transaction
	ended    bool
	Now      time.Time
	Today    time.Time
	Actor    studio.Actor
	Scope    Scope
	Settings studio.Settings
	zone     *time.Location
}

// dayOf is the day of a moment in a time zone, as midnight UTC: the form in which dates come from the database.
func dayOf(moment time.Time, zone *time.Location) time.Time {
	y, m, d := moment.In(zone).Date()
	return time.Date(y, m, d, 0, 0, 0, 0, time.UTC)
}

// InTx runs fn in a transaction whose row-level security is that of the actor. An error from fn rolls back.
func (db *DB) InTx(ctx context.Context, actor studio.Actor, fn func(*Tx) error) error {
	return db.run(ctx, actor, "", fn)
}

// InSecret is InTx for somebody who holds a secret (a session id, an invitation) of which hash is the hex SHA-256.
func (db *DB) InSecret(ctx context.Context, actor studio.Actor, hash string, fn func(*Tx) error) error {
	return db.run(ctx, actor, hash, fn)
}

func (db *DB) run(ctx context.Context, actor studio.Actor, secret string, fn func(*Tx) error) error {
	return db.connected(ctx, actor, func(t *Tx) error {
		if err := t.begin(ctx, secret); err != nil {
			return err
		}
		return fn(t)
	})
}

// connected gives fn, which begins the transaction, a connection. The transaction is committed, or rolled back after an error.
func (db *DB) connected(ctx context.Context, actor studio.Actor, fn func(*Tx) error) error {
	conn, err := db.pool.Acquire(ctx)
	if err != nil {
		return fmt.Errorf("reach the database: %w", err)
	}
	defer conn.Release() // closes a connection that is still within a transaction
	now := db.now()
	t := &Tx{tx: conn, Now: now, Today: dayOf(now, db.zone), Actor: actor, zone: db.zone}
	if err := fn(t); err != nil {
		if !t.ended {
			conn.Exec(ctx, `rollback`) // what went wrong is told already
		}
		return explain(err)
	}
	return explain(t.commit(ctx))
}

// finish sends a batch of reads and ends the transaction in one round trip: nothing can be asked of it after that.
func (t *Tx) finish(ctx context.Context, reads *pgx.Batch) error {
	reads.Queue(`commit`)
	err := t.tx.SendBatch(ctx, reads).Close()
	t.ended = err == nil
	return err
}

func (t *Tx) commit(ctx context.Context) error {
	if t.ended {
		return nil
	}
	tag, err := t.tx.Exec(ctx, `commit`)
	if err == nil && tag.String() == "ROLLBACK" { // a statement failed and fn went on as if it had not
		err = pgx.ErrTxCommitRollback
	}
	return err
}

// Keep commits what was written so far; nothing more can be asked of the transaction after it. It is for an error that leaves a trace.
func (t *Tx) Keep(ctx context.Context) error {
	err := t.commit(ctx)
	t.ended = err == nil
	return err
}

// AsProgram runs fn with the row-level security of the program's own commands, within the same transaction. It is for sums over rows
// that the actor may not see one by one; only the sums may leave the caller.
func (t *Tx) AsProgram(ctx context.Context, fn func() error) error {
	if err := t.setOwner(ctx, true); err != nil {
		return err
	}
	if err := fn(); err != nil {
		return err // the transaction ends with it
	}
	return t.setOwner(ctx, t.Scope.Owner)
}

const setOwnerSQL = `select set_config('app.owner', $1, true)`

func (t *Tx) setOwner(ctx context.Context, on bool) error {
	_, err := t.tx.Exec(ctx, setOwnerSQL, strconv.FormatBool(on))
	return err
}

// explain gives the words for the few database errors that a person can cause and mend.
func explain(err error) error {
	var pg *pgconn.PgError
	if !errors.As(err, &pg) {
		return err
	}
	var already *studio.Error
	if errors.As(err, &already) {
		return err
	}
	switch pg.Code {
	case "23505": // unique_violation
		return &studio.Error{Code: studio.Conflict, Text: "There is one like that already. Nothing was saved; choose another name or open the one that is there.", Cause: err}
	case "23503": // foreign_key_violation
		if pg.ConstraintName == "home_assignment_drill_is_home_safe" {
			return &studio.Error{Code: studio.Invalid, Text: "That drill is not marked safe for home, so it was not sent.", Cause: err}
		}
		if pg.ConstraintName == "home_exception_drill" {
			return &studio.Error{Code: studio.Invalid, Text: "That drill needs a spotter, so no exception lets it go home.", Cause: err}
		}
		if pg.ConstraintName == pg.TableName+"_child_id_fkey" { // only ever broken by writing about a child that is not there
			return fmt.Errorf("%w: %w", studio.Missing(), err)
		}
		return &studio.Error{Code: studio.Conflict, Text: "Something else still uses it, or it is no longer there. Nothing was changed.", Cause: err}
	case "23514": // check_violation
		if pg.ConstraintName == "home_assignment_obeys_limits" {
			return &studio.Error{Code: studio.Invalid, Text: "A care limit of the child forbids that drill, so it was not sent.", Cause: err}
		}
		if pg.ConstraintName == "home_assignment_home_safe_check" {
			return &studio.Error{Code: studio.Conflict, Text: "Families have this drill for home now, so it must stay safe for home. Withdraw it from them first.", Cause: err}
		}
		if words := refusedException(pg.ConstraintName); words != "" {
			return &studio.Error{Code: studio.Conflict, Text: words, Cause: err}
		}
		if pg.ConstraintName == "term_is_put_away" {
			return &studio.Error{Code: studio.Conflict, Text: "The term has been put away, so what is in it stays as it is. An owner can take it out again on its page.", Cause: err}
		}
		return &studio.Error{Code: studio.Invalid, Text: "A value is outside what is allowed. Nothing was saved.", Cause: err}
	case "42501": // insufficient_privilege: row-level security refused a write
		return fmt.Errorf("%w: %w", studio.Missing(), err)
	case "22021", "22P05": // bad bytes
		return &studio.Error{Code: studio.Invalid, Text: "The text holds a character that cannot be kept. Nothing was saved.", Cause: err}
	}
	return err
}

// one scans a single row into T by column name; studio.Missing when there is none.
func one[T any](ctx context.Context, t *Tx, sql string, args ...any) (T, error) {
	rows, err := t.tx.Query(ctx, sql, args...)
	if err != nil {
		var zero T
		return zero, err
	}
	v, err := pgx.CollectExactlyOneRow(rows, pgx.RowToStructByNameLax[T])
	if errors.Is(err, pgx.ErrNoRows) {
		return v, studio.Missing()
	}
	return v, err
}

// many scans rows into T by column name.
func many[T any](ctx context.Context, t *Tx, sql string, args ...any) ([]T, error) {
	rows, err := t.tx.Query(ctx, sql, args...)
	if err != nil {
		return nil, err
	}
	return pgx.CollectRows(rows, pgx.RowToStructByNameLax[T])
}

// column scans the single column of rows.
func column[T any](ctx context.Context, t *Tx, sql string, args ...any) ([]T, error) {
	rows, err := t.tx.Query(ctx, sql, args...)
	if err != nil {
		return nil, err
	}
	return pgx.CollectRows(rows, pgx.RowTo[T])
}

// value scans a single value; studio.Missing when there is no row.
func value[T any](ctx context.Context, t *Tx, sql string, args ...any) (T, error) {
	rows, err := t.tx.Query(ctx, sql, args...)
	if err != nil {
		var zero T
		return zero, err
	}
	v, err := pgx.CollectExactlyOneRow(rows, pgx.RowTo[T])
	if errors.Is(err, pgx.ErrNoRows) {
		return v, studio.Missing()
	}
	return v, err
}

// exec runs a statement and fails with studio.Missing when it touched no row.
func exec(ctx context.Context, t *Tx, sql string, args ...any) error {
	tag, err := t.tx.Exec(ctx, sql, args...)
	if err == nil && tag.RowsAffected() == 0 {
		return studio.Missing()
	}
	return err
}

// Day is when a transaction happened, for pages that say "in 3 days" or "today".
type Day struct {
	Now   time.Time
	Today time.Time // midnight UTC of the studio's day
	Zone  *time.Location
}

// Day is the transaction's moment and day.
func (t *Tx) Day() Day { return Day{t.Now, t.Today, t.zone} }
