package app

import (
	"context"
	"encoding/hex"
	"time"

	"rungbook/internal/auth"
	"rungbook/internal/postgres"
	"rungbook/internal/studio"
	"rungbook/internal/words"
)

// How long the links about a change of address work, and how many changes may be asked for in a day.
const (
	confirmWithin = 24 * time.Hour
	stopWithin    = 7 * 24 * time.Hour
	emailAsks     = 5
)

// ChangeEmail changes the actor's own address, given the present passphrase. Where there is a mail server a link is sent to the new
// address first, and counts for a day; the old address gets one that stops it. Whether another account has the address shows to nobody
// but who reads its letters. Without a mail server it counts at once.
func (a *App) ChangeEmail(ctx context.Context, actor studio.Actor, present, email string) error {
	email = lowerEmail(email)
	if len(studio.ValidateEmail(email)) > 0 {
		return refusedEmail(ctx, "address.wrong.form")
	}
	if email == actor.Email {
		return refusedEmail(ctx, "address.wrong.same")
	}
	if err := a.prove(ctx, actor, studio.OwnAccount, present); err != nil {
		return err
	}
	if a.SendsMail() {
		return a.askEmail(ctx, actor, email)
	}
	err := a.telling(ctx, actor, studio.OwnAccount, studio.NoteEmail, email, func(t *postgres.Tx) error { return setEmail(ctx, t, actor, email) })
	if studio.CodeOf(err) == studio.Conflict {
		return refusedEmail(ctx, "address.wrong.unusable")
	}
	return err
}

// refusedEmail says by the message of a key what is wrong with an address.
func refusedEmail(ctx context.Context, key string) error {
	b := words.Of(ctx)
	return studio.Refuse(b.Say("passphrase.nothing-changed"), []studio.FieldError{{Field: "email", Problem: b.Say(key)}})
}

// setEmail changes the address of an account; open links for a new passphrase that were sent to the old one end.
func setEmail(ctx context.Context, t *postgres.Tx, who studio.Actor, email string) error {
	if err := t.SetEmail(ctx, who.ID, email); err != nil {
		return err
	}
	err := t.AsProgram(ctx, func() error { return t.WithdrawInvitations(ctx, studio.ResetLink, who.Email) })
	if err != nil {
		return err
	}
	return t.Audit(ctx, "changed the e-mail address", "account "+who.ID.String(), nil)
}

// askEmail keeps the change until it is confirmed, and sends the two links.
func (a *App) askEmail(ctx context.Context, actor studio.Actor, email string) error {
	confirm, stop := auth.NewSecret(), auth.NewSecret()
	change := studio.EmailChange{AccountID: actor.ID, Was: actor.Email, Email: email}
	var told notes
	err := a.within(ctx, actor, studio.OwnAccount, func(t *postgres.Tx) error {
		if err := t.AsProgram(ctx, func() error { return countEmailAsk(ctx, t) }); err != nil {
			return err
		}
		lately, err := t.EmailChangedSince(ctx, actor.ID, t.Now.Add(-stopWithin))
		if err != nil {
			return err
		}
		if lately { // a second change must not disarm the link that stops the first
			return refusedEmail(ctx, "address.wrong.lately")
		}
		if err := t.AskEmailChange(ctx, change, confirm.Hash(), stop.Hash()); err != nil {
			return err
		}
		told.add(ctx, t, actor, studio.NoteEmailAsked, email)
		if err := told.keep(ctx, t); err != nil {
			return err
		}
		return t.Audit(ctx, "asked to change the e-mail address", "account "+actor.ID.String(), nil)
	})
	if err != nil {
		return err
	}
	if err := a.settings.Send(ctx, a.confirmLetter(told[0], confirm)); err != nil {
		return a.unsentEmail(ctx, actor, err)
	}
	a.afterwards(ctx, func(ctx context.Context) error { return a.settings.Send(ctx, a.stopLetter(told[0], stop)) })
	return nil
}

// countEmailAsk refuses when an account has asked for too many changes in a day: each of them sends a letter to an address of its choice.
func countEmailAsk(ctx context.Context, t *postgres.Tx) error {
	at := "address " + t.Actor.ID.String()
	asked, err := t.FailedSignIns(ctx, at, t.Now.Add(-24*time.Hour))
	if err == nil && asked >= emailAsks {
		err = &studio.Error{Code: studio.TooMany, Text: words.Of(ctx).Say("address.wrong.too-often")}
	}
	if err == nil {
		err = t.NoteSignIn(ctx, at, false)
	}
	return err
}

// unsentEmail takes back a change whose link could not be sent.
func (a *App) unsentEmail(ctx context.Context, actor studio.Actor, cause error) error {
	a.settings.Log.Error("a letter was not sent", "error", cause)
	err := a.within(context.WithoutCancel(ctx), actor, studio.OwnAccount, func(t *postgres.Tx) error { return t.DropOpenEmailChange(ctx, actor.ID) })
	if err != nil {
		return err
	}
	return refusedEmail(ctx, "address.wrong.unsent")
}

// confirmLetter goes to the address that a note is about.
func (a *App) confirmLetter(n note, confirm auth.Secret) Letter {
	text := n.book.Say("mail.confirm.text", "Studio", a.settings.StudioName, "Link", a.settings.BaseURL+"/address/confirm/"+confirm.Text())
	return Letter{To: n.About, Name: n.name, Subject: n.book.Say("mail.confirm.subject", "Studio", a.settings.StudioName), Text: text + "\n"}
}

func (a *App) stopLetter(n note, stop auth.Secret) Letter {
	return a.letterOf(n, "mail.stop.text", "/address/stop/"+stop.Text())
}

