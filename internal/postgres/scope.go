package postgres

import (
	"context"
	"fmt"
	"slices"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"
)

// Scope is what an actor may reach at this moment, worked out by the database from its rows. Row-level security (migration 0004)
// and the policy table of internal/app read the same scope; each of the two lines holds alone.
type Scope struct {
	Owner         bool
	Teacher       bool        // a teacher or an owner
	Teaches       []uuid.UUID // classes taken today
	Assists       []uuid.UUID // lessons helped at, from 15 minutes before to 15 after
	AssistClasses []uuid.UUID // the classes of those lessons
	Guards        []uuid.UUID // own children
	MayReport     []uuid.UUID // of these, for whom the actor may report that something hurts
	MayRead       []uuid.UUID // of these, whose released reports the actor may read
	MayInvite     []uuid.UUID // of these, to whom the actor may let further guardians in
}

// Takes reports whether the actor takes the class today.
func (s Scope) Takes(class uuid.UUID) bool { return slices.Contains(s.Teaches, class) }

// Guides reports whether the actor is a guardian of the child.
func (s Scope) Guides(child uuid.UUID) bool { return slices.Contains(s.Guards, child) }

// Reports reports whether the actor may report that something hurts the child.
func (s Scope) Reports(child uuid.UUID) bool { return slices.Contains(s.MayReport, child) }

// Reads reports whether the actor may read the child's released reports.
func (s Scope) Reads(child uuid.UUID) bool { return slices.Contains(s.MayRead, child) }

// Invites reports whether the actor may let further guardians in to the child.
func (s Scope) Invites(child uuid.UUID) bool { return slices.Contains(s.MayInvite, child) }

// HelpsAt reports whether the actor is rostered at the lesson now.
func (s Scope) HelpsAt(lesson uuid.UUID) bool { return slices.Contains(s.Assists, lesson) }

// identifySQL says who asks, and clears whatever an earlier transaction of the connection may have left. Row-level security makes plans
// look dear, so that PostgreSQL would compile each statement of a page for longer than it runs: jit is off.
const identifySQL = `select set_config('jit', 'off', true), set_config('app.actor', $1, true), set_config('app.owner', $2, true), set_config('app.teacher', $2, true),
  set_config('app.secret', $3, true), set_config('app.teaches', '', true), set_config('app.assists', '', true),
  set_config('app.assist_classes', '', true), set_config('app.guards', '', true), set_config('app.may_report', '', true),
  set_config('app.may_read', '', true), set_config('app.may_invite', '', true)`

// scopeSQL runs under row-level security with only the actor set: it sees the actor's own rows, which is all that it needs.
// For one statement more, app.teaches also names the classes helped at, so that assistsSQL can find their lessons; app.takes and
// app.helps tell the two apart for it.
const scopeSQL = `
with me as materialized (select id from account where id = $1 and disabled_at is null),
roles as materialized (select role from account_role where account_id = (select id from me)),
duties as materialized (
  select cs.class_id, cs.duty from class_staff cs join staff s on s.id = cs.staff_id
  where s.account_id = (select id from me) and s.left_on is null and cs.from_on <= $2 and coalesce(cs.until_on, 'infinity') >= $2
),
guarded as materialized (select child_id, rights from guardian where account_id = (select id from me) and removed_at is null),
found as materialized (
  select coalesce((select id::text from me), '') as actor,
    $3::boolean or exists (select from roles where role = 'owner') as owner,
    $3::boolean or exists (select from roles where role in ('owner', 'teacher')) as teacher,
    array(select distinct class_id from duties where duty = 'teacher' and exists (select from roles where role in ('owner', 'teacher')) order by 1) as teaches,
    array(select distinct class_id from duties where duty = 'assistant' and exists (select from roles) order by 1) as helps,
    array(select child_id from guarded order by 1) as guards,
    array(select child_id from guarded where 'hurt' = any(rights) order by 1) as may_report,
    array(select child_id from guarded where 'reports' = any(rights) order by 1) as may_read,
    array(select child_id from guarded where 'invite' = any(rights) order by 1) as may_invite
)
select owner, teacher, teaches, guards, may_report, may_read, may_invite,
  set_config('app.actor', actor, true), set_config('app.owner', owner::text, true), set_config('app.teacher', teacher::text, true),
  set_config('app.guards', guards::text, true), set_config('app.takes', teaches::text, true), set_config('app.helps', helps::text, true),
  set_config('app.teaches', (teaches || helps)::text, true), set_config('app.may_report', may_report::text, true),
  set_config('app.may_read', may_read::text, true), set_config('app.may_invite', may_invite::text, true) from found`

const assistsSQL = `
with now_at as materialized (
  select l.id, l.class_id from lesson l where l.class_id = any((select current_setting('app.helps')::uuid[])::uuid[]) and l.cancelled_at is null
    and $1::timestamptz between l.starts_at - interval '15 minutes' and l.starts_at + make_interval(mins => l.minutes + 15)
),
found as materialized (select array(select id from now_at order by 1) as lessons, array(select distinct class_id from now_at order by 1) as classes)
select lessons, classes, set_config('app.assists', lessons::text, true), set_config('app.assist_classes', classes::text, true),
  set_config('app.teaches', current_setting('app.takes'), true) from found`

// begin opens the transaction, makes it the actor's and reads what the actor may reach and the studio's settings: one round trip.
func (t *Tx) begin(ctx context.Context, secret string) error {
	batch := &pgx.Batch{}
	batch.Queue(`begin`)
	t.identify(batch, secret)
	s := &t.Scope
	batch.Queue(scopeSQL, t.Actor.ID, t.Today, t.Actor.Program).QueryRow(func(row pgx.Row) error {
		return row.Scan(&s.Owner, &s.Teacher, &s.Teaches, &s.Guards, &s.MayReport, &s.MayRead, &s.MayInvite, nil, nil, nil, nil, nil, nil, nil, nil, nil, nil)
	})
	batch.Queue(assistsSQL, t.Now).QueryRow(func(row pgx.Row) error { return row.Scan(&s.Assists, &s.AssistClasses, nil, nil, nil) })
	batch.Queue(settingsSQL).QueryRow(func(row pgx.Row) error { return scanSettings(row, &t.Settings) })
	if err := t.tx.SendBatch(ctx, batch).Close(); err != nil {
		return fmt.Errorf("set the actor: %w", err)
	}
	return nil
}

// identify says who asks, with what secret.
func (t *Tx) identify(batch *pgx.Batch, secret string) {
	id, owner := "", "off"
	if t.Actor.SignedIn() {
		id = t.Actor.ID.String()
	}
	if t.Actor.Program {
		owner = "on"
	}
	batch.Queue(identifySQL, id, owner, secret)
}
