package postgres

import (
	"context"
	"time"
)

// LockGuesses lets one guess at a time count for an address, or what else is guessed at, until the transaction ends: of many at once
// none slips by.
func (t *Tx) LockGuesses(ctx context.Context, at string) error {
	_, err := t.tx.Exec(ctx, `select pg_advisory_xact_lock(hashtextextended('rungbook.guess ' || $1, 0))`, at)
	return err
}

// FailedSignIns counts the failures for an address since a moment, after its last success.
func (t *Tx) FailedSignIns(ctx context.Context, email string, since time.Time) (int, error) {
	return value[int](ctx, t, `select count(*) from sign_in_attempt f where f.email = $1 and f.at > $2 and not f.success
		and f.at > coalesce((select max(s.at) from sign_in_attempt s where s.email = $1 and s.success), '-infinity')`, email, since)
}

// NoteSignIn remembers a try and how it went.
func (t *Tx) NoteSignIn(ctx context.Context, email string, success bool) error {
	return exec(ctx, t, `insert into sign_in_attempt (email, at, success) values ($1, $2, $3)`, email, t.Now, success)
}
