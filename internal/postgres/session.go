package postgres

import (
	"context"
	"encoding/hex"
	"time"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"
	"rungbook/internal/studio"
)

// Session is a signed-in browser. Data is the session's own JSON.
type Session struct {
	IDHash    []byte
	AccountID *uuid.UUID
	Data      []byte
	CreatedAt time.Time
	SeenAt    time.Time
	ExpiresAt time.Time
}

const (
	sessionSQL = `select id_hash, account_id, data, created_at, seen_at, expires_at from session where id_hash = $1 and expires_at > $2`
	actorSQL   = `select a.id, a.name, a.email,
		array(select r.role from account_role r where r.account_id = a.id
			union all select 'parent' where exists (select from guardian g where g.account_id = a.id and g.removed_at is null)) as roles
		from account a where a.id = `
)

// Session finds an unexpired session of which the caller holds the id.
func (t *Tx) Session(ctx context.Context, hash []byte) (Session, error) {
	return one[Session](ctx, t, sessionSQL, hash, t.Now)
}

// SessionOf finds an unexpired session of which the caller holds the id, and who it belongs to with the roles of now, all in one round
// trip. The actor is zero while nobody has signed in in it. studio.Missing when there is none, or its account is locked.
func (db *DB) SessionOf(ctx context.Context, hash []byte) (Session, studio.Actor, error) {
	var sessions []Session
	var actors []studio.Actor
	err := db.connected(ctx, studio.ProgramActor(), func(t *Tx) error {
		batch := &pgx.Batch{}
		batch.Queue(`begin`)
		t.identify(batch, hex.EncodeToString(hash))
		batch.Queue(sessionSQL, hash, t.Now).Query(collect(&sessions))
		batch.Queue(actorSQL+`(select account_id from session where id_hash = $1) and a.disabled_at is null`, hash).Query(collect(&actors))
		return t.finish(ctx, batch)
	})
	switch {
	case err != nil:
		return Session{}, studio.Actor{}, err
	case len(sessions) == 0 || sessions[0].AccountID != nil && len(actors) == 0:
		return Session{}, studio.Actor{}, studio.Missing()
	case len(actors) == 0:
		return sessions[0], studio.Actor{}, nil
	}
	return sessions[0], actors[0], nil
}

// ExtendSession notes that a session was used; studio.Missing when it has ended.
func (t *Tx) ExtendSession(ctx context.Context, hash []byte, until time.Time) error {
	return exec(ctx, t, `update session set seen_at = $2, expires_at = $3 where id_hash = $1`, hash, t.Now, until)
}

// SaveSession writes a session, new or known.
func (t *Tx) SaveSession(ctx context.Context, s Session) error {
	return exec(ctx, t, `insert into session (id_hash, account_id, data, created_at, seen_at, expires_at) values ($1, $2, $3, $4, $5, $6)
		on conflict (id_hash) do update set account_id = $2, data = $3, seen_at = $5, expires_at = $6`,
		s.IDHash, s.AccountID, s.Data, s.CreatedAt, s.SeenAt, s.ExpiresAt)
}

// DeleteSession ends a session; it is no error when it has ended already.
func (t *Tx) DeleteSession(ctx context.Context, hash []byte) error {
	_, err := t.tx.Exec(ctx, `delete from session where id_hash = $1`, hash)
	return err
}

// DeleteSessionsOf ends every session of an account.
func (t *Tx) DeleteSessionsOf(ctx context.Context, account uuid.UUID) error {
	_, err := t.tx.Exec(ctx, `delete from session where account_id = $1`, account)
	return err
}

// DeleteExpiredSessions sweeps.
func (t *Tx) DeleteExpiredSessions(ctx context.Context) error {
	_, err := t.tx.Exec(ctx, `delete from session where expires_at <= $1`, t.Now)
	return err
}

// ActorOf is the account as an actor with its present roles; studio.Missing when disabled or gone. Run it as that account or as the
// program.
func (t *Tx) ActorOf(ctx context.Context, account uuid.UUID) (studio.Actor, error) {
	return one[studio.Actor](ctx, t, actorSQL+`$1 and a.disabled_at is null`, account)
}
