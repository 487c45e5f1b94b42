package postgres

import (
	"context"
	"encoding/hex"
	"time"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"
	"rungbook/internal/studio"
)

// Session is a signed-in browser. Data is the session's own JSON, ID its name in lists.
type Session struct {
	ID        uuid.UUID
	IDHash    []byte
	AccountID *uuid.UUID
	Browser   string // its kind in words
	Data      []byte
	CreatedAt time.Time
	SeenAt    time.Time
	ExpiresAt time.Time
}

const (
	sessionColumns = `select id, id_hash, account_id, browser, data, created_at, seen_at, expires_at from session `
	sessionSQL     = sessionColumns + `where id_hash = $1 and expires_at > $2`
	actorSQL       = `select a.id, a.name, a.email, a.language,
		array(select r.role from account_role r where r.account_id = a.id
			union all select 'parent' where exists (select from guardian g where g.account_id = a.id and g.removed_at is null)) as roles,
		coalesce((select (c.chosen->>'guarded')::boolean from studio_settings c), false)
			and exists (select from account_role r where r.account_id = a.id and r.role in ('owner', 'teacher'))
			and not exists (select from passkey k where k.account_id = a.id)
			and not exists (select from second_factor f where f.account_id = a.id and f.confirmed_at is not null) as unguarded
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
	return exec(ctx, t, `insert into session (id_hash, account_id, browser, data, created_at, seen_at, expires_at) values ($1, $2, $3, $4, $5, $6, $7)
		on conflict (id_hash) do update set account_id = $2, browser = $3, data = $4, seen_at = $6, expires_at = $7`,
		s.IDHash, s.AccountID, s.Browser, s.Data, s.CreatedAt, s.SeenAt, s.ExpiresAt)
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

// SessionsOf lists an account's own browsers that are signed in, the last used first.
func (t *Tx) SessionsOf(ctx context.Context, account uuid.UUID) ([]Session, error) {
	return many[Session](ctx, t, sessionColumns+`where account_id = $1 and expires_at > $2 order by seen_at desc, created_at desc`, account, t.Now)
}

// EndSession ends one of an account's own sessions; studio.Missing when it is another's, or has ended.
func (t *Tx) EndSession(ctx context.Context, account, session uuid.UUID) error {
	return exec(ctx, t, `delete from session where id = $2 and account_id = $1`, account, session)
}

// DeleteOtherSessions ends every session of an account but the one of which kept is the hash, and says how many there were.
func (t *Tx) DeleteOtherSessions(ctx context.Context, account uuid.UUID, kept []byte) (int, error) {
	tag, err := t.tx.Exec(ctx, `delete from session where account_id = $1 and id_hash <> $2`, account, kept)
	return int(tag.RowsAffected()), err
}

// NoteBrowser remembers from which kind of browser an account signs in, and reports whether that is a new one beside others.
func (t *Tx) NoteBrowser(ctx context.Context, account uuid.UUID, browser string) (bool, error) {
	tag, err := t.tx.Exec(ctx, `insert into account_browser (account_id, browser, since) values ($1, $2, $3) on conflict do nothing`, account, browser, t.Now)
	if err != nil || tag.RowsAffected() == 0 {
		return false, err
	}
	return value[bool](ctx, t, `select exists (select from account_browser where account_id = $1 and browser <> $2)`, account, browser)
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
