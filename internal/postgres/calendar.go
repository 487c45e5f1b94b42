package postgres

import (
	"context"
	"time"

	"github.com/google/uuid"
	"rungbook/internal/studio"
)

// FamilyLesson is a lesson of one's own child in a calendar. Revision counts its changes; ChangedAt is the last of them.
type FamilyLesson struct {
	ID          uuid.UUID
	ChildID     uuid.UUID
	Child       string // the given name
	Class       string
	TimeZone    string
	StartsAt    time.Time
	Minutes     int
	CancelledAt *time.Time
	Revision    int
	ChangedAt   time.Time
}

const (
	familyLessonsSQL = `select l.id, e.child_id, k.given_name as child, c.name as class, c.time_zone, l.starts_at, l.minutes,
		l.cancelled_at, l.revision, l.changed_at
		from enrolment e join child k on k.id = e.child_id join class c on c.id = e.class_id join lesson l on l.class_id = c.id
		where e.child_id = any($1) and l.starts_at >= $2
		and (l.starts_at at time zone c.time_zone)::date between e.from_on and coalesce(e.until_on, 'infinity')
		order by l.starts_at, c.name, k.given_name, k.id`
	// familyTerms are the terms, running or to come on the day $2, of the classes that the children $1 are in.
	familyTerms = `select c.term_id from enrolment e join class c on c.id = e.class_id where e.child_id = any($1) and coalesce(e.until_on, 'infinity') >= $2`

	familyTermsSQL    = `select id, name, starts_on, ends_on, showcase_on from term where ends_on >= $2 and id = any(array(` + familyTerms + `)) order by starts_on, name`
	familyHolidaysSQL = `select id, term_id, name, starts_on, ends_on from holiday where ends_on >= $2 and term_id = any(array(` + familyTerms + `)) order by starts_on, name`
)

// FamilyLessons lists the lessons of own children from a moment on, called-off ones too, each child within its time in the class.
func (t *Tx) FamilyLessons(ctx context.Context, children []uuid.UUID, from time.Time) ([]FamilyLesson, error) {
	return many[FamilyLesson](ctx, t, familyLessonsSQL, children, from)
}

// FamilyTerms lists the terms, running or to come, of the classes that own children are in, and the holidays in them that are not over.
func (t *Tx) FamilyTerms(ctx context.Context, children []uuid.UUID) ([]studio.Term, []studio.Holiday, error) {
	terms, err := many[studio.Term](ctx, t, familyTermsSQL, children, t.Today)
	if err != nil {
		return nil, nil, err
	}
	holidays, err := many[studio.Holiday](ctx, t, familyHolidaysSQL, children, t.Today)
	return terms, holidays, err
}

// CalendarLink is the actor's own; studio.Missing when there is none.
func (t *Tx) CalendarLink(ctx context.Context) (studio.CalendarLink, error) {
	return one[studio.CalendarLink](ctx, t, `select made_at, read_at from calendar_feed where account_id = $1`, t.Actor.ID)
}

// SetCalendarLink keeps the SHA-256 of the secret in the actor's link; an earlier link stops working.
func (t *Tx) SetCalendarLink(ctx context.Context, hash []byte) error {
	return exec(ctx, t, `insert into calendar_feed (account_id, token_hash, made_at) values ($1, $2, $3)
		on conflict (account_id) do update set token_hash = $2, made_at = $3, read_at = null`, t.Actor.ID, hash, t.Now)
}

// EndCalendarLink makes the actor's link stop working; studio.Missing when there is none.
func (t *Tx) EndCalendarLink(ctx context.Context) error {
	return exec(ctx, t, `delete from calendar_feed where account_id = $1`, t.Actor.ID)
}

// CalendarHolder is the account of a link by the SHA-256 of its secret, which the transaction holds; studio.Missing when it was ended.
func (t *Tx) CalendarHolder(ctx context.Context, hash []byte) (uuid.UUID, error) {
	return value[uuid.UUID](ctx, t, `select account_id from calendar_feed where token_hash = $1`, hash)
}

// NoteCalendarRead keeps when the actor's link was last asked for.
func (t *Tx) NoteCalendarRead(ctx context.Context) error {
	return exec(ctx, t, `update calendar_feed set read_at = $2 where account_id = $1`, t.Actor.ID, t.Now)
}

// CallOffLesson marks a lesson that has not begun as called off; studio.Missing when it has, or is called off already.
func (t *Tx) CallOffLesson(ctx context.Context, lesson uuid.UUID) error {
	return exec(ctx, t, `update lesson set cancelled_at = $2 where id = $1 and cancelled_at is null and starts_at > $2`, lesson, t.Now)
}

// PutBackLesson undoes CallOffLesson, while the lesson has not begun.
func (t *Tx) PutBackLesson(ctx context.Context, lesson uuid.UUID) error {
	return exec(ctx, t, `update lesson set cancelled_at = null where id = $1 and cancelled_at is not null and starts_at > $2`, lesson, t.Now)
}
