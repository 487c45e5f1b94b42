package postgres

import (
	"context"
	"time"

	"github.com/google/uuid"
	"rungbook/internal/studio"
)

const emailChangeColumns = `select account_id, was, email, asked_at, confirmed_at from email_change `

// AskEmailChange keeps a change of address that is to be confirmed, in place of any earlier one. confirm and stop are the SHA-256 of the
// secrets in the two links.
func (t *Tx) AskEmailChange(ctx context.Context, c studio.EmailChange, confirm, stop []byte) error {
	return exec(ctx, t, `insert into email_change (account_id, was, email, confirm_hash, stop_hash, asked_at) values ($1, $2, $3, $4, $5, $6)
		on conflict (account_id) do update set was = $2, email = $3, confirm_hash = $4, stop_hash = $5, asked_at = $6, confirmed_at = null`,
		c.AccountID, c.Was, c.Email, confirm, stop, t.Now)
}

// EmailChangeOf is the change of an account that is still to be confirmed, asked for since a moment; studio.Missing when there is none.
func (t *Tx) EmailChangeOf(ctx context.Context, account uuid.UUID, since time.Time) (studio.EmailChange, error) {
	return one[studio.EmailChange](ctx, t, emailChangeColumns+`where account_id = $1 and confirmed_at is null and asked_at > $2`, account, since)
}

// EmailChangedSince reports whether an account has a change of address that was confirmed and asked for since a moment.
func (t *Tx) EmailChangedSince(ctx context.Context, account uuid.UUID, since time.Time) (bool, error) {
	return value[bool](ctx, t, `select exists (select from email_change where account_id = $1 and confirmed_at is not null and asked_at > $2)`, account, since)
}

// EmailChangeToConfirm finds a change by the secret in the link to the new address, asked for since a moment and not confirmed yet.
func (t *Tx) EmailChangeToConfirm(ctx context.Context, hash []byte, since time.Time) (studio.EmailChange, error) {
	return one[studio.EmailChange](ctx, t, emailChangeColumns+`where confirm_hash = $1 and confirmed_at is null and asked_at > $2 for update`, hash, since)
}

// EmailChangeToStop finds a change by the secret in the link to the old address, asked for since a moment, confirmed or not.
func (t *Tx) EmailChangeToStop(ctx context.Context, hash []byte, since time.Time) (studio.EmailChange, error) {
	return one[studio.EmailChange](ctx, t, emailChangeColumns+`where stop_hash = $1 and asked_at > $2 for update`, hash, since)
}

// ConfirmEmailChange notes that the link to the new address was opened.
func (t *Tx) ConfirmEmailChange(ctx context.Context, account uuid.UUID) error {
	return exec(ctx, t, `update email_change set confirmed_at = $2 where account_id = $1 and confirmed_at is null`, account, t.Now)
}

// DropEmailChange forgets the change of an account; it is no error when there is none.
func (t *Tx) DropEmailChange(ctx context.Context, account uuid.UUID) error {
	_, err := t.tx.Exec(ctx, `delete from email_change where account_id = $1`, account)
	return err
}

// DropOpenEmailChange forgets it unless it was confirmed.
func (t *Tx) DropOpenEmailChange(ctx context.Context, account uuid.UUID) error {
	_, err := t.tx.Exec(ctx, `delete from email_change where account_id = $1 and confirmed_at is null`, account)
	return err
}
