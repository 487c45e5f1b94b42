package postgres

import (
	"context"

	"github.com/google/uuid"
	"rungbook/internal/studio"
)

// Pupil is a child with the classes that it is in today, as far as the actor may see them.
type Pupil struct {
	studio.ChildDetail
	ClassIDs   []uuid.UUID
	ClassNames []string
}

const pupilsSQL = `select c.id, c.given_name, c.initial, c.joined_on, c.left_on, d.family_name, d.birth_date,
	array(select k.id from enrolment e join class k on k.id = e.class_id where e.child_id = c.id and e.from_on <= $1
		and coalesce(e.until_on, 'infinity') >= $1 order by k.name, k.id) as class_ids,
	array(select k.name from enrolment e join class k on k.id = e.class_id where e.child_id = c.id and e.from_on <= $1
		and coalesce(e.until_on, 'infinity') >= $1 order by k.name, k.id) as class_names
	from child c join child_detail d on d.child_id = c.id where `

const byName = ` order by lower(c.given_name), lower(d.family_name), c.id`

// Pupil is one child; studio.Missing when there is none to be seen.
func (t *Tx) Pupil(ctx context.Context, child uuid.UUID) (Pupil, error) {
	return one[Pupil](ctx, t, pupilsSQL+`c.id = $2`, t.Today, child)
}

// PupilsOf lists the children in a class today.
func (t *Tx) PupilsOf(ctx context.Context, class uuid.UUID) ([]Pupil, error) {
	return many[Pupil](ctx, t, pupilsSQL+`c.id = any(array(select e.child_id from enrolment e where e.class_id = $2 and e.from_on <= $1
		and coalesce(e.until_on, 'infinity') >= $1))`+byName, t.Today, class)
}

// Pupils lists the children in classes that the actor takes (all of an owner's) whose name holds a text; "" is in every name.
func (t *Tx) Pupils(ctx context.Context, search string) ([]Pupil, error) {
	return many[Pupil](ctx, t, pupilsSQL+`c.left_on is null and position(lower($2) in lower(c.given_name || ' ' || d.family_name)) > 0
		and ($3::uuid[] is null or exists (select from enrolment e where e.child_id = c.id and e.class_id = any($3)
			and e.from_on <= $1 and coalesce(e.until_on, 'infinity') >= $1))`+byName, t.Today, search, t.taken())
}

// OwnChildren lists the children of whom the actor is a guardian.
func (t *Tx) OwnChildren(ctx context.Context) ([]Pupil, error) {
	return many[Pupil](ctx, t, pupilsSQL+`c.id = any($2)`+byName, t.Today, t.Scope.Guards)
}
