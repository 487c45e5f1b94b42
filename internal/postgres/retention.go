package postgres

import (
	"context"
	"fmt"

	"github.com/jackc/pgx/v5"
	"rungbook/internal/studio"
)

// clearing is one kind of thing that goes after its time.
type clearing struct{ kind, sql string }

// clearings are what goes, by kind, in order. @now is the moment, @today the day; the rest are the figures of studio.RetentionRule.
var clearings = []clearing{
	{"attempts", `delete from sign_in_attempt where at < @now::timestamptz - make_interval(days => @attempts)`},
	{"sessions", `delete from session where expires_at < @now`},
	{"links", `delete from invitation where coalesce(used_at, expires_at) < @now::timestamptz - make_interval(days => @links)`},
	{"account notes", `delete from account_note where at < @now::timestamptz - make_interval(days => 90)`},
	{"changes of address", `delete from email_change where asked_at < @now::timestamptz - make_interval(days => 7)`},
	{"items", `delete from sheet_item i where received_at < @now::timestamptz - make_interval(months => @items) and (answer = 'stored'
		or exists (select from sheet_verdict v where (v.item_id, v.digest) = (i.id, i.digest)))`},
	{"notes", `delete from child_note where written_at < @now::timestamptz - make_interval(months => @notes)`},
	{"hall notes", `delete from sheet_note where written_at < @now::timestamptz - make_interval(months => @notes)`},
	{"practice", `delete from practice where done_on < @today::date - make_interval(months => @home)`},
	{"home drills", `delete from home_assignment where until_on < @today::date - make_interval(months => @home)`},
	{"home exceptions", `delete from home_exception x where until_on < @today::date - make_interval(months => @home) and not exists (select from home_assignment h where h.exception_id = x.id)`},
	{"messages", `delete from message where written_at < @now::timestamptz - make_interval(months => @home)`},
	{"reports", `delete from report_release where released_at < @now::timestamptz - make_interval(months => @home)`},
	{"forecasts", `delete from forecast_kept where due_on < @today::date - make_interval(months => @notes)`},
	{"soreness", `delete from soreness where reported_at < @now::timestamptz - make_interval(months => @health)`},
	{"care limits", `delete from care_limit where coalesce(cleared_at::date, until_on) < @today::date - make_interval(months => @health)`},
	{"health reads", `delete from health_read where at < @now::timestamptz - make_interval(months => @health)`},
	{"incident records", `delete from incident where keep_until < @today`},
}

// BeginRetentionRun reports whether the day's clearing is still to be done, and takes it on until the transaction ends: of several
// copies of the program one does it and the others leave it. The transaction must be open for it (OpenClearing).
func (t *Tx) BeginRetentionRun(ctx context.Context) (bool, error) {
	first, err := value[bool](ctx, t, `select pg_try_advisory_xact_lock(hashtext('rungbook.retention'))`)
	if err != nil || !first {
		return false, err
	}
	return value[bool](ctx, t, `select not exists (select from retention_run where ran_on = $1)`, t.Today)
}

// ClearOut deletes what was kept long enough by the rule, keeps a row of the run, and counts what went by kind. Exceptions for home whose
// last day has passed are closed.
func (t *Tx) ClearOut(ctx context.Context, r studio.RetentionRule) (map[string]int, error) {
	gone := map[string]int{}
	batch := &pgx.Batch{}
	args := pgx.NamedArgs{"now": t.Now, "today": t.Today, "attempts": r.Attempts, "links": r.Links, "items": r.Items, "notes": r.Notes, "home": r.Home, "health": r.Health}
	for _, c := range clearings {
		batch.Queue(c.sql, args)
	}
	results := t.tx.SendBatch(ctx, batch)
	for _, c := range clearings {
		tag, err := results.Exec()
		if err != nil {
			results.Close()
			return nil, fmt.Errorf("clear out %s: %w", c.kind, err)
		}
		if n := int(tag.RowsAffected()); n > 0 {
			gone[c.kind] = n
		}
	}
	if err := results.Close(); err != nil {
		return nil, err
	}
	if err := t.closeExceptions(ctx); err != nil {
		return nil, err
	}
	return gone, exec(ctx, t, `insert into retention_run (ran_on, ran_at, gone) values ($1, $2, $3)`, t.Today, t.Now, gone)
}

// RetentionRuns lists the latest runs.
func (t *Tx) RetentionRuns(ctx context.Context, limit int) ([]studio.RetentionRun, error) {
	return many[studio.RetentionRun](ctx, t, `select ran_on, ran_at, gone from retention_run order by ran_on desc limit $1`, limit)
}
