package app

import (
	"context"
	"time"

	"github.com/google/uuid"
	"rungbook/internal/postgres"
	"rungbook/internal/studio"
	"rungbook/internal/words"
)

const (
	tellWithin = time.Minute         // how long a letter may take once the answer was given
	notesShown = 90 * 24 * time.Hour // on the page of an account
)

// note is what the holder of an account is told about it, in the language of the account; in the studio's where it chose none.
type note struct {
	studio.AccountNote
	name, email string
	book        *words.Book
}

// notes are collected within a transaction, kept with it, and sent once it has been committed.
type notes []note

func (n *notes) add(ctx context.Context, t *postgres.Tx, who studio.Actor, kind studio.NoteKind, about string) {
	happened := studio.AccountNote{AccountID: who.ID, At: t.Now.In(t.Day().Zone), Kind: kind, About: about}
	*n = append(*n, note{happened, who.Name, who.Email, words.Of(ctx).For(who.Language, t.Settings.Language)})
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
		told.add(ctx, t, actor, kind, about)
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
			n.add(ctx, t, studio.Actor{ID: account, Name: who.Name, Email: who.Email, Language: who.Language}, own, "")
		}
		if others == "" {
			return nil
		}
		beside, err := t.GuardiansOfChild(ctx, child)
		for _, g := range beside {
			if g.AccountID != account {
				n.add(ctx, t, studio.Actor{ID: g.AccountID, Name: g.Name, Email: g.Email, Language: g.Language}, others, "")
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
func NoteInWords(b *words.Book, n studio.AccountNote) string {
	about := n.About
	if n.Kind == studio.NoteBrowser {
		about = BrowserInWords(b, about)
	}
	return b.Say("note."+string(n.Kind), "About", about)
}

func (a *App) noteLetter(n note) Letter { return a.letterOf(n, "mail.note.text", "/account") }

// letterOf tells of a note by a message that leads on to a path.
func (a *App) letterOf(n note, message, path string) Letter {
	text := n.book.Say(message, "Name", n.name, "Day", n.book.Date(n.At), "Time", n.book.Clock(n.At), "What", NoteInWords(n.book, n.AccountNote), "Link", a.settings.BaseURL+path)
	return Letter{To: n.email, Name: n.name, Subject: n.book.Say("mail.note.subject", "Studio", a.settings.StudioName), Text: text + "\n"}
}
