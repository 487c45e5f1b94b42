package postgres

import (
	"context"
	"time"

	"github.com/google/uuid"
	"rungbook/internal/studio"
)

// KeptLimit is a care limit, and whether a reason is kept with it.
type KeptLimit struct {
	studio.CareLimit
	SetAt     time.Time
	HasReason bool
	Reported  bool // put in place by a report of soreness
}

// LimitChange is what became of a care limit once: it was set, extended or cleared, or its reason was read. UntilOn and ReviewOn are
// those after it.
type LimitChange struct {
	LimitID  uuid.UUID `db:"care_limit_id"`
	At       time.Time
	By       string // of the staff, as it may be shown; "" for somebody who is none
	What     string // "set", "extended", "cleared" or "reason read"
	UntilOn  *time.Time
	ReviewOn *time.Time
	Note     string
}

const (
	careLimitsSQL = `select l.id, l.child_id, l.avoid_back, l.avoid_wrists, l.avoid_landing, l.avoid_inverted, l.action, l.from_on,
		l.until_on, l.review_on, l.cleared_at, l.set_at,
		exists (select from care_limit_reason r where r.care_limit_id = l.id) as has_reason,
		exists (select from soreness s where s.care_limit_id = l.id) as reported
		from care_limit l where l.child_id = `
	careLimitsOrder = ` order by l.cleared_at is not null, l.from_on desc, l.set_at desc, l.id`
)

// CareLimitsOf lists the limits of children, those in force first, then the latest. Whoever may not read reasons is told of none.
func (t *Tx) CareLimitsOf(ctx context.Context, children []uuid.UUID) ([]KeptLimit, error) {
	return many[KeptLimit](ctx, t, careLimitsSQL+`any($1)`+careLimitsOrder, children)
}

// DueLimit is a care limit whose review has come.
type DueLimit struct {
	ChildID    uuid.UUID
	GivenName  string
	FamilyName string
	Action     string
	SetAt      time.Time
	Reported   bool
	Place      string   // of the report
	Signs      []string // ticked in it
}

// LimitsDue lists the limits in force that are due a review, of children whom the actor teaches (all of an owner's): those put in
// place by a report first.
func (t *Tx) LimitsDue(ctx context.Context) ([]DueLimit, error) {
	return many[DueLimit](ctx, t, `select l.child_id, c.given_name, d.family_name, l.action, l.set_at,
		s.id is not null as reported, coalesce(s.place, '') as place, coalesce(s.signs, '{}') as signs
		from care_limit l left join soreness s on s.care_limit_id = l.id join child c on c.id = l.child_id join child_detail d on d.child_id = c.id
		where l.cleared_at is null and l.review_on <= $1 and l.from_on <= $1 and coalesce(l.until_on, 'infinity') >= $1 and c.left_on is null
		and ($2::uuid[] is null or exists (select from enrolment e where e.child_id = c.id and e.class_id = any($2)))
		order by reported desc, l.set_at, l.id`, t.Today, t.taken())
}

// LimitChangesOf is what became of all limits of a child, the latest first.
func (t *Tx) LimitChangesOf(ctx context.Context, child uuid.UUID) ([]LimitChange, error) {
	return many[LimitChange](ctx, t, `select c.care_limit_id, c.at, coalesce((select s.name from staff s where s.account_id = c.by_account), '') as by,
		c.what, c.until_on, c.review_on, c.note from care_change c where c.child_id = $1 order by c.at desc, c.id`, child)
}

// noteChange writes what became of a limit of the child, with its days as they are now.
func (t *Tx) noteChange(ctx context.Context, child, limit uuid.UUID, what, note string) error {
	return exec(ctx, t, `insert into care_change (care_limit_id, child_id, at, by_account, what, until_on, review_on, note)
		select id, child_id, $3, $4, $5, until_on, review_on, $6 from care_limit where id = $1 and child_id = $2`, limit, child, t.Now, t.by(), what, note)
}

