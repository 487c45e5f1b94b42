package postgres

import (
	"context"

	"github.com/google/uuid"
	"rungbook/internal/studio"
)

const incidentSQL = `select i.id, i.lesson_id, i.child_id, i.happened_at, i.what, i.done, i.told, i.seen_by, i.written_by, i.written_at, i.keep_until,
	k.name as class_name, k.time_zone, l.starts_at as lesson_at,
	coalesce((select trim(c.given_name || ' ' || d.family_name) from child c join child_detail d on d.child_id = c.id where c.id = i.child_id), '') as child_name,
	coalesce((select s.name from staff s where s.account_id = i.written_by), '') as written_by_name,
	(select count(*) from incident_addition a where a.incident_id = i.id) as additions
	from incident i join lesson l on l.id = i.lesson_id join class k on k.id = l.class_id`

// Incidents lists the records that the actor may read, of one lesson or (uuid.Nil) of all; latest first.
func (t *Tx) Incidents(ctx context.Context, lesson uuid.UUID) ([]studio.IncidentLine, error) {
	return many[studio.IncidentLine](ctx, t, incidentSQL+` where $1 = '00000000-0000-0000-0000-000000000000'::uuid or i.lesson_id = $1 order by i.happened_at desc, i.id`, lesson)
}

// Incident reads a record.
func (t *Tx) Incident(ctx context.Context, id uuid.UUID) (studio.IncidentLine, error) {
	return one[studio.IncidentLine](ctx, t, incidentSQL+` where i.id = $1`, id)
}

// IncidentAdditions reads what was added to a record, in order.
func (t *Tx) IncidentAdditions(ctx context.Context, incident uuid.UUID) ([]studio.IncidentAddition, error) {
	return many[studio.IncidentAddition](ctx, t, `select a.id, a.words, a.written_at, coalesce((select s.name from staff s where s.account_id = a.written_by), '') as written_by_name
		from incident_addition a where a.incident_id = $1 order by a.written_at, a.id`, incident)
}

// AddIncident writes a record.
func (t *Tx) AddIncident(ctx context.Context, i studio.Incident) error {
	return exec(ctx, t, `insert into incident (id, lesson_id, child_id, happened_at, what, done, told, seen_by, written_by, written_at, keep_until)
		values ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10, $11)`,
		i.ID, i.LessonID, i.ChildID, i.HappenedAt, i.What, i.Done, i.Told, i.SeenBy, t.savedBy(), t.Now, i.KeepUntil)
}

// AddToIncident writes what was learned later.
func (t *Tx) AddToIncident(ctx context.Context, incident uuid.UUID, words string) error {
	return exec(ctx, t, `insert into incident_addition (incident_id, words, written_by, written_at) values ($1, $2, $3, $4)`, incident, words, t.savedBy(), t.Now)
}
