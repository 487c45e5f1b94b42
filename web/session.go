package web

import (
	"context"

	"rungbook/internal/app"
	"rungbook/internal/studio"
	"rungbook/web/kit"
)

// sessionStore joins the kit's session store to the use cases that keep it.
func sessionStore(a *app.App, secure bool) *kit.SessionStore {
	return &kit.SessionStore{
		Secure: secure,
		Load: func(ctx context.Context, hash []byte) (kit.Record, studio.Actor, error) {
			s, actor, err := a.OpenSession(ctx, hash)
			return kit.Record{Account: s.AccountID, Data: s.Data}, actor, err
		},
		Keep: func(ctx context.Context, hash []byte, r kit.Record) error {
			keep := app.KeptSession{Account: r.Account, Browser: r.Browser, Data: r.Data, New: r.New}
			return a.KeepSession(ctx, hash, keep)
		},
		End: a.EndSession,
	}
}
