package postgres

import (
	"context"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"
	"rungbook/internal/studio"
)

// LadderPage is what the page of a ladder is made of: the library, and of the classes that the actor takes, in terms that are not over,
// who is in them and the bare marks at the ladder's rungs and at all that those need.
type LadderPage struct {
	Library studio.Library
	Classes []ClassRoll
	Marks   []SeenMark
}

// ClassRoll is a class with the children who are in it today.
type ClassRoll struct {
	ID       uuid.UUID
	Name     string
	Children []uuid.UUID
}

const (
	classRollsSQL = `select c.id, c.name, array(select e.child_id from enrolment e where e.class_id = c.id and e.from_on <= $2
		and coalesce(e.until_on, 'infinity') >= $2) as children from class c join term m on m.id = c.term_id
		where ($1::uuid[] is null or c.id = any($1)) and m.ends_on >= $2 order by c.name, c.id`

	ladderMarksSQL = `with recursive needed(key) as (
		select key from rung where ladder_key = $3
		union select n.needs_key from rung_need n join needed on n.rung_key = needed.key)
		select m.child_id, m.rung_key, m.lesson_id, m.side, m.outcome, m.marked_at, ` + safetySeen + ` as safety_fault
		from mark m where m.rung_key = any(array(select key from needed)) and m.child_id = any(array(select e.child_id from enrolment e
			join class c on c.id = e.class_id join term t on t.id = c.term_id where ($1::uuid[] is null or c.id = any($1)) and t.ends_on >= $2
			and e.from_on <= $2 and coalesce(e.until_on, 'infinity') >= $2))
		and ` + standingMarks + ` and not ` + waitingMark + ` order by m.received_at, m.marked_at, m.id`
)

// LadderPage reads the page of a ladder in one round trip, which ends the transaction.
func (t *Tx) LadderPage(ctx context.Context, ladder string) (LadderPage, error) {
	var page LadderPage
	library := newLibraryBuilder()
	batch := &pgx.Batch{}
	library.queue(batch)
	batch.Queue(classRollsSQL, t.taken(), t.Today).Query(collect(&page.Classes))
	batch.Queue(ladderMarksSQL, t.taken(), t.Today, ladder).Query(bareMarks(&page.Marks))
	err := t.finish(ctx, batch)
	page.Library = library.library()
	return page, err
}
