package postgres

import (
	"context"
	"time"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"
)

// LoadTurns are the turns of one child at one rung or drill in one lesson, or on one day outside of lessons: those that the saved plan
// or a block of the lesson holds, and those that were marked. The load is that of one turn. RungKey is "" for a drill, which is never
// marked.
type LoadTurns struct {
	ChildID  uuid.UUID
	LessonID *uuid.UUID
	Day      time.Time
	RungKey  string
	TwoSided bool
	Back     int
	Wrists   int
	Landing  int
	Planned  int
	Marked   int
	Left     int // of those marked
	Right    int
	Ahead    bool // the lesson has not begun
	Block    bool // a drill of warm-up, conditioning or cool-down, which the whole class does
}

// The drills of a block share its minutes equally, and a child works in half of its drill's share, at least one turn of it (common
// practice, no source). A drill that loads nothing is left out.
const loadTurnsSQL = `
with stations as (
  select e.child_id, l.id as lesson_id, l.starts_at, k.time_zone, e.rung_key, e.drill_key, sum(e.turns)::int as planned, false as block
  from plan_entry e join plan p on p.id = e.plan_id join lesson l on l.id = p.lesson_id join class k on k.id = l.class_id
  left join attendance a on a.lesson_id = l.id and a.child_id = e.child_id
  where e.child_id = any($1) and l.cancelled_at is null and coalesce(a.present, true) and l.starts_at >= $2::date - 1
  group by 1, 2, 3, 4, 5, 6
),
blocks as (
  select e.child_id, l.id as lesson_id, l.starts_at, k.time_zone, null::text as rung_key, d.key as drill_key,
    sum(greatest(1, b.minutes * 60 / (2 * cardinality(b.drills) * d.turn_seconds)))::int as planned, true as block
  from enrolment e join class k on k.id = e.class_id join lesson l on l.class_id = k.id join lesson_block b on b.lesson_id = l.id
  join drill d on d.key = any(b.drills)
  left join attendance a on a.lesson_id = l.id and a.child_id = e.child_id
  where e.child_id = any($1) and l.cancelled_at is null and coalesce(a.present, true) and l.starts_at >= $2::date - 1
    and (l.starts_at at time zone k.time_zone)::date between e.from_on and coalesce(e.until_on, 'infinity')
    and b.minutes > 0 and d.load_back + d.load_wrists + d.load_landing > 0
  group by 1, 2, 3, 4, 6
),
planned as (select * from stations union all select * from blocks),
marked as (
  select m.child_id, m.lesson_id, coalesce(l.starts_at, m.marked_at) as starts_at, coalesce(k.time_zone, $3) as time_zone,
    m.rung_key,
    count(*)::int as marked, count(*) filter (where m.side = 'left')::int as lefts, count(*) filter (where m.side = 'right')::int as rights
  from mark m left join lesson l on l.id = m.lesson_id left join class k on k.id = l.class_id
  where m.child_id = any($1) and coalesce(l.starts_at, m.marked_at) >= $2::date - 1 and m.outcome <> 'withdrawn'
    and not exists (select from mark later where later.replaces = m.id and later.child_id = m.child_id)
  group by m.child_id, m.lesson_id, 3, 4, m.rung_key
),
both_ways as (
  select child_id, lesson_id, coalesce(p.starts_at, m.starts_at) as starts_at,
    (coalesce(p.starts_at, m.starts_at) at time zone coalesce(p.time_zone, m.time_zone))::date as day, rung_key, p.drill_key,
    coalesce(p.block, false) as block, coalesce(p.planned, 0) as planned, coalesce(m.marked, 0) as marked, coalesce(m.lefts, 0) as lefts, coalesce(m.rights, 0) as rights
  from planned p full join marked m using (child_id, lesson_id, rung_key)
)
select b.child_id, b.lesson_id, b.day, coalesce(b.rung_key, '') as rung_key, coalesce(r.two_sided, d.two_sided) as two_sided,
  coalesce(r.load_back, d.load_back) as back, coalesce(r.load_wrists, d.load_wrists) as wrists, coalesce(r.load_landing, d.load_landing) as landing,
  b.planned, b.marked, b.lefts as left, b.rights as right, b.block, b.lesson_id is not null and b.starts_at > $4 as ahead
from both_ways b left join rung r on r.key = b.rung_key left join drill d on d.key = b.drill_key
where b.day >= $2 order by b.child_id, b.day, b.lesson_id, b.rung_key, b.drill_key`

// LoadSession is a lesson of a child's class that has ended. Present is nil where nobody noted it. Effort is the child's own figure, else
// that of the class, nil where neither was noted. Planned and Marked report whether a plan and whether a mark says what the child did.
type LoadSession struct {
	ChildID uuid.UUID
	Day     time.Time
	Minutes int
	Present *bool
	Effort  *int
	Planned bool
	Marked  bool
}

