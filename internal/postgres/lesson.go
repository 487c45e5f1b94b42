package postgres

import (
	"context"
	"time"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"
	"rungbook/internal/studio"
)

// Evening is what a lesson is planned from: the lesson and its class, who is enrolled and rostered, who is here, what is in the hall.
type Evening struct {
	Lesson    studio.Lesson
	Class     studio.Class
	Blocks    []studio.Block
	Children  []EveningChild
	Staff     []EveningStaff
	SignOffs  []studio.SignOff // of the people rostered, unrevoked; also those that have expired
	Equipment []studio.Equipment
	Limits    []studio.CareLimit // in force on the day of the lesson
	Pairs     []studio.ClassPair // of children to keep together or apart
	WeekRungs []studio.WeekRung  // that the term has in the week of the lesson
}

// EveningChild is a child enrolled on the day of the lesson. Present is nil while nobody has said.
type EveningChild struct {
	studio.Child
	FamilyName string
	BirthDate  time.Time
	Present    *bool
}

// EveningStaff is somebody rostered for the day of the lesson. Present is nil while nobody has said.
type EveningStaff struct {
	studio.Staff
	BirthDate time.Time
	Duty      studio.Duty
	Present   *bool
}

const (
	lessonSQL = `select id, class_id, starts_at, minutes, coalesce((select note from lesson_note where lesson_id = lesson.id), '') as note, cancelled_at from lesson`
	classSQL  = `select id, term_id, name, weekday, to_char(starts_at, 'HH24:MI') as starts_at, minutes, time_zone, places, rotations, groups, turn_floor,
		max_activities, focus, teacher_roams from class`
	eveningChildrenSQL = `select c.id, c.given_name, c.initial, c.joined_on, c.left_on, d.family_name, d.birth_date, a.present
		from enrolment e join child c on c.id = e.child_id join child_detail d on d.child_id = c.id
		left join attendance a on a.child_id = c.id and a.lesson_id = $1
		where e.class_id = $2 and e.from_on <= $3 and coalesce(e.until_on, 'infinity') >= $3 and coalesce(c.left_on, 'infinity') >= $3
		order by c.given_name, c.initial, c.id`
	eveningStaffSQL = `select distinct on (s.id) s.id, s.account_id, s.name, s.trainee, s.can_lead, s.left_on, d.birth_date, cs.duty, a.present
		from class_staff cs join staff s on s.id = cs.staff_id join staff_detail d on d.staff_id = s.id
		left join staff_attendance a on a.staff_id = s.id and a.lesson_id = $1
		where cs.class_id = $2 and cs.from_on <= $3 and coalesce(cs.until_on, 'infinity') >= $3 and s.left_on is null
		order by s.id, cs.duty desc`
	eveningSignOffsSQL = `select o.id, o.staff_id, o.rung_key, o.granted_on, o.expires_on, o.revoked_at from sign_off o
		where o.revoked_at is null and o.staff_id = any(array(select cs.staff_id from class_staff cs where cs.class_id = $1)) order by o.id`
	eveningLimitsSQL = `select l.id, l.child_id, l.avoid_back, l.avoid_wrists, l.avoid_landing, l.avoid_inverted, l.action, l.from_on, l.until_on, l.review_on
		from care_limit l where l.child_id = any(array(select e.child_id from enrolment e where e.class_id = $1))
		and l.cleared_at is null and l.from_on <= $2 and coalesce(l.until_on, 'infinity') >= $2 order by l.from_on, l.id`
	weekRungsSQL = `select rung_key, week_of = $2 as new from pacing_rung where class_id = $1 and (week_of = $2 or $2 = any(seen_again)) order by rung_key`
)

// Lesson reads a lesson.
func (t *Tx) Lesson(ctx context.Context, id uuid.UUID) (studio.Lesson, error) {
	return one[studio.Lesson](ctx, t, lessonSQL+` where id = $1`, id)
}

// Evening reads all that a lesson is planned from, in two round trips.
func (t *Tx) Evening(ctx context.Context, lesson uuid.UUID) (Evening, error) {
	var e Evening
	var err error
	if e.Lesson, err = t.Lesson(ctx, lesson); err != nil {
		return e, err
	}
	var classes []studio.Class
	class, day := e.Lesson.ClassID, dayOf(e.Lesson.StartsAt, t.zone)
	batch := &pgx.Batch{}
	batch.Queue(classSQL+` where id = $1`, class).Query(collect(&classes))
	batch.Queue(`select position, kind, minutes, drills from lesson_block where lesson_id = $1 order by position`, lesson).Query(collect(&e.Blocks))
	batch.Queue(eveningChildrenSQL, lesson, class, day).Query(collect(&e.Children))
	batch.Queue(eveningStaffSQL, lesson, class, day).Query(collect(&e.Staff))
	batch.Queue(eveningSignOffsSQL, class).Query(collect(&e.SignOffs))
	batch.Queue(`select key, name, stock from equipment order by name`).Query(collect(&e.Equipment))
	batch.Queue(eveningLimitsSQL, class, day).Query(collect(&e.Limits))
	batch.Queue(`select child_a, child_b, wish from class_pair where class_id = $1 order by child_a, child_b`, class).Query(collect(&e.Pairs))
	batch.Queue(weekRungsSQL, class, studio.MondayOf(day)).Query(collect(&e.WeekRungs))
	if err := t.tx.SendBatch(ctx, batch).Close(); err != nil {
		return e, err
	}
	if len(classes) == 0 {
		return e, studio.Missing()
	}
	e.Class = classes[0]
	return e, nil
}

// SetPresent notes who is here: children and staff by id. Those that are not named keep what was noted.
func (t *Tx) SetPresent(ctx context.Context, lesson uuid.UUID, children, staff map[uuid.UUID]bool) error {
	batch := &pgx.Batch{}
	for child, present := range children {
		batch.Queue(`insert into attendance (lesson_id, child_id, present, noted_by, noted_at) values ($1, $2, $3, $4, $5)
			on conflict (lesson_id, child_id) do update set present = $3, noted_by = $4, noted_at = $5`, lesson, child, present, t.savedBy(), t.Now)
	}
	for person, present := range staff {
		batch.Queue(`insert into staff_attendance (lesson_id, staff_id, present, noted_at) values ($1, $2, $3, $4)
			on conflict (lesson_id, staff_id) do update set present = $3, noted_at = $4`, lesson, person, present, t.Now)
	}
	return t.tx.SendBatch(ctx, batch).Close()
}

// SaveLessonNote writes the teacher's note of a lesson.
func (t *Tx) SaveLessonNote(ctx context.Context, lesson uuid.UUID, note string) error {
	return exec(ctx, t, `insert into lesson_note (lesson_id, note) select id, $2 from lesson where id = $1
		on conflict (lesson_id) do update set note = $2`, lesson, note)
}

// SaveBlocks writes the blocks of a lesson over what was there.
func (t *Tx) SaveBlocks(ctx context.Context, lesson uuid.UUID, blocks []studio.Block) error {
	batch := &pgx.Batch{}
	batch.Queue(`delete from lesson_block where lesson_id = $1`, lesson)
	for _, b := range blocks {
		batch.Queue(`insert into lesson_block (lesson_id, position, kind, minutes, drills) values ($1, $2, $3, $4, $5)`, lesson, b.Position, b.Kind, b.Minutes, filled(b.Drills))
	}
	return t.tx.SendBatch(ctx, batch).Close()
}

// DayOf is the day of a moment in the studio's time zone, as midnight UTC.
func (t *Tx) DayOf(moment time.Time) time.Time { return dayOf(moment, t.zone) }
