package postgres

import (
	"context"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"
	"rungbook/internal/studio"
)

// ChildFacts are what every page about a child begins with, and what the policy goes by.
type ChildFacts struct {
	Pupil   Pupil
	Classes []uuid.UUID // in which the child is or was
	Limits  []KeptLimit
}

// ChildPage is what the pages about a child's ladders and marks are made of.
type ChildPage struct {
	ChildFacts
	Attendance []Attended
	Library    studio.Library
	Marks      []SeenMark
	Lessons    []LessonLine // of the last three months, of classes that the actor takes
}

// ChildPage reads a child in one round trip, which ends the transaction; studio.Missing when there is none to be seen.
func (t *Tx) ChildPage(ctx context.Context, child uuid.UUID) (ChildPage, error) {
	var page ChildPage
	library := newLibraryBuilder()
	batch := &pgx.Batch{}
	batch.Queue(attendanceSQL, child).Query(collect(&page.Attendance))
	batch.Queue(marksSQL, []uuid.UUID{child}).Query(collect(&page.Marks))
	batch.Queue(lessonLinesBetween, t.taken(), t.Now.AddDate(0, -3, 0), t.Now).Query(collect(&page.Lessons))
	library.queue(batch)
	err := t.finishChild(ctx, batch, child, &page.ChildFacts)
	page.Library = library.library()
	return page, err
}

// AheadPage is what the page of what is ahead of a child is made of.
type AheadPage struct {
	ChildFacts
	Library   studio.Library
	Marks     []SeenMark
	Ahead     Ahead
	Prospects []Prospect
	Fits      []RungFit
}

// AheadPage reads what is ahead of a child in one round trip, which ends the transaction; studio.Missing when there is none to be seen.
// The prospects are counts over every class that the child is in, also those that the actor does not take: read with the rights of the
// program, which end with them.
func (t *Tx) AheadPage(ctx context.Context, child uuid.UUID) (AheadPage, error) {
	var page AheadPage
	var days []Ahead
	library := newLibraryBuilder()
	batch := &pgx.Batch{}
	batch.Queue(aheadSQL, t.Today).Query(collect(&days))
	batch.Queue(fitSQL).Query(collect(&page.Fits))
	batch.Queue(marksSQL, []uuid.UUID{child}).Query(collect(&page.Marks))
	library.queue(batch)
	batch.Queue(asOwnerSQL, true)
	batch.Queue(prospectSQL, t.Today, []uuid.UUID{child}, t.Now, nil).Query(collect(&page.Prospects))
	batch.Queue(asOwnerSQL, t.Scope.Owner)
	err := t.finishChild(ctx, batch, child, &page.ChildFacts)
	if len(days) > 0 {
		page.Ahead = days[0]
	}
	page.Library = library.library()
	return page, err
}

// NotesPage is a child with the notes about it, the newest first.
type NotesPage struct {
	ChildFacts
	Notes []studio.ChildNote
}

// NotesPage reads the notes about a child in one round trip, which ends the transaction; studio.Missing when there is none to be seen.
func (t *Tx) NotesPage(ctx context.Context, child uuid.UUID) (NotesPage, error) {
	var page NotesPage
	batch := &pgx.Batch{}
	batch.Queue(notesSQL, child).Query(collect(&page.Notes))
	return page, t.finishChild(ctx, batch, child, &page.ChildFacts)
}

// HistoryPage is a child with what was done about it, the newest first.
type HistoryPage struct {
	ChildFacts
	Entries []studio.TrailEntry
}

// HistoryPage reads the latest of what was done about a child in one round trip, which ends the transaction; studio.Missing when there
// is none to be seen.
func (t *Tx) HistoryPage(ctx context.Context, child uuid.UUID, limit int) (HistoryPage, error) {
	var page HistoryPage
	batch := &pgx.Batch{}
	batch.Queue(childTrailSQL, "child "+child.String(), limit).Query(collect(&page.Entries))
	return page, t.finishChild(ctx, batch, child, &page.ChildFacts)
}

// finishChild adds a child's facts to the reads of a page and ends the transaction with them.
func (t *Tx) finishChild(ctx context.Context, reads *pgx.Batch, child uuid.UUID, into *ChildFacts) error {
	var pupils []Pupil
	reads.Queue(pupilsSQL+`c.id = $2`, t.Today, child).Query(collect(&pupils))
	reads.Queue(classesOfChildSQL, child).Query(func(rows pgx.Rows) (err error) {
		into.Classes, err = pgx.CollectRows(rows, pgx.RowTo[uuid.UUID])
		return err
	})
	reads.Queue(careLimitsSQL+`any($1)`+careLimitsOrder, []uuid.UUID{child}).Query(collect(&into.Limits))
	if err := t.finish(ctx, reads); err != nil {
		return err
	}
	if len(pupils) == 0 {
		return studio.Missing()
	}
	into.Pupil = pupils[0]
	return nil
}
