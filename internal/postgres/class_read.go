package postgres

import (
	"context"
	"time"

	"github.com/google/uuid"
	"rungbook/internal/studio"
)

// ClassCard is a class as those who take it see it in a list. NextID and NextAt are its next lesson that is not over, nil for none.
type ClassCard struct {
	studio.Class
	TermName   string
	TermEndsOn time.Time
	Teachers   []string
	Children   int
	NextID     *uuid.UUID
	NextAt     *time.Time
}

const classCardsSQL = `select c.id, c.term_id, c.name, c.weekday, to_char(c.starts_at, 'HH24:MI') as starts_at, c.minutes, c.time_zone, c.places,
	c.rotations, c.groups, c.turn_floor, c.max_activities, c.focus, m.name as term_name, m.ends_on as term_ends_on, n.next_id, n.next_at,
	array(select s.name from class_staff cs join staff s on s.id = cs.staff_id where cs.class_id = c.id and cs.duty = 'teacher'
		and cs.from_on <= $2 and coalesce(cs.until_on, 'infinity') >= $2 order by s.name) as teachers,
	(select count(*) from enrolment e where e.class_id = c.id and e.from_on <= $2 and coalesce(e.until_on, 'infinity') >= $2) as children
	from class c join term m on m.id = c.term_id
	left join lateral (select l.id as next_id, l.starts_at as next_at from lesson l where l.class_id = c.id and l.cancelled_at is null
		and l.starts_at + make_interval(mins => l.minutes) > $3 order by l.starts_at limit 1) n on true
	where ($1::uuid[] is null or c.id = any($1))`

// ClassCards lists the classes that the actor takes, all of them for an owner: latest term first, then through the week.
func (t *Tx) ClassCards(ctx context.Context) ([]ClassCard, error) {
	return many[ClassCard](ctx, t, classCardsSQL+` order by m.starts_on desc, (c.weekday + 6) % 7, c.starts_at, c.name`, t.taken(), t.Today, t.Now)
}

// ClassCard is one class; studio.Missing when the actor does not take it.
func (t *Tx) ClassCard(ctx context.Context, class uuid.UUID) (ClassCard, error) {
	return one[ClassCard](ctx, t, classCardsSQL+` and c.id = $4`, t.taken(), t.Today, t.Now, class)
}

// taken names the classes that the actor takes; nil, for an owner, names all.
func (t *Tx) taken() []uuid.UUID {
	if t.Scope.Owner {
		return nil
	}
	return append([]uuid.UUID{}, t.Scope.Teaches...)
}

// LessonLine is a lesson as a list shows it. Present and Absent count the children noted.
type LessonLine struct {
	ID           uuid.UUID
	ClassID      uuid.UUID
	ClassName    string
	TimeZone     string
	StartsAt     time.Time
	Minutes      int
	CancelledAt  *time.Time
	PlanSavedAt  *time.Time
	PlanSharedAt *time.Time
	Present      int
	Absent       int
}

// EndsAt is when the lesson ends.
func (l LessonLine) EndsAt() time.Time { return l.StartsAt.Add(time.Duration(l.Minutes) * time.Minute) }

const lessonLinesSQL = `select l.id, l.class_id, c.name as class_name, c.time_zone, l.starts_at, l.minutes, l.cancelled_at,
	p.saved_at as plan_saved_at, p.shared_at as plan_shared_at,
	(select count(*) from attendance a where a.lesson_id = l.id and a.present) as present,
	(select count(*) from attendance a where a.lesson_id = l.id and not a.present) as absent
	from lesson l join class c on c.id = l.class_id left join plan p on p.lesson_id = l.id`

const lessonLinesBetween = lessonLinesSQL + ` where ($1::uuid[] is null or l.class_id = any($1)) and l.starts_at >= $2 and l.starts_at < $3
		order by l.starts_at, c.name`

// LessonLines lists the lessons of the classes that the actor takes (all of an owner's) that start within [from, to).
func (t *Tx) LessonLines(ctx context.Context, from, to time.Time) ([]LessonLine, error) {
	return many[LessonLine](ctx, t, lessonLinesBetween, t.taken(), from, to)
}

// LessonLinesOf lists all lessons of one class.
func (t *Tx) LessonLinesOf(ctx context.Context, class uuid.UUID) ([]LessonLine, error) {
	return many[LessonLine](ctx, t, lessonLinesSQL+` where l.class_id = $1 order by l.starts_at`, class)
}

// LessonsHelped lists the lessons at which the actor helps now, from 15 minutes before to 15 after.
func (t *Tx) LessonsHelped(ctx context.Context) ([]LessonLine, error) {
	return many[LessonLine](ctx, t, lessonLinesSQL+` where l.id = any($1) order by l.starts_at`, t.Scope.Assists)
}

// NextHelped is the next lesson at which an account is rostered as an assistant; studio.Missing when there is none. Run it as the
// program: an assistant's own rights begin with the lesson.
func (t *Tx) NextHelped(ctx context.Context, account uuid.UUID) (LessonLine, error) {
	return one[LessonLine](ctx, t, `select l.id, l.class_id, c.name as class_name, c.time_zone, l.starts_at, l.minutes
		from class_staff cs join staff s on s.id = cs.staff_id join class c on c.id = cs.class_id join lesson l on l.class_id = c.id
		where s.account_id = $1 and s.left_on is null and cs.duty = 'assistant' and l.cancelled_at is null and l.starts_at > $2
		and (l.starts_at at time zone c.time_zone)::date between cs.from_on and coalesce(cs.until_on, 'infinity')
		order by l.starts_at limit 1`, account, t.Now)
}

// NextLessonsOf lists the next lesson of each class that a child is in, without the teacher's notes.
func (t *Tx) NextLessonsOf(ctx context.Context, child uuid.UUID) ([]LessonLine, error) {
	return many[LessonLine](ctx, t, `select distinct on (c.id) l.id, l.class_id, c.name as class_name, c.time_zone, l.starts_at, l.minutes
		from enrolment e join class c on c.id = e.class_id join lesson l on l.class_id = c.id
		where e.child_id = $1 and e.from_on <= $2 and coalesce(e.until_on, 'infinity') >= $2 and l.cancelled_at is null and l.starts_at > $3
		order by c.id, l.starts_at`, child, t.Today, t.Now)
}
