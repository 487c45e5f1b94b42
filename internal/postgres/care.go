package postgres

import (
	"context"
	"time"

	"github.com/google/uuid"
	"rungbook/internal/studio"
)

// KeptLimit is a care limit with who set it, as it may be shown, and whether a reason is kept with it.
type KeptLimit struct {
	studio.CareLimit
	SetAt     time.Time
	ClearNote string
	HasReason bool
	Reported  bool // put in place by a report of soreness
}

// CareLimitsOf lists the limits of children, those in force first, then the latest. Whoever may not read reasons is told of none.
func (t *Tx) CareLimitsOf(ctx context.Context, children []uuid.UUID) ([]KeptLimit, error) {
	return many[KeptLimit](ctx, t, `select l.id, l.child_id, l.avoid_back, l.avoid_wrists, l.avoid_landing, l.avoid_inverted, l.action, l.from_on,
		l.until_on, l.review_on, l.cleared_at, l.set_at, l.clear_note,
		exists (select from care_limit_reason r where r.care_limit_id = l.id) as has_reason,
		exists (select from soreness s where s.care_limit_id = l.id) as reported
		from care_limit l where l.child_id = any($1) order by l.cleared_at is not null, l.from_on desc, l.set_at desc, l.id`, children)
}

// DueLimit is a care limit whose review has come.
type DueLimit struct {
	ChildID    uuid.UUID
	GivenName  string
	FamilyName string
	Action     string
	SetAt      time.Time
	Reported   bool
}

// LimitsDue lists the limits in force that are due a review, of children whom the actor teaches (all of an owner's): those put in
// place by a report first.
func (t *Tx) LimitsDue(ctx context.Context) ([]DueLimit, error) {
	return many[DueLimit](ctx, t, `select l.child_id, c.given_name, d.family_name, l.action, l.set_at,
		exists (select from soreness s where s.care_limit_id = l.id) as reported
		from care_limit l join child c on c.id = l.child_id join child_detail d on d.child_id = c.id
		where l.cleared_at is null and l.review_on <= $1 and l.from_on <= $1 and coalesce(l.until_on, 'infinity') >= $1 and c.left_on is null
		and ($2::uuid[] is null or exists (select from enrolment e where e.child_id = c.id and e.class_id = any($2)))
		order by reported desc, l.set_at, l.id`, t.Today, t.taken())
}

// SetCareLimit puts a limit in place; a reason that is not empty is kept apart from it.
func (t *Tx) SetCareLimit(ctx context.Context, l studio.CareLimit, reason string) (uuid.UUID, error) {
	id, err := value[uuid.UUID](ctx, t, `insert into care_limit (child_id, avoid_back, avoid_wrists, avoid_landing, avoid_inverted, action, from_on, until_on,
		review_on, set_by, set_at) values ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10, $11) returning id`,
		l.ChildID, l.AvoidBack, l.AvoidWrists, l.AvoidLanding, l.AvoidInverted, l.Action, l.FromOn, l.UntilOn, l.ReviewOn, t.by(), t.Now)
	if err != nil || reason == "" {
		return id, err
	}
	return id, exec(ctx, t, `insert into care_limit_reason (care_limit_id, reason) values ($1, $2)`, id, reason)
}

// ClearCareLimit ends a limit of the child that is in force; studio.Missing when there is none such.
func (t *Tx) ClearCareLimit(ctx context.Context, child, limit uuid.UUID, note string) error {
	return exec(ctx, t, `update care_limit set cleared_at = $3, cleared_by = $4, clear_note = $5
		where id = $1 and child_id = $2 and cleared_at is null`, limit, child, t.Now, t.by(), note)
}

// CareReason is why a limit was set. Whoever calls it writes to the trail in the same transaction.
func (t *Tx) CareReason(ctx context.Context, child, limit uuid.UUID) (string, error) {
	return value[string](ctx, t, `select r.reason from care_limit_reason r join care_limit l on l.id = r.care_limit_id
		where l.id = $1 and l.child_id = $2`, limit, child)
}

// SorenessOf lists the reports of children, latest first.
func (t *Tx) SorenessOf(ctx context.Context, children []uuid.UUID) ([]studio.Soreness, error) {
	return many[studio.Soreness](ctx, t, `select id, child_id, reported_at, place, how_much, doing, signs from soreness
		where child_id = any($1) order by reported_at desc, id`, children)
}

// ReportSoreness keeps a report with the limit that it put in place.
func (t *Tx) ReportSoreness(ctx context.Context, s studio.Soreness, limit uuid.UUID) error {
	return exec(ctx, t, `insert into soreness (child_id, reported_by, reported_at, place, how_much, doing, signs, care_limit_id)
		values ($1, $2, $3, $4, $5, $6, $7, $8)`, s.ChildID, t.by(), t.Now, s.Place, s.HowMuch, s.Doing, s.Signs, limit)
}

// by is the acting account, null for the program.
func (t *Tx) by() *uuid.UUID {
	if !t.Actor.SignedIn() {
		return nil
	}
	return &t.Actor.ID
}
