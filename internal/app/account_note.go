package app

import (
	"context"
	"fmt"
	"time"

	"github.com/google/uuid"
	"rungbook/internal/postgres"
	"rungbook/internal/studio"
)

const (
	tellWithin = time.Minute         // how long a letter may take once the answer was given
	notesShown = 90 * 24 * time.Hour // on the page of an account
)

// note is what the holder of an account is told about it.
type note struct {
	studio.AccountNote
	name, email string
}

// notes are collected within a transaction, kept with it, and sent once it has been committed.
type notes []note

func (n *notes) add(t *postgres.Tx, who studio.Actor, kind studio.NoteKind, about string) {
	*n = append(*n, note{studio.AccountNote{AccountID: who.ID, At: t.Now.In(t.Day().Zone), Kind: kind, About: about}, who.Name, who.Email})
}

// keep writes the notes for the pages of their accounts.
func (n notes) keep(ctx context.Context, t *postgres.Tx) error {
	var kept []studio.AccountNote
	for _, one := range n {
		kept = append(kept, one.AccountNote)
	}
	if len(kept) == 0 {
		return nil
	}
	return t.AsProgram(ctx, func() error { return t.AddNotes(ctx, kept) })
}

// tell sends notes where there is a mail server, after the answer was given. That one did not arrive changes nothing: it stands on the
// page of the account.
func (a *App) tell(ctx context.Context, told notes) {
	if a.settings.Send == nil {
		return
	}
	for _, n := range told {
		a.afterwards(ctx, func(ctx context.Context) error { return a.settings.Send(ctx, a.noteLetter(n)) })
	}
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

// telling runs fn as the actor, who must be allowed the action, about the actor's own account, and tells its holder when it worked.
func (a *App) telling(ctx context.Context, actor studio.Actor, action studio.Action, kind studio.NoteKind, about string, fn func(*postgres.Tx) error) error {
	var told notes
	err := a.within(ctx, actor, action, func(t *postgres.Tx) error {
		if err := fn(t); err != nil {
			return err
		}
		told.add(t, actor, kind, about)
		return told.keep(ctx, t)
	})
	if err == nil {
		a.tell(ctx, told)
	}
	return err
}

// guardians adds a note to an account about a child, and another to those who are its guardians beside it; "" tells nobody.
func (n *notes) guardians(ctx context.Context, t *postgres.Tx, child, account uuid.UUID, own, others studio.NoteKind) error {
	return t.AsProgram(ctx, func() error {
		if own != "" {
			who, err := t.Account(ctx, account)
			if err != nil {
				return err
			}
			n.add(t, studio.Actor{ID: account, Name: who.Name, Email: who.Email}, own, "")
		}
		if others == "" {
			return nil
		}
		beside, err := t.GuardiansOfChild(ctx, child)
		for _, g := range beside {
			if g.AccountID != account {
				n.add(t, studio.Actor{ID: g.AccountID, Name: g.Name, Email: g.Email}, others, "")
			}
		}
		return err
	})
}

// OwnNotes lists what the actor was told about the own account lately, the newest first.
func (a *App) OwnNotes(ctx context.Context, actor studio.Actor) ([]studio.AccountNote, error) {
	var list []studio.AccountNote
	err := a.within(ctx, actor, studio.OwnAccount, func(t *postgres.Tx) error {
		var err error
		list, err = t.AccountNotes(ctx, actor.ID, t.Now.Add(-notesShown))
		return err
	})
	return list, err
}

// NoteInWords says what happened, as a sentence without its end. It names no child: a letter may be read by anybody on its way.
func NoteInWords(n studio.AccountNote) string {
	switch n.Kind {
	case studio.NotePassphrase:
		return "the passphrase of your account was changed"
	case studio.NotePassphraseLink:
		return "a new passphrase was chosen for your account, by a link"
	case studio.NoteEmailAsked:
		return "somebody who is signed in as you asked that your e-mail address become " + n.About
	case studio.NoteEmail:
		return "the e-mail address of your account was changed to " + n.About
	case studio.NoteEmailStopped:
		return "the change of your e-mail address to " + n.About + " was stopped"
	case studio.NotePasskey:
		return "a passkey was added to your account: " + n.About
	case studio.NotePasskeyGone:
		return "a passkey was removed from your account: " + n.About
	case studio.NoteCodeOn:
		return "signing in with a code of an authenticator was switched on for your account"
	case studio.NoteCodeOff:
		return "signing in with a code of an authenticator was switched off for your account"
	case studio.NoteBrowser:
		return "somebody signed in to your account from a browser that is new to it: " + n.About
	case studio.NoteRescued:
		return "your code and passkeys were switched off by whoever runs the program, so that you can get in again"
	case studio.NoteRoles:
		return "what you may do at the studio was changed"
	case studio.NoteGuardian:
		return "somebody else became a guardian of a child of yours"
	case studio.NoteGuardianGone:
		return "somebody else is no longer a guardian of a child of yours"
	case studio.NoteMadeGuardian:
		return "you became a guardian of a child"
	case studio.NoteNoGuardian:
		return "you are no longer a guardian of a child"
	case studio.NoteRights:
		return "what you may do as a guardian of a child was changed"
	}
	return "something of your account was changed"
}

func (a *App) noteLetter(n note) Letter {
	text := fmt.Sprintf("Hello %s,\n\non %s %s.\n\nWas that you, or do you know of it? Then there is nothing to do. If not, sign in and look at your account, end every other session there and choose another passphrase; if you cannot sign in, tell the studio at once:\n\n%s/account\n",
		n.name, n.At.Format("2 January 2006 at 15:04"), NoteInWords(n.AccountNote), a.settings.BaseURL)
	return Letter{To: n.email, Name: n.name, Subject: "Your account at " + a.settings.StudioName, Text: text}
}
