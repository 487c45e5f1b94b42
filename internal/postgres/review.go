package postgres

import (
	"context"

	"github.com/google/uuid"
	"rungbook/internal/studio"
)

const keptItemSQL = `select i.id, i.digest, i.lesson_id, i.child_id, i.sent_by, coalesce((select s.name from staff s where s.account_id = i.sent_by), '') as sent_by_name,
	i.content, i.answer, i.words, i.received_at from sheet_item i
	where i.answer in ('quarantined', 'conflict', 'invalid') and not exists (select from sheet_verdict v where v.item_id = i.id and v.digest = i.digest)`

// UndecidedItems are the items of a lesson that did not count at once and about which nobody has decided, in the order of arrival.
func (t *Tx) UndecidedItems(ctx context.Context, lesson uuid.UUID) ([]studio.KeptItem, error) {
	return many[studio.KeptItem](ctx, t, keptItemSQL+` and i.lesson_id = $1 order by i.received_at, i.id, i.digest`, lesson)
}

// UndecidedItem is one of them; studio.Missing when there is none, or it was decided.
func (t *Tx) UndecidedItem(ctx context.Context, id uuid.UUID, digest string) (studio.KeptItem, error) {
	return one[studio.KeptItem](ctx, t, keptItemSQL+` and i.id = $1 and i.digest = $2`, id, digest)
}

// DecideItem writes what was decided about an item.
func (t *Tx) DecideItem(ctx context.Context, id uuid.UUID, digest string, accepted bool) error {
	return exec(ctx, t, `insert into sheet_verdict (item_id, digest, accepted, given_by, given_at) values ($1, $2, $3, $4, $5)`, id, digest, accepted, t.savedBy(), t.Now)
}

// SheetNotes are the quick notes of a lesson, in order.
func (t *Tx) SheetNotes(ctx context.Context, lesson uuid.UUID) ([]studio.SheetNote, error) {
	return many[studio.SheetNote](ctx, t, `select n.id, n.lesson_id, n.child_id, n.note, n.written_by, n.written_at,
		coalesce((select s.name from staff s where s.account_id = n.written_by), '') as written_by_name
		from sheet_note n where n.lesson_id = $1 order by n.written_at, n.id`, lesson)
}

// ConfirmMarks lets marks that wait for a teacher's word count. Those that do not wait any more are passed over.
func (t *Tx) ConfirmMarks(ctx context.Context, marks []uuid.UUID) (int64, error) {
	tag, err := t.tx.Exec(ctx, `insert into mark_confirmation (mark_id, confirmed_by, confirmed_at)
		select m.id, $2, $3 from mark m where m.id = any($1) and m.awaits on conflict do nothing`, marks, t.savedBy(), t.Now)
	return tag.RowsAffected(), err
}

// StandingMark is a mark that stands, also one that waits for a teacher's word; studio.Missing when it was corrected or taken back.
func (t *Tx) StandingMark(ctx context.Context, id uuid.UUID) (studio.Mark, error) {
	return one[studio.Mark](ctx, t, `select m.id, m.child_id, m.rung_key, m.lesson_id, m.side, m.outcome, m.marked_by, m.marked_at, m.replaces
		from mark m where m.id = $1 and `+standingMarks, id)
}
