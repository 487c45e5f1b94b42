package postgres

import (
	"context"
	"time"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"
	"rungbook/internal/studio"
)

// RungFit is how one rung is learned, by the studio's own marks or, where Used is false, by the defaults.
type RungFit struct {
	RungKey                           string
	Known, Learn                      float64
	NotMissed, NotSupported, NotClean float64
	YesMissed, YesSupported, YesClean float64
	Used                              bool
	Children, Marks                   int
	LikelyBefore, LikelyAfter         float64 // mean chance of a mark, geometric
	HeldBefore, HeldAfter             float64 // the same, of children left out of the fit
	FittedAt                          time.Time
}

const fitSQL = `select rung_key, known, learn, not_missed, not_supported, not_clean, yes_missed, yes_supported, yes_clean, used, children, marks,
	likely_before, likely_after, held_before, held_after, fitted_at from rung_fit order by rung_key`

// RungFits lists what is known about how the rungs are learned.
func (t *Tx) RungFits(ctx context.Context) ([]RungFit, error) { return many[RungFit](ctx, t, fitSQL) }

// LastFit is when the rungs were fitted last; the zero time for never.
func (t *Tx) LastFit(ctx context.Context) (time.Time, error) {
	last, err := value[*time.Time](ctx, t, `select max(fitted_at) from rung_fit`)
	if err != nil || last == nil {
		return time.Time{}, err
	}
	return *last, nil
}

// LockFit reports whether this transaction may fit the rungs: false while another copy of the program does.
func (t *Tx) LockFit(ctx context.Context) (bool, error) {
	return value[bool](ctx, t, `select pg_try_advisory_xact_lock(hashtext('rung_fit'))`)
}

// SaveRungFits writes the fits over all that were there.
func (t *Tx) SaveRungFits(ctx context.Context, fits []RungFit) error {
	batch := &pgx.Batch{}
	batch.Queue(`delete from rung_fit`)
	for _, f := range fits {
		batch.Queue(`insert into rung_fit (rung_key, known, learn, not_missed, not_supported, not_clean, yes_missed, yes_supported, yes_clean,
			used, children, marks, likely_before, likely_after, held_before, held_after, fitted_at)
			values ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10, $11, $12, $13, $14, $15, $16, $17)`,
			f.RungKey, f.Known, f.Learn, f.NotMissed, f.NotSupported, f.NotClean, f.YesMissed, f.YesSupported, f.YesClean,
			f.Used, f.Children, f.Marks, f.LikelyBefore, f.LikelyAfter, f.HeldBefore, f.HeldAfter, t.Now)
	}
	return t.tx.SendBatch(ctx, batch).Close()
}

// AllMarks reads the marks in force of every child that the actor may see, each child's in order of time. Run it as the program for a
// sum over the studio.
func (t *Tx) AllMarks(ctx context.Context) ([]SeenMark, error) {
	return many[SeenMark](ctx, t, `select m.child_id, m.rung_key, m.lesson_id, m.side, m.outcome, m.marked_at, coalesce(m.marked_by::text, '') as marked_by_name,
		exists (select from mark_fault f join fault x on (x.rung_key, x.key) = (f.rung_key, f.fault_key) where f.mark_id = m.id and x.safety) as safety_fault
		from mark m where `+standingMarks+` and not `+waitingMark+`
		order by m.child_id, m.marked_at, m.id`)
}

// Prospect is what the lessons to come of one class promise a child. Lessons are those left until the day asked for; Present of Noted
// lessons of the class were attended. Turns and TwoSidedTurns are the marks that the class gives a child on a rung in a lesson in which
// it works at it (0: nothing to go by); Visits of Chances is how often a child who had begun a rung worked at it again in the lessons
// that it attended up to its last look.
type Prospect struct {
	ChildID         uuid.UUID
	ClassID         uuid.UUID
	Lessons         int
	Present, Noted  int
	Turns           float64
	TwoSidedTurns   float64
	Visits, Chances int
}

// Ahead is the day that a forecast looks to: the showcase where one is ahead, else the end of the term. What is "" without a term.
type Ahead struct {
	Day  time.Time
	What string
}

// aheadSQL looks ahead from day $1.
const aheadSQL = `select coalesce(case when showcase_on >= $1 then showcase_on end, ends_on) as day,
	case when showcase_on >= $1 then 'showcase' else 'end of the term' end as what
	from term where ends_on >= $1 order by starts_on limit 1`

