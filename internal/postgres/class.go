package postgres

import (
	"context"

	"github.com/google/uuid"
	"rungbook/internal/studio"
)

// Classes lists the classes of a term that the actor may see, by weekday and time; uuid.Nil means those of every term.
func (t *Tx) Classes(ctx context.Context, term uuid.UUID) ([]studio.Class, error) {
	return many[studio.Class](ctx, t, classSQL+` where $1 = '00000000-0000-0000-0000-000000000000'::uuid or term_id = $1
		order by (select m.starts_on from term m where m.id = class.term_id) desc, (class.weekday + 6) % 7, class.starts_at, class.name`, term)
}

// Class is one class.
func (t *Tx) Class(ctx context.Context, id uuid.UUID) (studio.Class, error) {
	return one[studio.Class](ctx, t, classSQL+` where id = $1`, id)
}

// AddClass writes a new class and returns its id.
func (t *Tx) AddClass(ctx context.Context, c studio.Class) (uuid.UUID, error) {
	return value[uuid.UUID](ctx, t, `insert into class (term_id, name, weekday, starts_at, minutes, time_zone, places, rotations, groups, turn_floor, max_activities, focus, teacher_roams)
		values ($1, $2, $3, $4::text::time, $5, $6, $7, $8, $9, $10, $11, $12, $13) returning id`,
		c.TermID, c.Name, int(c.Weekday), c.StartsAt, c.Minutes, c.TimeZone, c.Places, c.Rotations, c.Groups, c.TurnFloor, c.MaxActivities, filled(c.Focus), c.TeacherRoams)
}

// SaveClass changes a class; its term stays.
func (t *Tx) SaveClass(ctx context.Context, c studio.Class) error {
	return exec(ctx, t, `update class set name = $2, weekday = $3, starts_at = $4::text::time, minutes = $5, time_zone = $6, places = $7, rotations = $8,
		groups = $9, turn_floor = $10, max_activities = $11, focus = $12, teacher_roams = $13 where id = $1`,
		c.ID, c.Name, int(c.Weekday), c.StartsAt, c.Minutes, c.TimeZone, c.Places, c.Rotations, c.Groups, c.TurnFloor, c.MaxActivities, filled(c.Focus), c.TeacherRoams)
}
