package app

import (
	"context"
	"time"

	"rungbook/internal/postgres"
	"rungbook/internal/studio"
)

// resetEvery is how long after a link for a new passphrase no other one is sent to the address by itself.
const resetEvery = 10 * time.Minute

// SendsMail reports whether the studio has a mail server.
func (a *App) SendsMail() bool { return a.settings.Send != nil }

// AskReset sends a link for a new passphrase to an address, when an account that is not locked has it. Everything about the account is
// looked up after the answer was given, so neither words nor time tell whether there is one.
func (a *App) AskReset(ctx context.Context, email string) {
	if !a.SendsMail() {
		return
	}
	email = lowerEmail(email)
	a.afterwards(ctx, func(ctx context.Context) error {
		link, err := a.resetOf(ctx, email)
		if err != nil || link == nil {
			return err
		}
		a.send(ctx, link)
		return link.SendError
	})
}

// resetOf makes a link for the account with an address; nil when there is none, it is locked, or a link was made just now.
func (a *App) resetOf(ctx context.Context, email string) (*Link, error) {
	var link *Link
	err := a.db.InTx(ctx, studio.ProgramActor(), func(t *postgres.Tx) error {
		id, err := t.AccountByEmail(ctx, email)
		if studio.CodeOf(err) == studio.NotFound {
			return nil
		}
		if err != nil {
			return err
		}
		who, err := t.ActorOf(ctx, id)
		if studio.CodeOf(err) == studio.NotFound { // locked
			return nil
		}
		if err != nil {
			return err
		}
		recent, err := t.LinkMadeSince(ctx, studio.ResetLink, email, t.Now.Add(-resetEvery))
		if err != nil || recent {
			return err
		}
		made, err := a.makeLink(ctx, t, studio.Invitation{Kind: studio.ResetLink, Email: who.Email, Name: who.Name}, resetWithin)
		if err != nil {
			return err
		}
		link = &made
		return t.Audit(ctx, "sent a link for a new passphrase", "account "+id.String(), nil)
	})
	return link, err
}
