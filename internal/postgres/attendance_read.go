package postgres

import (
	"context"
	"time"

	"github.com/google/uuid"
)

// Attended is one lesson at which a child was noted as there or not.
type Attended struct {
	LessonID  uuid.UUID
	ClassName string
	TimeZone  string
	StartsAt  time.Time
	Present   bool
}

// AttendanceOf lists what was noted of a child, latest first, as far as the actor may see the lessons.
func (t *Tx) AttendanceOf(ctx context.Context, child uuid.UUID) ([]Attended, error) {
	return many[Attended](ctx, t, `select a.lesson_id, c.name as class_name, c.time_zone, l.starts_at, a.present
		from attendance a join lesson l on l.id = a.lesson_id join class c on c.id = l.class_id where a.child_id = $1 order by l.starts_at desc`, child)
}

// LoadTurns are planned turns of one child in one lesson: the load is that of one turn.
type LoadTurns struct {
	ChildID  uuid.UUID
	LessonID uuid.UUID
	Day      time.Time
	Back     int
	Wrists   int
	Landing  int
	Turns    int
}

// LoadTurnsOf sums the turns of saved plans for lessons on or after a day, over every class. A lesson that was cancelled, or from
// which the child was noted away, does not count. Run it as the program: a teacher need not take all of a child's classes.
func (t *Tx) LoadTurnsOf(ctx context.Context, children []uuid.UUID, since time.Time) ([]LoadTurns, error) {
	return many[LoadTurns](ctx, t, `select e.child_id, l.id as lesson_id, (l.starts_at at time zone k.time_zone)::date as day, coalesce(r.load_back, d.load_back) as back,
		coalesce(r.load_wrists, d.load_wrists) as wrists, coalesce(r.load_landing, d.load_landing) as landing, sum(e.turns)::int as turns
		from plan_entry e join plan p on p.id = e.plan_id join lesson l on l.id = p.lesson_id join class k on k.id = l.class_id
		left join rung r on r.key = e.rung_key left join drill d on d.key = e.drill_key
		left join attendance a on a.lesson_id = l.id and a.child_id = e.child_id
		where e.child_id = any($1) and l.cancelled_at is null and coalesce(a.present, true) and (l.starts_at at time zone k.time_zone)::date >= $2
		group by 1, 2, 3, 4, 5, 6 order by 1, 3`, children, since)
}
