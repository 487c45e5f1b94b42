package postgres

import (
	"context"
	"time"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"
	"rungbook/internal/studio"
)

// FamilyPage is what a guardian's page about an own child is made of.
type FamilyPage struct {
	Pupil        Pupil
	Limits       []KeptLimit
	Library      studio.Library
	Marks        []SeenMark
	Given        []studio.HomeAssignment
	Practice     []studio.Practice // since a day
	PracticeDays int               // ever
	Soreness     []studio.Soreness
	Lessons      []FamilyLesson // that are not over for long
	Terms        []studio.Term
	Holidays     []studio.Holiday
	Messages     []GotMessage
	Reports      []studio.ReleasedReport
}

// FamilyPage reads it in one round trip, which ends the transaction; practice is that since a day. studio.Missing when there is no such
// child to be seen.
func (t *Tx) FamilyPage(ctx context.Context, child uuid.UUID, since time.Time) (FamilyPage, error) {
	var page FamilyPage
	var pupils []Pupil
	var given []homeRow
	one := []uuid.UUID{child}
	library := newLibraryBuilder()
	batch := &pgx.Batch{}
	batch.Queue(pupilsSQL+`c.id = $2`, t.Today, child).Query(collect(&pupils))
	batch.Queue(careLimitsSQL+`any($1)`+careLimitsOrder, one).Query(collect(&page.Limits))
	batch.Queue(marksSQL, one).Query(collect(&page.Marks))
	batch.Queue(homeOfSQL, one).Query(collect(&given))
	batch.Queue(practiceSQL, child, since).Query(collect(&page.Practice))
	batch.Queue(`select count(distinct done_on) from practice where child_id = $1`, child).QueryRow(func(row pgx.Row) error { return row.Scan(&page.PracticeDays) })
	batch.Queue(sorenessSQL, one).Query(collect(&page.Soreness))
	batch.Queue(familyLessonsSQL, one, t.Now.Add(-3*time.Hour)).Query(collect(&page.Lessons))
	batch.Queue(familyTermsSQL, one, t.Today).Query(collect(&page.Terms))
	batch.Queue(familyHolidaysSQL, one, t.Today).Query(collect(&page.Holidays))
	batch.Queue(messagesForSQL, child, t.Actor.ID).Query(collect(&page.Messages))
	batch.Queue(releasesSQL+releasesOfChild, child).Query(collect(&page.Reports))
	library.queue(batch)
	if err := t.finish(ctx, batch); err != nil {
		return page, err
	}
	if len(pupils) == 0 {
		return page, studio.Missing()
	}
	page.Pupil, page.Given, page.Library = pupils[0], assignments(given), library.library()
	return page, nil
}