const loadSessionsSQL = `
select e.child_id, (l.starts_at at time zone k.time_zone)::date as day, l.minutes, a.present, coalesce(own.effort, whole.effort) as effort,
  exists (select from plan p join plan_entry x on x.plan_id = p.id where p.lesson_id = l.id and x.child_id = e.child_id) as planned,
  exists (select from mark m where m.lesson_id = l.id and m.child_id = e.child_id) as marked
from enrolment e join class k on k.id = e.class_id join lesson l on l.class_id = k.id
left join attendance a on a.lesson_id = l.id and a.child_id = e.child_id
left join child_effort own on own.lesson_id = l.id and own.child_id = e.child_id left join lesson_effort whole on whole.lesson_id = l.id
where e.child_id = any($1) and l.cancelled_at is null and l.starts_at + make_interval(mins => l.minutes) <= $3
  and (l.starts_at at time zone k.time_zone)::date >= $2
  and (l.starts_at at time zone k.time_zone)::date between e.from_on and coalesce(e.until_on, 'infinity')
order by e.child_id, l.starts_at, l.id`

// HomeDose is a drill that a child has at home in a week.
type HomeDose struct {
	ChildID  uuid.UUID
	TwoSided bool
	Sets     int
	Repeats  int
	Back     int
	Wrists   int
	Landing  int
}

const homeDosesSQL = `select h.child_id, h.sets, h.repeats, d.two_sided, d.load_back as back, d.load_wrists as wrists, d.load_landing as landing
	from home_assignment h join drill d on d.key = h.drill_key
	where h.child_id = any($1) and h.withdrawn_at is null and h.from_on <= $2::date + 6 and h.until_on >= $2 order by h.child_id, h.id`

// LoadOf reads what loads the bodies of children from a day on, over every class: the turns, and the lessons that have ended. A lesson
// that was cancelled, or from which the child was noted away, gives no planned turns. Run it as the program, and let only sums leave: a
// teacher need not take all of a child's classes.
func (t *Tx) LoadOf(ctx context.Context, children []uuid.UUID, since time.Time) (turns []LoadTurns, sessions []LoadSession, err error) {
	batch := &pgx.Batch{}
	batch.Queue(loadTurnsSQL, children, since, t.zone.String(), t.Now).Query(collect(&turns))
	batch.Queue(loadSessionsSQL, children, since, t.Now).Query(collect(&sessions))
	return turns, sessions, t.tx.SendBatch(ctx, batch).Close()
}

// HomeDosesOf reads the drills that children have at home in the week of a Monday.
func (t *Tx) HomeDosesOf(ctx context.Context, children []uuid.UUID, monday time.Time) ([]HomeDose, error) {
	return many[HomeDose](ctx, t, homeDosesSQL, children, monday)
}

// Efforts are how hard a lesson was: for the class, nil where nobody noted it, and for children for whom it was different.
type Efforts struct {
	Class    *int
	Children map[uuid.UUID]int
}

// EffortsOf reads how hard a lesson was.
func (t *Tx) EffortsOf(ctx context.Context, lesson uuid.UUID) (Efforts, error) {
	e := Efforts{Children: map[uuid.UUID]int{}}
	batch := &pgx.Batch{}
	batch.Queue(`select effort from lesson_effort where lesson_id = $1`, lesson).Query(eachRow(func(rows pgx.Rows) error { return rows.Scan(&e.Class) }))
	batch.Queue(`select child_id, effort from child_effort where lesson_id = $1`, lesson).Query(eachRow(func(rows pgx.Rows) error {
		var child uuid.UUID
		var effort int
		err := rows.Scan(&child, &effort)
		e.Children[child] = effort
		return err
	}))
	return e, t.tx.SendBatch(ctx, batch).Close()
}

// SetEffort notes how hard a lesson was for the class.
func (t *Tx) SetEffort(ctx context.Context, lesson uuid.UUID, effort int) error {
	return exec(ctx, t, `insert into lesson_effort (lesson_id, effort, noted_by, noted_at) values ($1, $2, $3, $4)
		on conflict (lesson_id) do update set effort = $2, noted_by = $3, noted_at = $4`, lesson, effort, t.savedBy(), t.Now)
}

// SetEffortsOf notes how hard a lesson was for children for whom it was different; nil takes such a figure back.
func (t *Tx) SetEffortsOf(ctx context.Context, lesson uuid.UUID, children map[uuid.UUID]*int) error {
	batch := &pgx.Batch{}
	for child, effort := range children {
		if effort == nil {
			batch.Queue(`delete from child_effort where lesson_id = $1 and child_id = $2`, lesson, child)
			continue
		}
		batch.Queue(`insert into child_effort (lesson_id, child_id, effort, noted_by, noted_at) values ($1, $2, $3, $4, $5)
			on conflict (lesson_id, child_id) do update set effort = $3, noted_by = $4, noted_at = $5`, lesson, child, *effort, t.savedBy(), t.Now)
	}
	return t.tx.SendBatch(ctx, batch).Close()
}
