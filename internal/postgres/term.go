package postgres

import (
	"context"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"
	"rungbook/internal/studio"
)

const termSQL = `select id, name, starts_on, ends_on, showcase_on, archived_at from term `

// Terms lists the terms, the newest first.
func (t *Tx) Terms(ctx context.Context) ([]studio.Term, error) {
	return many[studio.Term](ctx, t, termSQL+`order by starts_on desc, name`)
}

// Term is one term.
func (t *Tx) Term(ctx context.Context, id uuid.UUID) (studio.Term, error) {
	return one[studio.Term](ctx, t, termSQL+`where id = $1`, id)
}

// AddTerm writes a new term and returns its id.
func (t *Tx) AddTerm(ctx context.Context, term studio.Term) (uuid.UUID, error) {
	return value[uuid.UUID](ctx, t, `insert into term (name, starts_on, ends_on, showcase_on) values ($1, $2, $3, $4) returning id`,
		term.Name, term.StartsOn, term.EndsOn, term.ShowcaseOn)
}

// SaveTerm changes a term.
func (t *Tx) SaveTerm(ctx context.Context, term studio.Term) error {
	return exec(ctx, t, `update term set name = $2, starts_on = $3, ends_on = $4, showcase_on = $5 where id = $1`,
		term.ID, term.Name, term.StartsOn, term.EndsOn, term.ShowcaseOn)
}

// DeleteTerm removes a term in which no class was ever made.
func (t *Tx) DeleteTerm(ctx context.Context, id uuid.UUID) error {
	return exec(ctx, t, `delete from term where id = $1`, id)
}

// Holidays lists the holidays of a term by date.
func (t *Tx) Holidays(ctx context.Context, term uuid.UUID) ([]studio.Holiday, error) {
	return many[studio.Holiday](ctx, t, `select id, term_id, name, starts_on, ends_on from holiday where term_id = $1 order by starts_on, name`, term)
}

// SetHolidays makes these the holidays of a term, and no others.
func (t *Tx) SetHolidays(ctx context.Context, term uuid.UUID, holidays []studio.Holiday) error {
	batch := &pgx.Batch{}
	batch.Queue(`delete from holiday where term_id = $1`, term)
	for _, h := range holidays {
		batch.Queue(`insert into holiday (term_id, name, starts_on, ends_on) values ($1, $2, $3, $4)`, term, h.Name, h.StartsOn, h.EndsOn)
	}
	return t.tx.SendBatch(ctx, batch).Close()
}

// PutAwayTerm makes a term read-only as of now, or, with away false, takes it out again. studio.Missing when it is so already.
func (t *Tx) PutAwayTerm(ctx context.Context, id uuid.UUID, away bool) error {
	if away {
		return exec(ctx, t, `update term set archived_at = $2 where id = $1 and archived_at is null`, id, t.Now)
	}
	return exec(ctx, t, `update term set archived_at = null where id = $1 and archived_at is not null`, id)
}
