package app

import (
	"context"
	"encoding/hex"
	"time"

	"github.com/google/uuid"
	"rungbook/internal/postgres"
	"rungbook/internal/studio"
)

// Session lengths: a session ends when idle for a day, and for good after a fortnight.
const (
	sessionIdle     = 24 * time.Hour
	sessionAbsolute = 14 * 24 * time.Hour
	seenEvery       = 5 * time.Minute
)

// OpenSession finds the session of which hash is the SHA-256 of the id, and who it belongs to, with roles as of now. The actor is
// zero while nobody has signed in in it. studio.Missing when there is none.
func (a *App) OpenSession(ctx context.Context, hash []byte) (postgres.Session, studio.Actor, error) {
	s, actor, err := a.db.SessionOf(ctx, hash)
	if err != nil || a.db.Now().Sub(s.SeenAt) < seenEvery {
		return s, actor, err
	}
	err = a.db.InSecret(ctx, studio.ProgramActor(), hex.EncodeToString(hash), func(t *postgres.Tx) error {
		s.SeenAt, s.ExpiresAt = t.Now, sessionEnd(s.CreatedAt, t.Now)
		return t.ExtendSession(ctx, hash, s.ExpiresAt)
	})
	return s, actor, err
}

// KeepSession writes the session of which hash is the SHA-256 of the id; a new one starts now.
func (a *App) KeepSession(ctx context.Context, hash []byte, account *uuid.UUID, data []byte) error {
	return a.db.InSecret(ctx, studio.ProgramActor(), hex.EncodeToString(hash), func(t *postgres.Tx) error {
		s, err := t.Session(ctx, hash)
		if studio.CodeOf(err) == studio.NotFound {
			s = postgres.Session{IDHash: hash, CreatedAt: t.Now}
			err = t.DeleteExpiredSessions(ctx)
		}
		if err != nil {
			return err
		}
		s.AccountID, s.Data = account, data
		s.SeenAt, s.ExpiresAt = t.Now, sessionEnd(s.CreatedAt, t.Now)
		return t.SaveSession(ctx, s)
	})
}

// EndSession signs a browser out.
func (a *App) EndSession(ctx context.Context, hash []byte) error {
	return a.db.InSecret(ctx, studio.ProgramActor(), hex.EncodeToString(hash), func(t *postgres.Tx) error {
		return t.DeleteSession(ctx, hash)
	})
}

func sessionEnd(created, now time.Time) time.Time {
	idle, absolute := now.Add(sessionIdle), created.Add(sessionAbsolute)
	if idle.Before(absolute) {
		return idle
	}
	return absolute
}
