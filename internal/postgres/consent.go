package postgres

import (
	"context"
	"strconv"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"
	"rungbook/internal/studio"
)

// ConsentTexts lists the present words of every purpose.
func (t *Tx) ConsentTexts(ctx context.Context) ([]studio.ConsentText, error) {
	return many[studio.ConsentText](ctx, t, `select distinct on (purpose) purpose, version, words, written_at from consent_text order by purpose, version desc`)
}

// AddConsentText keeps other words as a new version; the answers to the old ones stay with those.
func (t *Tx) AddConsentText(ctx context.Context, purpose studio.Purpose, words string) (int, error) {
	return value[int](ctx, t, `insert into consent_text (purpose, version, words, written_by, written_at)
		select $1, coalesce(max(version), 0) + 1, $2, $3, $4 from consent_text where purpose = $1 returning version`, purpose, words, t.by(), t.Now)
}

// AnswerConsent adds the actor's answer to the present words; studio.Missing where there are none.
func (t *Tx) AnswerConsent(ctx context.Context, child uuid.UUID, purpose studio.Purpose, given bool) error {
	return exec(ctx, t, `insert into consent_answer (child_id, account_id, purpose, version, nth, given, answered_at)
		select $1, $2, $3, max(version), 1 + (select coalesce(max(nth), 0) from consent_answer where (child_id, account_id, purpose) = ($1, $2, $3)), $4, $5
		from consent_text where purpose = $3 having count(*) > 0`, child, t.Actor.ID, purpose, given, t.Now)
}

const ledgerSQL = `select child_id, account_id, purpose, version, given, answered_at from consent_answer`

// ConsentLedger lists every answer about a child that the actor may read, the newest first.
func (t *Tx) ConsentLedger(ctx context.Context, child uuid.UUID) ([]studio.ConsentAnswer, error) {
	return many[studio.ConsentAnswer](ctx, t, ledgerSQL+` where child_id = $1 order by answered_at desc, nth desc, id`, child)
}

// standingSQL is the last answer of each present guardian to the present words of a purpose.
const standingSQL = `select distinct on (a.child_id, a.account_id) a.child_id, a.account_id, a.purpose, a.version, a.given, a.answered_at
	from consent_answer a join guardian g on (g.account_id, g.child_id) = (a.account_id, a.child_id) and g.removed_at is null
	where a.purpose = $1 and a.version = (select max(version) from consent_text where purpose = $1)`

// ConsentStands lists, for each child, the last answers of its present guardians to the present words of a purpose, for owners.
func (t *Tx) ConsentStands(ctx context.Context, purpose studio.Purpose) ([]studio.ConsentAnswer, error) {
	return many[studio.ConsentAnswer](ctx, t, standingSQL+` order by a.child_id, a.account_id, a.nth desc`, purpose)
}

// HasConsent reports whether a child has consent for a purpose by the present words. It looks at all guardians as the program, since
// neither one of them nor a teacher sees the others; only the judgement leaves. One round trip.
func (t *Tx) HasConsent(ctx context.Context, purpose studio.Purpose, child uuid.UUID) (bool, error) {
	var answers []studio.ConsentAnswer
	batch := &pgx.Batch{}
	batch.Queue(setOwnerSQL, "true")
	batch.Queue(standingSQL+` and a.child_id = $2 order by a.child_id, a.account_id, a.nth desc`, purpose, child).Query(func(rows pgx.Rows) error {
		var err error
		answers, err = pgx.CollectRows(rows, pgx.RowToStructByNameLax[studio.ConsentAnswer])
		return err
	})
	batch.Queue(setOwnerSQL, strconv.FormatBool(t.Scope.Owner))
	err := t.tx.SendBatch(ctx, batch).Close()
	return studio.Consented(answers), err
}

// FamiliesToTell lists the guardians of a child, or of the children who are in a class today, who may sign in and said yes to e-mail
// about messages. Run it as the program, and let no address leave but in a letter.
func (t *Tx) FamiliesToTell(ctx context.Context, child, class uuid.UUID) ([]Reachable, error) {
	return many[Reachable](ctx, t, `select distinct a.name, a.email, a.language from (`+standingSQL+` order by a.child_id, a.account_id, a.nth desc) s
		join account a on a.id = s.account_id and a.disabled_at is null and a.joined_at is not null
		where s.given and (s.child_id = $2 or s.child_id in (select e.child_id from enrolment e where e.class_id = $3 and e.from_on <= $4 and coalesce(e.until_on, 'infinity') >= $4))
		order by a.email`, studio.Letters, child, class, t.Today)
}

// WithdrawAdultDrills takes back the drills of a child that need an adult in the room, and counts them.
func (t *Tx) WithdrawAdultDrills(ctx context.Context, child uuid.UUID) (int, error) {
	tag, err := t.tx.Exec(ctx, `update home_assignment h set withdrawn_at = $2 from drill d where d.key = h.drill_key and d.home_adult
		and h.child_id = $1 and h.withdrawn_at is null and h.until_on >= $3`, child, t.Now, t.Today)
	return int(tag.RowsAffected()), err
}
