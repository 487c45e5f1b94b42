package postgres

import (
	"context"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"
	"rungbook/internal/studio"
)

// ChildPage is what the pages about a child's ladders and marks are made of.
type ChildPage struct {
	Pupil      Pupil
	Classes    []uuid.UUID // in which the child is or was
	Limits     []KeptLimit
	Attendance []Attended
	Library    studio.Library
	Marks      []SeenMark
	Lessons    []LessonLine // of the last three months, of classes that the actor takes
}

// ChildPage reads a child in one round trip, which ends the transaction; studio.Missing when there is none to be seen.
func (t *Tx) ChildPage(ctx context.Context, child uuid.UUID) (ChildPage, error) {
	var page ChildPage
	var pupils []Pupil
	one := []uuid.UUID{child}
	library := newLibraryBuilder()
	batch := &pgx.Batch{}
	batch.Queue(pupilsSQL+`c.id = $2`, t.Today, child).Query(collect(&pupils))
	batch.Queue(classesOfChildSQL, child).Query(func(rows pgx.Rows) (err error) {
		page.Classes, err = pgx.CollectRows(rows, pgx.RowTo[uuid.UUID])
		return err
	})
	batch.Queue(careLimitsSQL+`any($1)`+careLimitsOrder, one).Query(collect(&page.Limits))
	batch.Queue(attendanceSQL, child).Query(collect(&page.Attendance))
	batch.Queue(marksSQL, one).Query(collect(&page.Marks))
	batch.Queue(lessonLinesBetween, t.taken(), t.Now.AddDate(0, -3, 0), t.Now).Query(collect(&page.Lessons))
	library.queue(batch)
	if err := t.finish(ctx, batch); err != nil {
		return page, err
	}
	if len(pupils) == 0 {
		return page, studio.Missing()
	}
	page.Pupil, page.Library = pupils[0], library.library()
	return page, nil
}
