package postgres

import (
	"context"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"
	"rungbook/internal/studio"
)

// ClassPage is all that the page of a class is made of. Ladders have names and needs alone, marks neither faults nor who made them.
type ClassPage struct {
	Card    ClassCard
	Lessons []LessonLine
	Pupils  []Pupil
	Limits  []KeptLimit
	Ladders []studio.Ladder
	Marks   []SeenMark
	Tonight []string // keys of the ladders in the plan of the next lesson that is not over
}

const (
	outlineSQL = `select ladder_key, key, name, two_sided, array(select n.needs_key from rung_need n where n.rung_key = rung.key) from rung order by ladder_key, position`

	// classPupils is who is in class $1 on day $2.
	classPupils = `any(array(select e.child_id from enrolment e where e.class_id = $1 and e.from_on <= $2 and coalesce(e.until_on, 'infinity') >= $2))`

	safetySeen = `exists (select from mark_fault f join fault x on (x.rung_key, x.key) = (f.rung_key, f.fault_key) where f.mark_id = m.id and x.safety)`

	bareMarksSQL = `select m.child_id, m.rung_key, m.lesson_id, m.side, m.outcome, m.marked_at, ` + safetySeen + ` as safety_fault
		from mark m where m.child_id = ` + classPupils + ` and ` + standingMarks + ` and not ` + waitingMark + `
		order by m.received_at, m.marked_at, m.id`

	tonightSQL = `select distinct c.ladder_key from plan_cell c join plan p on p.id = c.plan_id where p.lesson_id = (
		select l.id from lesson l where l.class_id = $1 and l.cancelled_at is null and l.starts_at + make_interval(mins => l.minutes) > $2
		order by l.starts_at limit 1)`
)

// ClassPage reads a class in one round trip, which ends the transaction; studio.Missing when the actor does not take the class.
func (t *Tx) ClassPage(ctx context.Context, class uuid.UUID) (ClassPage, error) {
	return t.finishClass(ctx, &pgx.Batch{}, class)
}

// ClassMarksPage is ClassPage with the faults of a rung; a rung that is not there has none.
func (t *Tx) ClassMarksPage(ctx context.Context, class uuid.UUID, rung string) (ClassPage, []studio.Fault, error) {
	var faults []studio.Fault
	batch := &pgx.Batch{}
	batch.Queue(`select key, name, safety from fault where rung_key = $1 and not retired order by position`, rung).Query(collect(&faults))
	page, err := t.finishClass(ctx, batch, class)
	return page, faults, err
}

// finishClass adds a class to the reads of a page and ends the transaction with them.
func (t *Tx) finishClass(ctx context.Context, batch *pgx.Batch, class uuid.UUID) (ClassPage, error) {
	var page ClassPage
	var cards []ClassCard
	library := newLibraryBuilder()
	batch.Queue(classCardsSQL+` and c.id = $4`, t.taken(), t.Today, t.Now, class).Query(collect(&cards))
	batch.Queue(lessonLinesSQL+` where l.class_id = $1 order by l.starts_at`, class).Query(collect(&page.Lessons))
	batch.Queue(pupilsSQL+`c.id = any(array(select e.child_id from enrolment e where e.class_id = $2 and e.from_on <= $1
		and coalesce(e.until_on, 'infinity') >= $1))`+byName, t.Today, class).Query(collect(&page.Pupils))
	batch.Queue(careLimitsSQL+classPupils+careLimitsOrder, class, t.Today).Query(collect(&page.Limits))
	batch.Queue(laddersSQL).Query(eachRow(library.ladder))
	batch.Queue(outlineSQL).Query(eachRow(library.outline))
	batch.Queue(bareMarksSQL, class, t.Today).Query(bareMarks(&page.Marks))
	batch.Queue(tonightSQL, class, t.Now).Query(func(rows pgx.Rows) (err error) {
		page.Tonight, err = pgx.CollectRows(rows, pgx.RowTo[string])
		return err
	})
	if err := t.finish(ctx, batch); err != nil {
		return page, err
	}
	if len(cards) == 0 {
		return page, studio.Missing()
	}
	page.Card, page.Ladders = cards[0], library.library().Ladders
	return page, nil
}

// bareMarks reads marks without faults and without who made them.
func bareMarks(into *[]SeenMark) func(pgx.Rows) error {
	return eachRow(func(rows pgx.Rows) error {
		var m SeenMark
		err := rows.Scan(&m.ChildID, &m.RungKey, &m.LessonID, &m.Side, &m.Outcome, &m.MarkedAt, &m.SafetyFault)
		*into = append(*into, m)
		return err
	})
}

func (b *libraryBuilder) outline(rows pgx.Rows) error {
	var ladder string
	var r studio.Rung
	err := rows.Scan(&ladder, &r.Key, &r.Name, &r.TwoSided, &r.Needs)
	b.rungs[ladder] = append(b.rungs[ladder], r)
	return err
}
