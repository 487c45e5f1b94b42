package postgres

import (
	"context"
	"time"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"
	"rungbook/internal/studio"
)

// TermsBook is what all terms of the studio are compared by, but for the marks.
type TermsBook struct {
	Terms    []studio.Term  // the oldest first
	Classes  []studio.Class // through the week
	Places   []TermPlace
	Lessons  []TermLesson // in order of time
	People   []NightPerson
	Planned  []LessonRung
	SignOffs []HeldSignOff
	Library  studio.Library
}

// TermPlace is a child's place in a class, with what the studio still knows of the child.
type TermPlace struct {
	ClassID   uuid.UUID
	ChildID   uuid.UUID
	FromOn    time.Time
	UntilOn   *time.Time
	Name      string // of an erased child ""
	LeftOn    *time.Time
	BirthDate time.Time
}

// TermLesson is a lesson with how many of the children in the class on its day were expected, for how many somebody noted whether they
// came, and how many came. Youngest is the latest birth date of those who were not noted as away; nil when there are none.
type TermLesson struct {
	ID          uuid.UUID
	ClassID     uuid.UUID
	HeldOn      time.Time // its day, in the class's time zone
	EndsAt      time.Time
	CancelledAt *time.Time
	Expected    int
	Noted       int
	Came        int
	Youngest    *time.Time
}

// LessonRung is a rung that a lesson's plan has for somebody.
type LessonRung struct {
	LessonID uuid.UUID
	RungKey  string
}

// HeldSignOff is a sign-off, revoked ones too: they held until then.
type HeldSignOff struct {
	StaffID   uuid.UUID
	StaffName string
	RungKey   string
	GrantedOn time.Time
	ExpiresOn time.Time
	RevokedAt *time.Time
	Gone      bool // the person has left
}

const (
	allTermsSQL = `select id, name, starts_on, ends_on, showcase_on, archived_at from term order by starts_on, name`

	termClassesSQL = `select id, term_id, name, weekday, to_char(starts_at, 'HH24:MI') as starts_at, minutes, time_zone, teacher_roams, focus
		from class order by (weekday + 6) % 7, class.starts_at, name`

	termPlacesSQL = `select e.class_id, e.child_id, e.from_on, e.until_on, h.left_on, d.birth_date,
		case when h.erased_at is null then trim(h.given_name || ' ' || d.family_name) else '' end as name
		from enrolment e join child h on h.id = e.child_id join child_detail d on d.child_id = h.id order by h.given_name, d.family_name, h.id`

	termLessonsSQL = `select l.id, l.class_id, (l.starts_at at time zone c.time_zone)::date as held_on, l.starts_at + make_interval(mins => l.minutes) as ends_at,
		l.cancelled_at, count(h.id) as expected, count(a.lesson_id) as noted, count(*) filter (where a.present) as came,
		max(d.birth_date) filter (where coalesce(a.present, true)) as youngest
		from lesson l join class c on c.id = l.class_id
		left join enrolment e on e.class_id = l.class_id and (l.starts_at at time zone c.time_zone)::date between e.from_on and coalesce(e.until_on, 'infinity')
		left join child h on h.id = e.child_id and coalesce(h.left_on, 'infinity') >= (l.starts_at at time zone c.time_zone)::date
		left join child_detail d on d.child_id = h.id
		left join attendance a on a.lesson_id = l.id and a.child_id = h.id
		group by l.id, c.time_zone order by l.starts_at, l.id`

	termPeopleSQL = `select distinct on (l.id, s.id) l.id as lesson_id, s.id as staff_id, s.name, d.birth_date, s.trainee,
		k.teacher_roams and cs.duty = 'teacher' as roams, not coalesce(a.present, true) as away
		from lesson l join class k on k.id = l.class_id join class_staff cs on cs.class_id = l.class_id join staff s on s.id = cs.staff_id
		join staff_detail d on d.staff_id = s.id left join staff_attendance a on a.lesson_id = l.id and a.staff_id = s.id
		where l.cancelled_at is null and (l.starts_at at time zone k.time_zone)::date between cs.from_on and coalesce(cs.until_on, 'infinity')
		and coalesce(s.left_on, 'infinity') >= (l.starts_at at time zone k.time_zone)::date
		order by l.id, s.id, cs.duty desc`

	plannedRungsSQL = `select distinct p.lesson_id, e.rung_key from plan p join plan_entry e on e.plan_id = p.id where e.rung_key is not null`

	heldSignOffsSQL = `select o.staff_id, s.name as staff_name, o.rung_key, o.granted_on, o.expires_on, o.revoked_at, coalesce(s.left_on <= $1, false) as gone
		from sign_off o join staff s on s.id = o.staff_id order by s.name, s.id, o.rung_key, o.expires_on`

	// Faults are joined, not asked for mark by mark: there is a mark for every turn of every term.
	termMarksSQL = `with hurts as materialized (select distinct f.mark_id from mark_fault f join fault x on (x.rung_key, x.key) = (f.rung_key, f.fault_key) where x.safety)
		select m.child_id, m.rung_key, m.lesson_id, m.side, m.outcome, m.marked_at, m.marked_by, h.mark_id is not null as safety_fault
		from mark m left join hurts h on h.mark_id = m.id where ` + standingMarks + ` and not ` + waitingMark + `
		order by m.child_id, m.rung_key, m.received_at, m.marked_at, m.id`
)

// TermsBook reads the terms that were kept, in one round trip.
func (t *Tx) TermsBook(ctx context.Context) (TermsBook, error) {
	var book TermsBook
	library := newLibraryBuilder()
	batch := &pgx.Batch{}
	batch.Queue(allTermsSQL).Query(collect(&book.Terms))
	batch.Queue(termClassesSQL).Query(collect(&book.Classes))
	batch.Queue(termPlacesSQL).Query(collect(&book.Places))
	batch.Queue(termLessonsSQL).Query(collect(&book.Lessons))
	batch.Queue(termPeopleSQL).Query(collect(&book.People))
	batch.Queue(plannedRungsSQL).Query(collect(&book.Planned))
	batch.Queue(heldSignOffsSQL, t.Today).Query(collect(&book.SignOffs))
	library.queue(batch)
	err := t.tx.SendBatch(ctx, batch).Close()
	book.Library = library.library()
	return book, err
}

// EachChildsMarks gives take the marks in force of each child in turn, by rung, the oldest first. What take is given is good until it
// returns.
func (t *Tx) EachChildsMarks(ctx context.Context, take func(child uuid.UUID, marks []SeenMark) error) error {
	rows, err := t.tx.Query(ctx, termMarksSQL)
	if err != nil {
		return err
	}
	defer rows.Close()
	var marks []SeenMark
	for rows.Next() {
		var m SeenMark
		if err := rows.Scan(&m.ChildID, &m.RungKey, &m.LessonID, &m.Side, &m.Outcome, &m.MarkedAt, &m.MarkedBy, &m.SafetyFault); err != nil {
			return err
		}
		if len(marks) > 0 && marks[0].ChildID != m.ChildID {
			if err := take(marks[0].ChildID, marks); err != nil {
				return err
			}
			marks = marks[:0]
		}
		marks = append(marks, m)
	}
	if err := rows.Err(); err != nil || len(marks) == 0 {
		return err
	}
	return take(marks[0].ChildID, marks)
}
