package app

import (
	"bytes"
	"context"
	"encoding/hex"
	"time"

	"github.com/google/uuid"
	"rungbook/internal/postgres"
	"rungbook/internal/studio"
	"rungbook/internal/words"
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

// KeptSession is what is written of a session.
type KeptSession struct {
	Account *uuid.UUID // nil before sign-in
	Browser string     // its kind in words
	Data    []byte
	New     bool // it starts now; any other must still be there
}

// KeepSession writes the session of which hash is the SHA-256 of the id. One that has ended meanwhile stays ended. When an account signs
// in from a kind of browser that is new to it, its holder is told.
func (a *App) KeepSession(ctx context.Context, hash []byte, keep KeptSession) error {
	var told notes
	err := a.db.InSecret(ctx, studio.ProgramActor(), hex.EncodeToString(hash), func(t *postgres.Tx) error {
		s, err := t.Session(ctx, hash)
		if studio.CodeOf(err) == studio.NotFound && keep.New {
			s = postgres.Session{IDHash: hash, CreatedAt: t.Now}
			if err = t.DeleteExpiredSessions(ctx); err == nil && keep.Account != nil {
				err = newBrowser(ctx, t, *keep.Account, keep.Browser, &told)
			}
		}
		if studio.CodeOf(err) == studio.NotFound {
			return &studio.Error{Code: studio.SignedOut, Text: words.Of(ctx).Say("error.signed-out")}
		}
		if err != nil {
			return err
		}
		s.AccountID, s.Browser, s.Data = keep.Account, keep.Browser, keep.Data
		s.SeenAt, s.ExpiresAt = t.Now, sessionEnd(s.CreatedAt, t.Now)
		return t.SaveSession(ctx, s)
	})
	if err == nil {
		a.tell(ctx, told)
	}
	return err
}

// newBrowser tells of a sign-in from a kind of browser that is new to the account.
func newBrowser(ctx context.Context, t *postgres.Tx, account uuid.UUID, browser string, told *notes) error {
	isNew, err := t.NoteBrowser(ctx, account, browser)
	if err != nil || !isNew {
		return err
	}
	who, err := t.ActorOf(ctx, account)
	if err != nil {
		return err
	}
	told.add(ctx, t, who, studio.NoteBrowser, browser)
	return told.keep(ctx, t)
}

// Browser is one of one's own browsers that are signed in.
type Browser struct {
	ID       uuid.UUID
	Kind     string // in words
	SignedIn time.Time
	Seen     time.Time
	This     bool // the one that asks
}

// Browsers lists the actor's own browsers that are signed in, the last used first; hash is that of the session that asks.
func (a *App) Browsers(ctx context.Context, actor studio.Actor, hash []byte) ([]Browser, Day, error) {
	var browsers []Browser
	var day Day
	err := a.within(ctx, actor, studio.OwnAccount, func(t *postgres.Tx) error {
		day = t.Day()
		sessions, err := t.SessionsOf(ctx, actor.ID)
		for _, s := range sessions {
			browsers = append(browsers, Browser{ID: s.ID, Kind: s.Browser, SignedIn: s.CreatedAt, Seen: s.SeenAt, This: bytes.Equal(s.IDHash, hash)})
		}
		return err
	})
	return browsers, day, err
}

// EndBrowser signs one of the actor's own browsers out.
func (a *App) EndBrowser(ctx context.Context, actor studio.Actor, session uuid.UUID) error {
	return a.within(ctx, actor, studio.OwnAccount, func(t *postgres.Tx) error {
		if err := t.EndSession(ctx, actor.ID, session); err != nil {
			return err
		}
		return t.Audit(ctx, "signed a browser out", "account "+actor.ID.String(), nil)
	})
}

// EndOtherBrowsers signs out every browser of the actor but the one of which hash is that of the session, and says how many.
func (a *App) EndOtherBrowsers(ctx context.Context, actor studio.Actor, hash []byte) (int, error) {
	ended := 0
	err := a.within(ctx, actor, studio.OwnAccount, func(t *postgres.Tx) error {
		var err error
		if ended, err = t.DeleteOtherSessions(ctx, actor.ID, hash); err != nil || ended == 0 {
			return err
		}
		return t.Audit(ctx, "signed all other browsers out", "account "+actor.ID.String(), map[string]any{"browsers": ended})
	})
	return ended, err
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
