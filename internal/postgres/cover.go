package postgres

import (
	"context"
	"time"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"
)

// NightChild is a child enrolled on the day of a lesson. Away says that it was noted as not coming.
type NightChild struct {
	LessonID  uuid.UUID
	ChildID   uuid.UUID
	GivenName string
	Initial   string
	BirthDate time.Time
	Away      bool
}

// NightPerson is somebody rostered on the day of a lesson. Roams says that the person is kept free of stations and spotting.
type NightPerson struct {
	LessonID  uuid.UUID
	StaffID   uuid.UUID
	Name      string
	BirthDate time.Time
	Trainee   bool
	Roams     bool
	Away      bool
}

const (
	nightChildrenSQL = `select l.id as lesson_id, c.id as child_id, c.given_name, c.initial, d.birth_date, not coalesce(a.present, true) as away
		from lesson l join enrolment e on e.class_id = l.class_id join child c on c.id = e.child_id join child_detail d on d.child_id = c.id
		left join attendance a on a.lesson_id = l.id and a.child_id = c.id
		where l.id = any($1) and (l.starts_at at time zone $2)::date between e.from_on and coalesce(e.until_on, 'infinity')
		and coalesce(c.left_on, 'infinity') >= (l.starts_at at time zone $2)::date order by c.given_name, c.initial, c.id`
	nightPeopleSQL = `select distinct on (s.name, s.id, l.id) l.id as lesson_id, s.id as staff_id, s.name, d.birth_date, s.trainee,
		k.teacher_roams and cs.duty = 'teacher' as roams, not coalesce(a.present, true) as away
		from lesson l join class k on k.id = l.class_id join class_staff cs on cs.class_id = l.class_id join staff s on s.id = cs.staff_id
		join staff_detail d on d.staff_id = s.id left join staff_attendance a on a.lesson_id = l.id and a.staff_id = s.id
		where l.id = any($1) and (l.starts_at at time zone $2)::date between cs.from_on and coalesce(cs.until_on, 'infinity') and s.left_on is null
		order by s.name, s.id, l.id, cs.duty desc`
)

// Nights reads who is expected at lessons, children and people by name, in one round trip.
func (t *Tx) Nights(ctx context.Context, lessons []uuid.UUID) (children []NightChild, people []NightPerson, err error) {
	batch := &pgx.Batch{}
	batch.Queue(nightChildrenSQL, lessons, t.zone.String()).Query(collect(&children))
	batch.Queue(nightPeopleSQL, lessons, t.zone.String()).Query(collect(&people))
	err = t.tx.SendBatch(ctx, batch).Close()
	return children, people, err
}
