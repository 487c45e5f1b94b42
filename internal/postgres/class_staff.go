package postgres

import (
	"context"
	"time"

	"github.com/google/uuid"
	"rungbook/internal/studio"
)

const classStaffSQL = `select cs.class_id, cs.staff_id, s.name as staff_name, cs.duty, cs.from_on, cs.until_on
	from class_staff cs join staff s on s.id = cs.staff_id `

// ClassStaff lists who takes or helps at a class, ever; teachers first.
func (t *Tx) ClassStaff(ctx context.Context, class uuid.UUID) ([]studio.ClassStaff, error) {
	return many[studio.ClassStaff](ctx, t, classStaffSQL+`where cs.class_id = $1 order by cs.duty desc, cs.from_on, lower(s.name)`, class)
}

// StaffOfClasses lists the same of several classes.
func (t *Tx) StaffOfClasses(ctx context.Context, classes []uuid.UUID) ([]studio.ClassStaff, error) {
	return many[studio.ClassStaff](ctx, t, classStaffSQL+`where cs.class_id = any($1) order by cs.duty desc, cs.from_on, lower(s.name)`, classes)
}

// AddClassStaff puts somebody on a class.
func (t *Tx) AddClassStaff(ctx context.Context, s studio.ClassStaff) error {
	return exec(ctx, t, `insert into class_staff (class_id, staff_id, duty, from_on, until_on) values ($1, $2, $3, $4, $5)`,
		s.ClassID, s.StaffID, s.Duty, s.FromOn, s.UntilOn)
}

// EndClassStaff ends somebody's duty on a day; one that began later never was.
func (t *Tx) EndClassStaff(ctx context.Context, s studio.ClassStaff, on time.Time) error {
	if on.Before(s.FromOn) {
		return exec(ctx, t, `delete from class_staff where class_id = $1 and staff_id = $2 and duty = $3 and from_on = $4`, s.ClassID, s.StaffID, s.Duty, s.FromOn)
	}
	return exec(ctx, t, `update class_staff set until_on = $5 where class_id = $1 and staff_id = $2 and duty = $3 and from_on = $4`,
		s.ClassID, s.StaffID, s.Duty, s.FromOn, on)
}
