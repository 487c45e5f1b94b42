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

const attendanceSQL = `select a.lesson_id, c.name as class_name, c.time_zone, l.starts_at, a.present
		from attendance a join lesson l on l.id = a.lesson_id join class c on c.id = l.class_id where a.child_id = $1 order by l.starts_at desc`

// AttendanceOf lists what was noted of a child, latest first, as far as the actor may see the lessons.
func (t *Tx) AttendanceOf(ctx context.Context, child uuid.UUID) ([]Attended, error) {
	return many[Attended](ctx, t, attendanceSQL, child)
}
