package postgres

import (
	"context"
	"time"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"
	"rungbook/internal/studio"
)

// AskErasure keeps a guardian's request.
func (t *Tx) AskErasure(ctx context.Context, child uuid.UUID, words string) error {
	return exec(ctx, t, `insert into erasure_request (child_id, asked_by, words, asked_at) values ($1, $2, $3, $4)`, child, t.Actor.ID, words, t.Now)
}

const requestsSQL = `select r.id, r.child_id, trim(c.given_name || ' ' || coalesce(d.family_name, c.initial)) as child_name, r.words, r.asked_at, r.decided_at, r.erased, r.answer
	from erasure_request r join child c on c.id = r.child_id left join child_detail d on d.child_id = c.id`

// ErasureRequests lists what was asked, open ones first, then the latest; of one child, or (nil) of all.
func (t *Tx) ErasureRequests(ctx context.Context, child *uuid.UUID) ([]studio.ErasureRequest, error) {
	return many[studio.ErasureRequest](ctx, t, requestsSQL+` where $1::uuid is null or r.child_id = $1 order by r.decided_at is not null, r.asked_at desc, r.id`, child)
}

// DecideErasure closes the open request about a child, where there is one, and reports whether there was.
func (t *Tx) DecideErasure(ctx context.Context, child uuid.UUID, erased bool, answer string) (bool, error) {
	tag, err := t.tx.Exec(ctx, `update erasure_request set erased = $2, answer = $3, decided_by = $4, decided_at = $5,
		words = case when $2 then '' else words end where child_id = $1 and decided_at is null`, child, erased, answer, t.by(), t.Now)
	return tag.RowsAffected() > 0, err
}

// IncidentsKept counts the incident records about a child, and gives the last day until which one must be kept.
func (t *Tx) IncidentsKept(ctx context.Context, child uuid.UUID) (n int, until time.Time, err error) {
	kept, err := one[struct {
		N     int
		Until time.Time
	}](ctx, t, `select count(*)::int as n, coalesce(max(keep_until), $2) as until from incident where child_id = $1`, child, t.Today)
	return kept.N, kept.Until, err
}

// erasures are the statements that erase a child, in order. What stays hangs on the
// tombstone: marks, attendance, efforts, places in classes and plans, and the trail.
var erasures = []string{
	// Incident records stay until their day, with whom they are about.
	`insert into incident_person (incident_id, name, birth_date) select i.id, trim(c.given_name || ' ' || d.family_name), d.birth_date
	 from incident i join child c on c.id = i.child_id join child_detail d on d.child_id = c.id where c.id = @child`,
	// The tombstone. Of the birth date the year stays, for sums by age.
	`update child set given_name = 'Erased', initial = '', erased_at = @now, left_on = coalesce(left_on, @today) where id = @child`,
	`update child_detail set family_name = 'child', contact = '', roster_ref = null, birth_date = make_date(extract(year from birth_date)::int, 1, 1) where child_id = @child`,
	`update enrolment set until_on = greatest(from_on, @today::date - 1) where child_id = @child and coalesce(until_on, 'infinity') >= @today`,
	// What says something of the child in words, and what is about its health.
	`delete from child_note where child_id = @child`,
	`delete from sheet_note where child_id = @child`,
	`delete from report_note where child_id = @child`,
	`delete from sheet_item where child_id = @child`,
	`delete from soreness where child_id = @child`,
	`delete from care_limit where child_id = @child`,
	`delete from health_read where child_id = @child`,
	`delete from practice where child_id = @child`,
	`delete from home_assignment where child_id = @child`,
	`delete from home_exception where child_id = @child`,
	`delete from message where child_id = @child`,
	`delete from report_release where child_id = @child`,
	`delete from report_note where child_id = @child`,
	`delete from consent_answer where child_id = @child`,
	`delete from piece_part_child where child_id = @child`,
	`delete from piece_swap where child_id = @child`,
	`delete from forecast_kept where child_id = @child`,
	`delete from class_pair where @child in (child_a, child_b)`,
	// The family. Accounts that are there for this child alone go too.
	`update erasure_request set asked_by = null, words = '' where child_id = @child`,
	`update invitation set child_ids = array_remove(child_ids, @child) where @child = any(child_ids)`,
	`delete from invitation where kind = 'join' and used_at is null and child_ids = '{}' and roles = '{}'`,
	`delete from account a where exists (select from guardian g where g.account_id = a.id and g.child_id = @child)
	   and not exists (select from guardian g where g.account_id = a.id and g.child_id <> @child and g.removed_at is null)
	   and not exists (select from account_role r where r.account_id = a.id) and not exists (select from staff s where s.account_id = a.id)`,
	`delete from guardian where child_id = @child`,
}

// EraseChild makes a child's row a tombstone and takes away what else is known of it; the transaction must be open for it
// (OpenErasure). studio.Missing when there is no such child to the actor, or it is erased already.
func (t *Tx) EraseChild(ctx context.Context, child uuid.UUID) error {
	if _, err := value[bool](ctx, t, `select true from child where id = $1 and erased_at is null for update`, child); err != nil {
		return err
	}
	batch := &pgx.Batch{}
	for _, sql := range erasures {
		batch.Queue(sql, pgx.NamedArgs{"child": child, "now": t.Now, "today": t.Today})
	}
	return t.tx.SendBatch(ctx, batch).Close()
}
