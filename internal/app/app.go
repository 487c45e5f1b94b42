// Package app holds the use cases: each checks the actor against the policy table, opens one transaction, loads, calls an engine
// and saves. Files are named after areas.
package app

import (
	"context"
	"log/slog"
	"sync"

	"rungbook/internal/auth"
	"rungbook/internal/postgres"
)

// App is the studio's use cases over one database.
type App struct {
	db       *postgres.DB
	policy   Policy
	settings Settings
	hasher   *auth.Hasher
	later    sync.WaitGroup // letters on their way
	tries    tries          // at secrets, under way
}

// Settings are the studio's own words and addresses.
type Settings struct {
	StudioName string
	BaseURL    string // as people reach the program, without a slash at the end; for links in invitations
	TimeZone   string // of new classes
	// Send hands a letter over to be sent; nil where the studio has no mail server, and links are handed over by hand.
	Send func(context.Context, Letter) error
	Log  *slog.Logger // of what fails after the answer was given; nil where nobody reads it
	// Passkeys registers and checks passkeys; nil where the address allows none.
	Passkeys *auth.Passkeys
	// Sealer keeps the secrets of authenticators; nil where there is no key, and codes cannot be set up.
	Sealer *auth.Sealer
}

// Letter is an e-mail of plain text.
type Letter struct{ To, Name, Subject, Text string }

// New makes the use cases. The policy is StudioPolicy but in tests.
func New(db *postgres.DB, policy Policy, hasher *auth.Hasher, settings Settings) *App {
	if settings.Log == nil {
		settings.Log = slog.New(slog.DiscardHandler)
	}
	return &App{db: db, policy: policy, hasher: hasher, settings: settings}
}

// Policy is the policy table in force.
func (a *App) Policy() Policy { return a.policy }

// Settings are the studio's settings.
func (a *App) Settings() Settings { return a.settings }

// Finish waits for the letters that are on their way.
func (a *App) Finish() { a.later.Wait() }

// Ping reports whether the database answers.
func (a *App) Ping(ctx context.Context) error { return a.db.Ping(ctx) }
