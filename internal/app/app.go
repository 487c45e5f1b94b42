// Package app holds the use cases: each checks the actor against the policy table, opens one transaction, loads, calls an engine
// and saves. Files are named after areas.
package app

import (
	"context"

	"rungbook/internal/auth"
	"rungbook/internal/postgres"
)

// App is the studio's use cases over one database.
type App struct {
	db       *postgres.DB
	policy   Policy
	settings Settings
	hasher   *auth.Hasher
}

// Settings are the studio's own words and addresses.
type Settings struct {
	StudioName string
	BaseURL    string // as people reach the program, without a slash at the end; for links in invitations
	TimeZone   string // of new classes
	// Send hands a letter over to be sent; nil where the studio has no mail server, and links are handed over by hand.
	Send func(context.Context, Letter) error
}

// Letter is an e-mail of plain text.
type Letter struct{ To, Name, Subject, Text string }

// New makes the use cases. The policy is StudioPolicy but in tests.
func New(db *postgres.DB, policy Policy, hasher *auth.Hasher, settings Settings) *App {
	return &App{db: db, policy: policy, hasher: hasher, settings: settings}
}

// Policy is the policy table in force.
func (a *App) Policy() Policy { return a.policy }

// Settings are the studio's settings.
func (a *App) Settings() Settings { return a.settings }

// Ping reports whether the database answers.
func (a *App) Ping(ctx context.Context) error { return a.db.Ping(ctx) }