// PendingEmail is the address that the actor's account will have once its link is opened, or "".
func (a *App) PendingEmail(ctx context.Context, actor studio.Actor) (string, error) {
	pending := ""
	err := a.within(ctx, actor, studio.OwnAccount, func(t *postgres.Tx) error {
		c, err := t.EmailChangeOf(ctx, actor.ID, t.Now.Add(-confirmWithin))
		if studio.CodeOf(err) == studio.NotFound {
			return nil
		}
		pending = c.Email
		return err
	})
	return pending, err
}

// errSpentEmail is the one answer to a link about an address that is unknown, used or out of time.
func errSpentEmail(ctx context.Context) error {
	return &studio.Error{Code: studio.NotFound, Text: words.Of(ctx).Say("address.spent")}
}

// withEmailChange runs fn with the change of which token is the secret part of a link. find looks it up.
func (a *App) withEmailChange(ctx context.Context, token string, find func(*postgres.Tx, []byte) (studio.EmailChange, error), fn func(*postgres.Tx, studio.EmailChange, studio.Actor) error) error {
	secret, ok := auth.ParseSecret(token)
	if !ok {
		return errSpentEmail(ctx)
	}
	return a.db.InSecret(ctx, studio.ProgramActor(), hex.EncodeToString(secret.Hash()), func(t *postgres.Tx) error {
		c, err := find(t, secret.Hash())
		var who studio.Actor
		if err == nil {
			who, err = t.ActorOf(ctx, c.AccountID)
		}
		has := c.Was
		if c.ConfirmedAt != nil {
			has = c.Email
		}
		if studio.CodeOf(err) == studio.NotFound || err == nil && who.Email != has {
			return errSpentEmail(ctx)
		}
		if err != nil {
			return err
		}
		return fn(t, c, who)
	})
}

func (a *App) toConfirm(ctx context.Context) func(*postgres.Tx, []byte) (studio.EmailChange, error) {
	return func(t *postgres.Tx, hash []byte) (studio.EmailChange, error) {
		return t.EmailChangeToConfirm(ctx, hash, t.Now.Add(-confirmWithin))
	}
}

func (a *App) toStop(ctx context.Context) func(*postgres.Tx, []byte) (studio.EmailChange, error) {
	return func(t *postgres.Tx, hash []byte) (studio.EmailChange, error) {
		return t.EmailChangeToStop(ctx, hash, t.Now.Add(-stopWithin))
	}
}

// EmailToConfirm is the change that a link to a new address is about, while it works. Opening the page uses nothing up.
func (a *App) EmailToConfirm(ctx context.Context, token string) (studio.EmailChange, error) {
	var found studio.EmailChange
	err := a.withEmailChange(ctx, token, a.toConfirm(ctx), func(_ *postgres.Tx, c studio.EmailChange, _ studio.Actor) error { found = c; return nil })
	return found, err
}

// EmailToStop is the change that a link to an old address is about, while it works.
func (a *App) EmailToStop(ctx context.Context, token string) (studio.EmailChange, error) {
	var found studio.EmailChange
	err := a.withEmailChange(ctx, token, a.toStop(ctx), func(_ *postgres.Tx, c studio.EmailChange, _ studio.Actor) error { found = c; return nil })
	return found, err
}

// ConfirmEmail makes the change that a link to a new address is about, once. Both addresses are told.
func (a *App) ConfirmEmail(ctx context.Context, token string) error {
	var told notes
	var both []note
	err := a.withEmailChange(ctx, token, a.toConfirm(ctx), func(t *postgres.Tx, c studio.EmailChange, who studio.Actor) error {
		if err := t.ConfirmEmailChange(ctx, who.ID); err != nil {
			return err
		}
		if err := setEmail(ctx, t, who, c.Email); err != nil {
			return err
		}
		told.add(ctx, t, who, studio.NoteEmail, c.Email)
		both = append(told, note{told[0].AccountNote, who.Name, c.Email, told[0].book})
		return told.keep(ctx, t)
	})
	if studio.CodeOf(err) == studio.Conflict {
		return &studio.Error{Code: studio.Conflict, Text: words.Of(ctx).Say("address.wrong.taken"), Cause: err}
	}
	if err == nil {
		a.tell(ctx, both)
	}
	return err
}

// StopEmail stops or takes back the change that a link to an old address is about, once. Somebody else may know the passphrase: it opens
// nothing any more, every browser is signed out, and a link for a new one comes back.
func (a *App) StopEmail(ctx context.Context, token string) (Link, error) {
	var link Link
	var told notes
	err := a.withEmailChange(ctx, token, a.toStop(ctx), func(t *postgres.Tx, c studio.EmailChange, who studio.Actor) error {
		if c.ConfirmedAt != nil {
			if err := t.SetEmail(ctx, who.ID, c.Was); err != nil {
				return err
			}
		}
		if err := t.DropEmailChange(ctx, who.ID); err != nil {
			return err
		}
		if err := t.DropPassword(ctx, who.ID); err != nil {
			return err
		}
		if err := t.DeleteSessionsOf(ctx, who.ID); err != nil {
			return err
		}
		var err error
		if link, err = a.makeLink(ctx, t, studio.Invitation{Kind: studio.ResetLink, Email: c.Was, Name: who.Name}, resetWithin); err != nil {
			return err
		}
		who.Email = c.Was
		told.add(ctx, t, who, studio.NoteEmailStopped, c.Email)
		if err := told.keep(ctx, t); err != nil {
			return err
		}
		return t.Audit(ctx, "stopped a change of e-mail address", "account "+who.ID.String(), nil)
	})
	if err == nil {
		a.tell(ctx, told)
	}
	return link, err
}
