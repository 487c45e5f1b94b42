package postgres

import (
	"context"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"
	"rungbook/internal/studio"
)

const childSQL = `select c.id, c.given_name, c.initial, c.joined_on, c.left_on, c.erased_at, d.family_name, d.birth_date, d.contact, coalesce(d.roster_ref, '') as roster_ref
	from child c join child_detail d on d.child_id = c.id `

// ChildDetails lists the children whose detail the actor may see, those who have left last.
func (t *Tx) ChildDetails(ctx context.Context) ([]studio.ChildDetail, error) {
	return many[studio.ChildDetail](ctx, t, childSQL+`order by c.left_on is not null and c.left_on <= $1, lower(c.given_name), lower(d.family_name), c.id`, t.Today)
}

// ChildDetail is one child with what only its teachers, its guardians and the owner may know.
func (t *Tx) ChildDetail(ctx context.Context, id uuid.UUID) (studio.ChildDetail, error) {
	return one[studio.ChildDetail](ctx, t, childSQL+`where c.id = $1`, id)
}

// AddChildren writes new children. Each must have its id.
func (t *Tx) AddChildren(ctx context.Context, children []studio.ChildDetail) error {
	batch := &pgx.Batch{}
	for _, c := range children {
		batch.Queue(`insert into child (id, given_name, initial, joined_on, left_on) values ($1, $2, $3, $4, $5)`,
			c.ID, c.GivenName, c.Initial, c.JoinedOn, c.LeftOn)
		batch.Queue(`insert into child_detail (child_id, family_name, birth_date, contact, roster_ref) values ($1, $2, $3, $4, nullif($5, ''))`,
			c.ID, c.FamilyName, c.BirthDate, c.Contact, c.RosterRef)
	}
	return t.tx.SendBatch(ctx, batch).Close()
}

// SaveChildren changes children that are there.
func (t *Tx) SaveChildren(ctx context.Context, children []studio.ChildDetail) error {
	batch := &pgx.Batch{}
	for _, c := range children {
		batch.Queue(`update child set given_name = $2, initial = $3, joined_on = $4, left_on = $5 where id = $1`,
			c.ID, c.GivenName, c.Initial, c.JoinedOn, c.LeftOn)
		batch.Queue(`update child_detail set family_name = $2, birth_date = $3, contact = $4, roster_ref = nullif($5, '') where child_id = $1`,
			c.ID, c.FamilyName, c.BirthDate, c.Contact, c.RosterRef)
	}
	return t.tx.SendBatch(ctx, batch).Close()
}

// ChildExists reports whether the actor sees the child.
func (t *Tx) ChildExists(ctx context.Context, id uuid.UUID) (bool, error) {
	return value[bool](ctx, t, `select exists (select from child where id = $1)`, id)
}
