package postgres

import (
	"context"
	"time"

	"github.com/google/uuid"
	"rungbook/internal/studio"
)

// AddNotes keeps what holders of accounts are told. Notes to other accounts than the actor's own are the program's to write (AsProgram).
func (t *Tx) AddNotes(ctx context.Context, notes []studio.AccountNote) error {
	for _, n := range notes {
		if err := exec(ctx, t, `insert into account_note (account_id, at, kind, about) values ($1, $2, $3, $4)`, n.AccountID, n.At, n.Kind, n.About); err != nil {
			return err
		}
	}
	return nil
}

// AccountNotes lists an account's notes since a moment, the newest first.
func (t *Tx) AccountNotes(ctx context.Context, account uuid.UUID, since time.Time) ([]studio.AccountNote, error) {
	return many[studio.AccountNote](ctx, t, `select account_id, at, kind, about from account_note where account_id = $1 and at > $2 order by at desc, id limit 50`, account, since)
}
