package postgres

import (
	"context"
	"time"

	"github.com/google/uuid"
	"rungbook/internal/studio"
)

// ReportCard is a class with what its term report would rest on. Children were in the class at some time of the term; Lessons were
// held; Turns were marked in them, by every marker.
type ReportCard struct {
	studio.Class
	TermName string
	StartsOn time.Time
	EndsOn   time.Time
	Children int
	Lessons  int
	Turns    int
}

const reportCardsSQL = `select c.id, c.term_id, c.name, c.weekday, to_char(c.starts_at, 'HH24:MI') as starts_at, c.minutes, c.time_zone,
	m.name as term_name, m.starts_on, m.ends_on,
	(select count(*) from enrolment e where e.class_id = c.id and e.from_on <= m.ends_on and coalesce(e.until_on, 'infinity') >= m.starts_on) as children,
	(select count(*) from lesson l where l.class_id = c.id and l.cancelled_at is null and l.starts_at + make_interval(mins => l.minutes) <= $2) as lessons,
	(select count(*) from mark m join lesson l on l.id = m.lesson_id where l.class_id = c.id and ` + standingMarks + ` and not ` + waitingMark + `) as turns
	from class c join term m on m.id = c.term_id where ($1::uuid[] is null or c.id = any($1))
	order by m.starts_on desc, m.name, (c.weekday + 6) % 7, c.starts_at, c.name`

// ReportCards lists the classes that the actor takes, all of them for an owner: latest term first, then through the week.
func (t *Tx) ReportCards(ctx context.Context) ([]ReportCard, error) {
	return many[ReportCard](ctx, t, reportCardsSQL, t.taken(), t.Now)
}

// ClassAttendance is how often a child came to a class: Attended of the Noted lessons for which somebody said whether the child was
// there, of the Held lessons that were not cancelled and are over while the child was in the class.
type ClassAttendance struct {
	ChildID  uuid.UUID
	Attended int
	Noted    int
	Held     int
}

const classAttendanceSQL = `select e.child_id, count(*) filter (where a.present) as attended, count(a.lesson_id) as noted, count(l.id) as held
	from enrolment e join class c on c.id = e.class_id
	left join lesson l on l.class_id = c.id and l.cancelled_at is null and l.starts_at + make_interval(mins => l.minutes) <= $2
		and (l.starts_at at time zone c.time_zone)::date between e.from_on and coalesce(e.until_on, 'infinity')
	left join attendance a on a.lesson_id = l.id and a.child_id = e.child_id
	where e.class_id = $1 group by e.child_id`

// AttendanceOfClass counts the attendance of everybody who is or was in a class.
func (t *Tx) AttendanceOfClass(ctx context.Context, class uuid.UUID) ([]ClassAttendance, error) {
	return many[ClassAttendance](ctx, t, classAttendanceSQL, class, t.Now)
}

// HomeDrillsOn lists what children have at home on a day, the newest first; withdrawn drills are left out.
func (t *Tx) HomeDrillsOn(ctx context.Context, children []uuid.UUID, day time.Time) ([]studio.HomeAssignment, error) {
	rows, err := many[homeRow](ctx, t, `select id, child_id, drill_key, sets, repeats, hold_seconds, from_on, until_on, why, withdrawn_at
		from home_assignment where child_id = any($1) and withdrawn_at is null and $2 between from_on and until_on order by assigned_at desc, id`, children, day)
	var given []studio.HomeAssignment
	for _, r := range rows {
		given = append(given, r.assignment())
	}
	return given, err
}

// MarkerDuty is an account that marked: Teaches says whether it is, or was, a teacher of a class, or only helped at one.
type MarkerDuty struct {
	AccountID uuid.UUID
	Teaches   bool
}

// DutiesOfMarkers lists the accounts that marked children, as far as the actor may see on which classes they are.
func (t *Tx) DutiesOfMarkers(ctx context.Context, children []uuid.UUID) ([]MarkerDuty, error) {
	return many[MarkerDuty](ctx, t, `select s.account_id, bool_or(cs.duty = 'teacher') as teaches from staff s join class_staff cs on cs.staff_id = s.id
		where s.account_id = any(array(select distinct m.marked_by from mark m where m.child_id = any($1) and m.marked_by is not null)) group by s.account_id`, children)
}
