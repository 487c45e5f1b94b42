package postgres

import (
	"context"
	"slices"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"
	"rungbook/internal/studio"
)

// SheetLesson is what items of a lesson are judged by.
type SheetLesson struct {
	studio.Lesson
	Children []uuid.UUID // in the class on the day
	Staff    []uuid.UUID // on the roster of the day
}

// MarkedRung is a rung as marks of it are judged.
type MarkedRung struct {
	Key      string
	TwoSided bool
	Faults   []string
}

// KeptMark is whose mark of what it is.
type KeptMark struct {
	ID       uuid.UUID
	ChildID  uuid.UUID
	RungKey  string
	Side     studio.Side
	MarkedBy *uuid.UUID
}

// ItemGround is what a batch of items is judged by.
type ItemGround struct {
	Lessons []SheetLesson
	Rungs   []MarkedRung
	Marks   []KeptMark
}

// ItemGround reads what items are judged by. Run it as the program: whether the actor may is judged from it, and nothing of it leaves.
func (t *Tx) ItemGround(ctx context.Context, lessons []uuid.UUID, rungs []string, marks []uuid.UUID) (ItemGround, error) {
	var g ItemGround
	batch := &pgx.Batch{}
	batch.Queue(`select l.id, l.class_id, l.starts_at, l.minutes, l.cancelled_at,
		array(select e.child_id from enrolment e join child c on c.id = e.child_id where e.class_id = l.class_id and e.from_on <= day and coalesce(e.until_on, 'infinity') >= day
			and coalesce(c.left_on, 'infinity') >= day) as children,
		array(select s.staff_id from class_staff s where s.class_id = l.class_id and s.from_on <= day and coalesce(s.until_on, 'infinity') >= day) as staff
		from lesson l, lateral (select (l.starts_at at time zone $2)::date as day) d where l.id = any($1)`, lessons, t.zone.String()).Query(collect(&g.Lessons))
	batch.Queue(`select r.key, r.two_sided, array(select f.key from fault f where f.rung_key = r.key) as faults from rung r where r.key = any($1)`, rungs).Query(collect(&g.Rungs))
	batch.Queue(`select id, child_id, rung_key, side, marked_by from mark where id = any($1)`, marks).Query(collect(&g.Marks))
	return g, t.tx.SendBatch(ctx, batch).Close()
}

// LockLessons makes the batches of the same lessons wait for each other, in one order, so that none can hold up another in a circle.
func (t *Tx) LockLessons(ctx context.Context, lessons []uuid.UUID) error {
	var names []string
	for _, id := range lessons {
		names = append(names, id.String())
	}
	slices.Sort(names)
	batch := &pgx.Batch{}
	for _, name := range slices.Compact(names) {
		batch.Queue(`select pg_advisory_xact_lock(hashtextextended('sheet ' || $1, 0))`, name)
	}
	return t.tx.SendBatch(ctx, batch).Close()
}

// AddReceipt writes the receipt of a batch.
func (t *Tx) AddReceipt(ctx context.Context, items int) (uuid.UUID, error) {
	id, err := uuid.NewV7()
	if err != nil {
		return id, err
	}
	return id, exec(ctx, t, `insert into sheet_receipt (id, sent_by, items, received_at) values ($1, $2, $3, $4)`, id, t.savedBy(), items, t.Now)
}

// AddItems appends items in the order of their ids, and reports which of them were new: an item whose id is known, with whatever
// content, is not.
func (t *Tx) AddItems(ctx context.Context, receipt uuid.UUID, items []studio.KeptItem) (map[uuid.UUID]bool, error) {
	sorted := slices.SortedFunc(slices.Values(items), func(a, b studio.KeptItem) int { return slices.Compare(a.ID[:], b.ID[:]) })
	fresh := map[uuid.UUID]bool{}
	batch := &pgx.Batch{}
	for _, i := range sorted {
		batch.Queue(`insert into sheet_item (id, digest, receipt_id, lesson_id, child_id, sent_by, content, answer, words, received_at)
			values ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10) on conflict do nothing`,
			i.ID, i.Digest, receipt, i.LessonID, i.ChildID, t.savedBy(), i.Content, i.Answer, i.Words, t.Now)
	}
	results := t.tx.SendBatch(ctx, batch)
	for _, i := range sorted {
		tag, err := results.Exec()
		if err != nil {
			results.Close()
			return nil, err
		}
		if tag.RowsAffected() == 1 {
			fresh[i.ID] = true
		}
	}
	return fresh, results.Close()
}

// KnownItems finds items by id, less those in conflict. Run it as the program: an item may have come from somebody else's hands, and
// only whether it is the same leaves.
func (t *Tx) KnownItems(ctx context.Context, ids []uuid.UUID) ([]studio.KeptItem, error) {
	return many[studio.KeptItem](ctx, t, `select id, digest, answer, words from sheet_item where answer <> 'conflict' and id = any($1)`, ids)
}

// AddSheetMarks appends the marks of items, each a microsecond after the one before: the order of a batch is the order that counts.
func (t *Tx) AddSheetMarks(ctx context.Context, marks []RollMark) error {
	batch := &pgx.Batch{}
	for i, m := range marks {
		batch.Queue(`insert into mark (id, child_id, rung_key, lesson_id, side, outcome, marked_by, marked_at, received_at, replaces, awaits)
			values ($1, $2, $3, $4, $5, $6, $7, $8, $9::timestamptz + $10 * interval '1 microsecond', $11, $12)`,
			m.ID, m.ChildID, m.RungKey, m.LessonID, m.Side, m.Outcome, m.MarkedBy, m.MarkedAt, t.Now, i, m.Replaces, m.Awaits)
		for _, f := range m.Faults {
			batch.Queue(`insert into mark_fault (mark_id, rung_key, fault_key) values ($1, $2, $3)`, m.ID, m.RungKey, f)
		}
	}
	return t.tx.SendBatch(ctx, batch).Close()
}

// AddSheetNotes appends quick notes.
func (t *Tx) AddSheetNotes(ctx context.Context, notes []studio.SheetNote) error {
	batch := &pgx.Batch{}
	for _, n := range notes {
		batch.Queue(`insert into sheet_note (id, lesson_id, child_id, note, written_by, written_at) values ($1, $2, $3, $4, $5, $6)`,
			n.ID, n.LessonID, n.ChildID, n.Note, n.WrittenBy, t.Now)
	}
	return t.tx.SendBatch(ctx, batch).Close()
}

// Try runs fn so that what it wrote is undone when it fails; the transaction goes on.
func (t *Tx) Try(ctx context.Context, fn func() error) error {
	if _, err := t.tx.Exec(ctx, `savepoint attempt`); err != nil {
		return err
	}
	if err := fn(); err != nil {
		if _, undo := t.tx.Exec(ctx, `rollback to savepoint attempt`); undo != nil {
			return undo
		}
		return explain(err)
	}
	_, err := t.tx.Exec(ctx, `release savepoint attempt`)
	return err
}
