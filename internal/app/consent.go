package app

import (
	"context"
	"slices"
	"time"

	"github.com/google/uuid"
	"rungbook/internal/postgres"
	"rungbook/internal/studio"
	"rungbook/internal/words"
)

// ConsentLine is one purpose as a guardian sees it for a child. Mine is nil while the actor has not answered the present words.
type ConsentLine struct {
	studio.ConsentText
	Mine    *bool
	Holds   bool // the child has consent; for a purpose of each guardian's own, the actor has given it
	History []ConsentEvent
}

// ConsentEvent is one answer in the ledger.
type ConsentEvent struct {
	At      time.Time
	Mine    bool // by the actor; else by another guardian
	Version int
	Given   bool
}

// ConsentView is what a guardian is asked about a child.
type ConsentView struct {
	ID    uuid.UUID
	Name  string
	Lines []ConsentLine
	Day   Day
	// Language is the tag of the studio's own words.
	Language string
}

// ConsentsOf shows what a guardian is asked about a child, with every answer so far.
func (a *App) ConsentsOf(ctx context.Context, actor studio.Actor, child uuid.UUID) (ConsentView, error) {
	view := ConsentView{ID: child}
	err := a.db.InTx(ctx, actor, func(t *postgres.Tx) error {
		if err := a.may(ctx, t, studio.AnswerConsent, Target{Child: child}); err != nil {
			return err
		}
		head, err := childHead(ctx, t, child)
		if err != nil {
			return err
		}
		view.Name, view.Day, view.Language = head.GivenName, t.Day(), t.Settings.Language
		texts, err := t.ConsentTexts(ctx)
		if err != nil {
			return err
		}
		ledger, err := t.ConsentLedger(ctx, child)
		if err != nil {
			return err
		}
		for _, p := range studio.Purposes() {
			holds, err := t.HasConsent(ctx, p, child)
			if err != nil {
				return err
			}
			view.Lines = append(view.Lines, consentLine(p, texts, ledger, actor.ID, holds))
		}
		return nil
	})
	return view, err
}

func consentLine(p studio.Purpose, texts []studio.ConsentText, ledger []studio.ConsentAnswer, actor uuid.UUID, holds bool) ConsentLine {
	line := ConsentLine{Holds: holds}
	if i := slices.IndexFunc(texts, func(x studio.ConsentText) bool { return x.Purpose == p }); i >= 0 {
		line.ConsentText = texts[i]
	}
	for _, a := range ledger { // the newest first
		if a.Purpose != p {
			continue
		}
		mine := a.AccountID != nil && *a.AccountID == actor
		if mine && line.Mine == nil && a.Version == line.Version {
			given := a.Given
			line.Mine = &given
		}
		line.History = append(line.History, ConsentEvent{At: a.AnsweredAt, Mine: mine, Version: a.Version, Given: a.Given})
	}
	if p.Each() {
		line.Holds = line.Mine != nil && *line.Mine
	}
	return line
}

// AnswerConsent gives or withdraws a guardian's consent. A drill that needs an adult is taken back at once where the consent for it
// is no longer there, and every exception for the child ends.
func (a *App) AnswerConsent(ctx context.Context, actor studio.Actor, child uuid.UUID, p studio.Purpose, given bool) error {
	return a.db.InTx(ctx, actor, func(t *postgres.Tx) error {
		if err := a.may(ctx, t, studio.AnswerConsent, Target{Child: child}); err != nil {
			return err
		}
		if _, err := studio.PurposeOf(string(p)); err != nil {
			return err
		}
		if err := t.AnswerConsent(ctx, child, p, given); err != nil {
			return err
		}
		if p == studio.AdultDrills && !given {
			// The family's word moves what is the teachers' to change: the program does it.
			if err := t.AsProgram(ctx, func() error { return withdrawAdultDrills(ctx, t, child) }); err != nil {
				return err
			}
		}
		did := map[bool]string{true: "gave consent", false: "withheld consent"}[given]
		return t.Audit(ctx, did, "child "+child.String(), map[string]any{"purpose": p})
	})
}

func withdrawAdultDrills(ctx context.Context, t *postgres.Tx, child uuid.UUID) error {
	if _, err := t.WithdrawAdultDrills(ctx, child); err != nil {
		return err
	}
	ended, err := t.EndExceptionsOf(ctx, child)
	if err != nil || ended == 0 {
		return err
	}
	return t.Audit(ctx, "ended exceptions for home", "child "+child.String(), map[string]any{"exceptions": ended, "because": "a guardian does not consent"})
}

// noAdult is why a drill that needs an adult in the room does not go home.
const noAdult = "It needs an adult in the room, and the family has not agreed to such drills. They answer on their page, under Consents."

// tellFamilies writes to the guardians who agreed to it that a message waits, where there is a mail server. A letter may be read by
// anybody on its way, so it says nothing of the message or the child. It is no failure when it does not arrive.
func (a *App) tellFamilies(ctx context.Context, to To) {
	if a.settings.Send == nil {
		return
	}
	var letters []Letter
	err := a.db.InTx(ctx, studio.ProgramActor(), func(t *postgres.Tx) error {
		people, err := t.FamiliesToTell(ctx, to.Child, to.Class)
		for _, p := range people {
			b := words.Of(ctx).For(p.Language, t.Settings.Language)
			letters = append(letters, Letter{To: p.Email, Name: p.Name, Subject: b.Say("mail.message.subject", "Studio", a.settings.StudioName),
				Text: b.Say("mail.message.text", "Name", p.Name, "Link", a.settings.BaseURL+"/home") + "\n"})
		}
		return err
	})
	if err != nil {
		return
	}
	for _, letter := range letters {
		_ = a.settings.Send(ctx, letter) // see above
	}
}
