package postgres

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"fmt"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"
	"rungbook/internal/studio"
)

// SheetRoll is what the class sheet of a lesson is made from, as far as the actor may see it.
type SheetRoll struct {
	Lesson    studio.Lesson
	Class     studio.Class
	Plan      studio.Plan // without cells while there is none to be seen
	Children  []RollChild
	Staff     []RollStaff
	Limits    []studio.CareLimit // in force on the day
	Marks     []RollMark
	Clock     studio.Clock
	OwnID     uuid.UUID // the actor's staff record; Nil when it has none
	SignedOff []string  // rungs that the actor is signed off for on the day
}

// RollChild is a child of the class on the day. Present is nil while nobody has said.
type RollChild struct {
	studio.Child
	Present *bool
}

// RollStaff is somebody rostered for the day, or named in the plan.
type RollStaff struct {
	ID      uuid.UUID
	Name    string
	Present *bool
}

// RollMark is a mark of the lesson. Awaits says that it does not count before a teacher confirms it.
type RollMark struct {
	SeenMark
	Awaits bool
}

// Names are the children.
func (r SheetRoll) Names() []studio.Child {
	var all []studio.Child
	for _, c := range r.Children {
		all = append(all, c.Child)
	}
	return all
}

const (
	// marks that stand, also those that still wait for a teacher's word
	standingMarks  = `m.outcome <> 'withdrawn' and not exists (select from mark later where later.replaces = m.id and later.child_id = m.child_id)`
	waitingMark    = `(m.awaits and not exists (select from mark_confirmation c where c.mark_id = m.id))`
	lessonMarksSQL = `select m.id, m.child_id, m.rung_key, m.lesson_id, m.side, m.outcome, m.marked_by, m.marked_at, m.replaces,
		array(select f.fault_key from mark_fault f where f.mark_id = m.id order by 1) as faults,
		coalesce((select s.name from staff s where s.account_id = m.marked_by), '') as marked_by_name, ` + waitingMark + ` as awaits
		from mark m where m.lesson_id = $1 and ` + standingMarks + ` order by m.received_at, m.marked_at, m.id`
	clockSQL = `select version, rotation, started_at, elapsed_ms from lesson_clock where lesson_id = $1`
)

// SheetRoll reads the class sheet of a lesson.
func (t *Tx) SheetRoll(ctx context.Context, lesson uuid.UUID) (SheetRoll, error) {
	r := SheetRoll{Clock: studio.Clock{Rotation: 1}}
	var err error
	if r.Lesson, err = t.Lesson(ctx, lesson); err != nil {
		return r, err
	}
	day := t.DayOf(r.Lesson.StartsAt)
	var classes []studio.Class
	var plans []studio.Plan
	var clocks []studio.Clock
	var own []uuid.UUID
	batch := &pgx.Batch{}
	batch.Queue(classSQL+` where id = $1`, r.Lesson.ClassID).Query(collect(&classes))
	batch.Queue(planSQL+` where lesson_id = $1`, lesson).Query(collect(&plans))
	batch.Queue(`select c.id, c.given_name, c.initial, c.joined_on, c.left_on, a.present from enrolment e join child c on c.id = e.child_id
		left join attendance a on a.child_id = c.id and a.lesson_id = $1
		where e.class_id = $2 and e.from_on <= $3 and coalesce(e.until_on, 'infinity') >= $3 and coalesce(c.left_on, 'infinity') >= $3
		order by c.given_name, c.initial, c.id`, lesson, r.Lesson.ClassID, day).Query(collect(&r.Children))
	batch.Queue(`select s.id, s.name, a.present from staff s left join staff_attendance a on a.staff_id = s.id and a.lesson_id = $1
		where s.id = any(array(select cs.staff_id from class_staff cs where cs.class_id = $2 and cs.from_on <= $3 and coalesce(cs.until_on, 'infinity') >= $3))
		and s.left_on is null order by s.name, s.id`, lesson, r.Lesson.ClassID, day).Query(collect(&r.Staff))
	batch.Queue(eveningLimitsSQL, r.Lesson.ClassID, day).Query(collect(&r.Limits))
	batch.Queue(lessonMarksSQL, lesson).Query(collect(&r.Marks))
	batch.Queue(clockSQL, lesson).Query(collect(&clocks))
	batch.Queue(`select id from staff where account_id = $1`, t.Actor.ID).Query(into(&own))
	batch.Queue(`select o.rung_key from sign_off o join staff s on s.id = o.staff_id where s.account_id = $1 and o.revoked_at is null and not s.trainee
		and $2 between o.granted_on and o.expires_on`, t.Actor.ID, day).Query(into(&r.SignedOff))
	if err := t.tx.SendBatch(ctx, batch).Close(); err != nil {
		return r, err
	}
	if len(classes) == 0 {
		return r, studio.Missing()
	}
	r.Class = classes[0]
	if len(clocks) > 0 {
		r.Clock = clocks[0]
	}
	if len(own) > 0 {
		r.OwnID = own[0]
	}
	if len(plans) == 0 {
		return r, nil
	}
	r.Plan = plans[0]
	return r, t.planParts(ctx, &r.Plan)
}

// into scans the single column of rows into a list.
func into[T any](list *[]T) func(pgx.Rows) error {
	return func(rows pgx.Rows) error {
		var err error
		*list, err = pgx.CollectRows(rows, pgx.RowTo[T])
		return err
	}
}

// tagSQL sums up all that a class sheet shows and that can change during a lesson.
const tagSQL = `select concat_ws('|', l.starts_at, l.minutes, l.cancelled_at,
	(select concat_ws(',', p.version, p.shared_at) from plan p where p.lesson_id = l.id),
	(select concat_ws(',', c.version, c.changed_at) from lesson_clock c where c.lesson_id = l.id),
	(select concat_ws(',', count(*), max(m.received_at), count(k.mark_id)) from mark m left join mark_confirmation k on k.mark_id = m.id where m.lesson_id = l.id),
	(select concat_ws(',', count(*), max(a.noted_at), count(*) filter (where a.present)) from attendance a where a.lesson_id = l.id),
	(select concat_ws(',', count(*), max(a.noted_at), count(*) filter (where a.present)) from staff_attendance a where a.lesson_id = l.id),
	(select concat_ws(',', count(*), max(i.set_at), max(i.cleared_at), count(i.cleared_at)) from care_limit i
		where i.child_id = any(array(select e.child_id from enrolment e where e.class_id = l.class_id))),
	(select concat_ws(',', count(*), max(e.from_on), max(e.until_on)) from enrolment e where e.class_id = l.class_id)) from lesson l where l.id = $1`

// SheetTag is a short text that changes when the class sheet of a lesson does, for this actor; also every five minutes, for what it does
// not look at, such as the library.
func (t *Tx) SheetTag(ctx context.Context, lesson uuid.UUID) (string, error) {
	is, err := value[string](ctx, t, tagSQL, lesson)
	if err != nil {
		return "", err
	}
	who := fmt.Sprint(t.Actor.ID, t.Scope.Owner, t.Scope.Teaches, t.Scope.Assists, t.Settings, t.Now.Unix()/300)
	sum := sha256.Sum256([]byte(is + who))
	return hex.EncodeToString(sum[:12]), nil
}