// prospectSQL is about children $2 on day $1 at moment $3, until day $4; null is that of aheadSQL.
const prospectSQL = `
with until as (` + aheadSQL + `), mine as (
  select e.child_id, e.class_id, k.time_zone from enrolment e join class k on k.id = e.class_id
  where e.child_id = any($2) and e.from_on <= $1 and coalesce(e.until_on, 'infinity') >= $1
), cells as (
  select l.class_id, m.child_id, m.rung_key, r.two_sided, l.starts_at, count(*) as turns
  from mark m join lesson l on l.id = m.lesson_id join rung r on r.key = m.rung_key
  where l.class_id in (select class_id from mine) and l.starts_at > $3::timestamptz - interval '12 weeks'
    and l.starts_at <= $3 and ` + standingMarks + `
  group by l.class_id, m.child_id, m.rung_key, r.two_sided, l.id
), turns as (
  select class_id, avg(turns) filter (where not two_sided) as one, avg(turns) filter (where two_sided) as two from cells group by 1
), spans as (
  select class_id, child_id, rung_key, count(*) - 1 as again, min(starts_at) as first, max(starts_at) as last from cells group by 1, 2, 3 having count(*) > 1
), pace as (
  select s.class_id, sum(s.again) as visits, sum((select count(*) from attendance a join lesson l on l.id = a.lesson_id
    where l.class_id = s.class_id and a.child_id = s.child_id and a.present and l.starts_at > s.first and l.starts_at <= s.last)) as chances
  from spans s group by 1
), noted as (
  select l.class_id, a.child_id, count(*) filter (where a.present) as present, count(*) as noted
  from attendance a join lesson l on l.id = a.lesson_id where a.child_id = any($2) and l.starts_at <= $3 group by 1, 2
)
select mine.child_id, mine.class_id,
  (select count(*) from lesson l where l.class_id = mine.class_id and l.cancelled_at is null and l.starts_at > $3
    and (l.starts_at at time zone mine.time_zone)::date <= coalesce($4::date, (select day from until)))::int as lessons,
  coalesce(n.present, 0)::int as present, coalesce(n.noted, 0)::int as noted,
  coalesce(t.one, 0)::float8 as turns, coalesce(t.two, 0)::float8 as two_sided_turns,
  coalesce(p.visits, 0)::int as visits, coalesce(p.chances, 0)::int as chances
from mine left join noted n using (child_id, class_id) left join turns t on t.class_id = mine.class_id left join pace p on p.class_id = mine.class_id
order by mine.child_id, mine.class_id`

const asOwnerSQL = `select set_config('app.owner', ($1::boolean)::text, true)`

// DoubleMark is a mark of a lesson with the duty that day of whoever gave it.
type DoubleMark struct {
	ChildID  uuid.UUID
	RungKey  string
	LessonID uuid.UUID
	Side     studio.Side
	Outcome  studio.Outcome
	MarkedAt time.Time
	StaffID  uuid.UUID
	Name     string
	Duty     studio.Duty
}

// DoubleMarks lists, since a day, the marks of those children, rungs, sides and lessons that both a teacher and an assistant of the class
// marked, as far as the actor takes the class. Each person's own last word on a turn counts, whatever others made of it since.
func (t *Tx) DoubleMarks(ctx context.Context, since time.Time) ([]DoubleMark, error) {
	return many[DoubleMark](ctx, t, `with given as (
		select m.id, m.child_id, m.rung_key, m.lesson_id, m.side, m.outcome, m.marked_at, s.id as staff_id, s.name,
			(select max(cs.duty) from class_staff cs where cs.class_id = l.class_id and cs.staff_id = s.id
				and (l.starts_at at time zone k.time_zone)::date between cs.from_on and coalesce(cs.until_on, 'infinity')) as duty
		from mark m join lesson l on l.id = m.lesson_id join class k on k.id = l.class_id join staff s on s.account_id = m.marked_by
		where m.outcome in ('missed', 'supported', 'clean') and m.marked_at >= $1 and ($2::uuid[] is null or l.class_id = any($2))
			and not exists (select from mark later where later.replaces = m.id and later.marked_by = m.marked_by)
			and (m.replaces is null or exists (select from mark before where before.id = m.replaces and before.marked_by = m.marked_by))
	), both_of as (
		select child_id, rung_key, lesson_id, side from given where duty is not null group by 1, 2, 3, 4 having count(distinct duty) = 2
	)
	select child_id, rung_key, lesson_id, side, outcome, marked_at, staff_id, name, duty from given join both_of using (child_id, rung_key, lesson_id, side)
	where duty is not null order by child_id, marked_at, given.id`, since, t.taken())
}