// SetCareLimit puts a limit in place; a reason that is not empty is kept apart from it.
func (t *Tx) SetCareLimit(ctx context.Context, l studio.CareLimit, reason string) (uuid.UUID, error) {
	id, err := value[uuid.UUID](ctx, t, `insert into care_limit (child_id, avoid_back, avoid_wrists, avoid_landing, avoid_inverted, action, from_on, until_on,
		review_on, set_by, set_at) values ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10, $11) returning id`,
		l.ChildID, l.AvoidBack, l.AvoidWrists, l.AvoidLanding, l.AvoidInverted, l.Action, l.FromOn, l.UntilOn, l.ReviewOn, t.by(), t.Now)
	if err != nil {
		return id, err
	}
	if err := t.noteChange(ctx, l.ChildID, id, "set", ""); err != nil || reason == "" {
		return id, err
	}
	return id, exec(ctx, t, `insert into care_limit_reason (care_limit_id, reason) values ($1, $2)`, id, reason)
}

// ClearCareLimit ends a limit of the child that is in force; studio.Missing when there is none such.
func (t *Tx) ClearCareLimit(ctx context.Context, child, limit uuid.UUID, note string) error {
	err := exec(ctx, t, `update care_limit set cleared_at = $3, cleared_by = $4
		where id = $1 and child_id = $2 and cleared_at is null`, limit, child, t.Now, t.by())
	if err != nil {
		return err
	}
	return t.noteChange(ctx, child, limit, "cleared", note)
}

// ExtendCareLimit gives a limit of the child that is in force, or whose last day has gone by, another last day and another day to look
// again; nil leaves it without one. studio.Missing when there is none such.
func (t *Tx) ExtendCareLimit(ctx context.Context, child, limit uuid.UUID, until, review *time.Time, note string) error {
	err := exec(ctx, t, `update care_limit set until_on = $3, review_on = $4 where id = $1 and child_id = $2 and cleared_at is null`, limit, child, until, review)
	if err != nil {
		return err
	}
	return t.noteChange(ctx, child, limit, "extended", note)
}

// CareReason is why a limit was set. That it was read is written down in the same transaction.
func (t *Tx) CareReason(ctx context.Context, child, limit uuid.UUID) (string, error) {
	reason, err := value[string](ctx, t, `select r.reason from care_limit_reason r join care_limit l on l.id = r.care_limit_id
		where l.id = $1 and l.child_id = $2`, limit, child)
	if err != nil {
		return "", err
	}
	return reason, t.noteChange(ctx, child, limit, "reason read", "")
}

const sorenessSQL = `select s.id, s.child_id, s.reported_at, s.place, s.how_much, s.doing, s.signs, s.began_on,
	(select l.cleared_at from care_limit l where l.id = s.care_limit_id) as cleared_at from soreness s
	where s.child_id = any($1) order by s.reported_at desc, s.id`

// SorenessOf lists the reports of children, latest first.
func (t *Tx) SorenessOf(ctx context.Context, children []uuid.UUID) ([]studio.Soreness, error) {
	return many[studio.Soreness](ctx, t, sorenessSQL, children)
}

// ReportSoreness keeps a report with the limit that it put in place.
func (t *Tx) ReportSoreness(ctx context.Context, s studio.Soreness, limit uuid.UUID) error {
	return exec(ctx, t, `insert into soreness (child_id, reported_by, reported_at, place, how_much, doing, signs, began_on, care_limit_id)
		values ($1, $2, $3, $4, $5, $6, $7, $8, $9)`, s.ChildID, t.by(), t.Now, s.Place, s.HowMuch, s.Doing, s.Signs, s.BeganOn, limit)
}

// by is the acting account, null for the program.
func (t *Tx) by() *uuid.UUID {
	if !t.Actor.SignedIn() {
		return nil
	}
	return &t.Actor.ID
}
