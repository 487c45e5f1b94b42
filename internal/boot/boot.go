package boot

import (
	"context"
	"errors"
	"fmt"
	"log/slog"
	"net"
	"net/http"
	"sync"
	"time"

	"rungbook/internal/app"
	"rungbook/internal/auth"
	"rungbook/internal/postgres"
	"rungbook/internal/words"
	"rungbook/web"
)

// hashesAtOnce bounds the memory that sign-ins take: 19 MiB each.
const hashesAtOnce = 4

// House is the program, wired.
type House struct {
	App  *app.App
	Site http.Handler
	db   *postgres.DB
	log  *slog.Logger
}

// New opens the database of the configuration and wires the use cases and the site over it. now is the clock.
func New(ctx context.Context, c Config, log *slog.Logger, now func() time.Time) (*House, error) {
	if c.DatabaseURL == "" {
		return nil, errors.New("DATABASE_URL is not set: name the studio's database as the role rungbook_app, or run rungbook demo")
	}
	zone, err := c.Zone()
	if err != nil {
		return nil, err
	}
	send, err := mailer(c.SMTP)
	if err != nil {
		return nil, err
	}
	seal, err := sealer(c)
	if err != nil {
		return nil, err
	}
	db, err := postgres.Open(ctx, c.DatabaseURL, now, zone)
	if err != nil {
		return nil, err
	}
	hasher, err := auth.NewHasher(auth.DefaultParams(), hashesAtOnce)
	if err != nil {
		db.Close()
		return nil, err
	}
	passkeys, err := auth.NewPasskeys(c.BaseURL, c.StudioName)
	if err != nil {
		db.Close()
		return nil, fmt.Errorf("RUNGBOOK_BASE_URL: %w", err)
	}
	languages, err := words.Embedded()
	if err != nil {
		db.Close()
		return nil, err
	}
	use := app.New(db, app.StudioPolicy(), hasher, app.Settings{StudioName: c.StudioName, BaseURL: c.BaseURL, TimeZone: c.TimeZone, Send: send, Passkeys: passkeys, Sealer: seal, Log: log})
	return &House{App: use, Site: web.New(use, web.Options{Secure: !c.Insecure, TrustedProxies: c.Proxies, Log: log, Words: languages}), db: db, log: log}, nil
}

// CheckSafe refuses a database that may lose what it acknowledged, or a serving role that row-level security does not bind.
func (h *House) CheckSafe(ctx context.Context) error { return h.db.CheckSafe(ctx) }

// Close waits for letters on their way and lets go of the database.
func (h *House) Close() {
	h.App.Finish()
	h.db.Close()
}

// Serve answers on the listener and does the daily work until the context ends, then lets running requests finish.
func (h *House) Serve(ctx context.Context, listener net.Listener) error {
	if err := h.seal(ctx); err != nil {
		if ctx.Err() != nil { // asked to end before it had begun
			return nil
		}
		return err
	}
	daily, stop := context.WithCancel(ctx)
	var working sync.WaitGroup
	working.Go(func() { h.keepFresh(daily) })
	working.Go(func() { h.workInBackground(daily, postgres.DefaultJobTimes()) })
	defer working.Wait()
	defer stop()
	server := &http.Server{Handler: h.Site, ReadHeaderTimeout: 10 * time.Second, ReadTimeout: 30 * time.Second, WriteTimeout: 60 * time.Second, IdleTimeout: 2 * time.Minute}
	ended := make(chan error, 1)
	go func() { ended <- server.Serve(listener) }()
	select {
	case err := <-ended:
		return fmt.Errorf("serve: %w", err)
	case <-ctx.Done():
	}
	finish, cancel := context.WithTimeout(context.WithoutCancel(ctx), 10*time.Second)
	defer cancel()
	if err := server.Shutdown(finish); err != nil {
		return fmt.Errorf("finish running requests: %w", err)
	}
	return nil
}
