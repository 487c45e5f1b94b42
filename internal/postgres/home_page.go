package postgres

import (
	"context"
	"strconv"
	"time"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"
	"rungbook/internal/studio"
)

// HomePage is all that decides what may go home with children. Turns are those of every class since a day: let only sums leave.
type HomePage struct {
	Library    studio.Library
	Pupils     []Pupil // by name
	Limits     []KeptLimit
	Marks      []SeenMark
	Given      []studio.HomeAssignment
	Exceptions []studio.HomeException
	Practised  map[uuid.UUID]int  // days, by assignment
	Adults     map[uuid.UUID]bool // children whose family agreed to drills with an adult in the room
	Turns      []LoadTurns
}

// HomeOf reads it for children whom the actor may see; the others are left out. One round trip.
func (t *Tx) HomeOf(ctx context.Context, children []uuid.UUID, since time.Time) (HomePage, error) {
	page := HomePage{Practised: map[uuid.UUID]int{}, Adults: map[uuid.UUID]bool{}}
	var given []homeRow
	var answers []studio.ConsentAnswer
	library := newLibraryBuilder()
	batch := &pgx.Batch{}
	batch.Queue(pupilsSQL+`c.id = any($2)`+byName, t.Today, children).Query(collect(&page.Pupils))
	batch.Queue(careLimitsSQL+`any($1)`+careLimitsOrder, children).Query(collect(&page.Limits))
	batch.Queue(marksSQL, children).Query(collect(&page.Marks))
	batch.Queue(homeOfSQL, children).Query(collect(&given))
	batch.Queue(exceptionsSQL, children).Query(collect(&page.Exceptions))
	batch.Queue(`select assignment_id, count(*)::int from practice where child_id = any($1) group by 1`, children).Query(eachRow(page.practised))
	library.queue(batch)
	// As the program, since no teacher sees all guardians or takes all classes of a child; only judgements and sums leave.
	batch.Queue(setOwnerSQL, "true")
	batch.Queue(standingSQL+` and a.child_id = any($2) order by a.child_id, a.account_id, a.nth desc`, studio.AdultDrills, children).Query(collect(&answers))
	batch.Queue(loadTurnsSQL, children, since, t.zone.String(), t.Now).Query(collect(&page.Turns))
	batch.Queue(setOwnerSQL, strconv.FormatBool(t.Scope.Owner))
	if err := t.tx.SendBatch(ctx, batch).Close(); err != nil {
		return page, err
	}
	page.Library, page.Given = library.library(), assignments(given)
	byChild := map[uuid.UUID][]studio.ConsentAnswer{}
	for _, a := range answers {
		byChild[a.ChildID] = append(byChild[a.ChildID], a)
	}
	for child, theirs := range byChild {
		page.Adults[child] = studio.Consented(theirs)
	}
	return page, nil
}

func (p HomePage) practised(rows pgx.Rows) error {
	var id uuid.UUID
	var days int
	err := rows.Scan(&id, &days)
	p.Practised[id] = days
	return err
}
