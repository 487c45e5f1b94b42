package app

import (
	"context"
	"fmt"
	"time"

	"rungbook/internal/postgres"
	"rungbook/internal/studio"
)

// tellWithin is how long a letter may take once the answer was given.
const tellWithin = time.Minute

// note is what the holder of an account is told about it.
type note struct {
	name, email, what string
	at                time.Time
}

// noteTo is a note to an account's holder; what is a sentence without its end, such as "a passkey was added to your account".
func noteTo(t *postgres.Tx, who studio.Actor, what string) *note {
	return &note{name: who.Name, email: who.Email, what: what, at: t.Now.In(t.Day().Zone)}
}

// tell sends a note where there is a mail server, after the answer was given; nil is no note. That it did not arrive changes nothing.
func (a *App) tell(ctx context.Context, n *note) {
	if n == nil || a.settings.Send == nil {
		return
	}
	text := fmt.Sprintf("Hello %s,\n\non %s %s.\n\nWas that you? Then there is nothing to do. If not, sign in and look at your account, end every other session there and choose another passphrase; if you cannot sign in, tell the studio at once:\n\n%s/account\n",
		n.name, n.at.Format("2 January 2006 at 15:04"), n.what, a.settings.BaseURL)
	letter := Letter{To: n.email, Name: n.name, Subject: "Your account at " + a.settings.StudioName, Text: text}
	a.afterwards(ctx, func(ctx context.Context) error { return a.settings.Send(ctx, letter) })
}

// afterwards does something that nobody waits for; Finish waits for it.
func (a *App) afterwards(ctx context.Context, do func(context.Context) error) {
	a.later.Go(func() {
		ctx, cancel := context.WithTimeout(context.WithoutCancel(ctx), tellWithin)
		defer cancel()
		if err := do(ctx); err != nil {
			a.settings.Log.Error("a letter was not sent", "error", err)
		}
	})
}

// telling runs fn as the actor about the actor's own account, and tells its holder what happened when it worked.
func (a *App) telling(ctx context.Context, actor studio.Actor, what string, fn func(*postgres.Tx) error) error {
	var happened *note
	err := a.within(ctx, actor, studio.OwnAccount, func(t *postgres.Tx) error {
		happened = noteTo(t, actor, what)
		return fn(t)
	})
	if err == nil {
		a.tell(ctx, happened)
	}
	return err
}
