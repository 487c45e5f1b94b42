package app

import (
	"context"
	"strings"
	"time"

	"github.com/google/uuid"
	"rungbook/internal/auth"
	"rungbook/internal/postgres"
	"rungbook/internal/studio"
)

// Guesses at one account's passphrase: ten in a quarter of an hour, then wait; there is no permanent lock-out.
const (
	guesses       = 10
	guessesWithin = 15 * time.Minute
)

var errWrong = &studio.Error{Code: studio.Invalid, Text: "E-mail address and passphrase do not belong together. Check both and try again."}

// SignIn checks an e-mail address and passphrase and returns the account. Unknown, disabled and wrong look the same, also in time.
func (a *App) SignIn(ctx context.Context, email, passphrase string) (uuid.UUID, error) {
	email = lowerEmail(email)
	var found postgres.Credentials
	var known bool
	err := a.db.InTx(ctx, studio.ProgramActor(), func(t *postgres.Tx) error {
		err := stillGuessing(ctx, t, email)
		if err != nil {
			return err
		}
		found, err = t.CredentialsOf(ctx, email)
		known = err == nil
		if studio.CodeOf(err) == studio.NotFound {
			return nil
		}
		return err
	})
	if err != nil {
		return uuid.Nil, err
	}
	match, err := a.matches(ctx, known, passphrase, found.PasswordHash)
	if err != nil {
		return uuid.Nil, err
	}
	err = a.noteGuess(ctx, email, match)
	if err == nil && !match {
		err = errWrong
	}
	return found.ID, err
}

func (a *App) matches(ctx context.Context, known bool, passphrase, hash string) (bool, error) {
	if !known {
		return false, a.hasher.VerifyNobody(ctx, passphrase)
	}
	match, _, err := a.hasher.Verify(ctx, passphrase, hash)
	return match, err
}

// ChangePassphrase replaces the actor's own passphrase, given the present one, and ends every session of the account.
func (a *App) ChangePassphrase(ctx context.Context, actor studio.Actor, present, next string) error {
	if err := a.prove(ctx, actor, present); err != nil {
		return err
	}
	hash, err := a.hashNew(ctx, next, actor.Email, "next")
	if err != nil {
		return err
	}
	return a.telling(ctx, actor, "the passphrase of your account was changed", func(t *postgres.Tx) error {
		if err := t.SetPassword(ctx, actor.ID, hash); err != nil {
			return err
		}
		if err := t.DeleteSessionsOf(ctx, actor.ID); err != nil {
			return err
		}
		return t.Audit(ctx, "changed passphrase", "account "+actor.ID.String(), nil)
	})
}

// ChangeEmail changes the actor's own address, given the present passphrase. Both addresses are told. An address that cannot be used is
// refused without saying why.
func (a *App) ChangeEmail(ctx context.Context, actor studio.Actor, present, email string) error {
	email = lowerEmail(email)
	if err := studio.Refuse("Nothing was changed.", studio.ValidateEmail(email)); err != nil {
		return err
	}
	if err := a.prove(ctx, actor, present); err != nil {
		return err
	}
	var arrived *note
	err := a.telling(ctx, actor, "the e-mail address of your account was changed to "+email, func(t *postgres.Tx) error {
		arrived = noteTo(t, studio.Actor{Name: actor.Name, Email: email}, "this became the e-mail address of your account")
		if err := t.SetEmail(ctx, actor.ID, email); err != nil {
			return err
		}
		return t.Audit(ctx, "changed the e-mail address", "account "+actor.ID.String(), nil)
	})
	if studio.CodeOf(err) == studio.Conflict {
		return studio.Refuse("Nothing was changed.", []studio.FieldError{{Field: "email", Problem: "This address cannot be used. Choose another one, or ask the studio."}})
	}
	if err == nil {
		a.tell(ctx, arrived)
	}
	return err
}

// prove refuses unless the passphrase is the actor's own. Wrong ones count as guesses, like those at signing in.
func (a *App) prove(ctx context.Context, actor studio.Actor, passphrase string) error {
	var stored string
	err := a.within(ctx, actor, studio.OwnAccount, func(t *postgres.Tx) error {
		var err error
		stored, err = t.PasswordHash(ctx, actor.ID)
		return err
	})
	if err != nil {
		return err
	}
	if err := a.guessing(ctx, actor.Email); err != nil {
		return err
	}
	match, _, err := a.hasher.Verify(ctx, passphrase, stored)
	if err != nil || match {
		return err
	}
	if err := a.noteGuess(ctx, actor.Email, false); err != nil {
		return err
	}
	return studio.Refuse("Nothing was changed.", []studio.FieldError{{Field: "present", Problem: "That is not your present passphrase."}})
}

// guessing refuses when there were too many failures for an address, or what else is guessed at.
func (a *App) guessing(ctx context.Context, at string) error {
	return a.db.InTx(ctx, studio.ProgramActor(), func(t *postgres.Tx) error { return stillGuessing(ctx, t, at) })
}

func stillGuessing(ctx context.Context, t *postgres.Tx, at string) error {
	failed, err := t.FailedSignIns(ctx, at, t.Now.Add(-guessesWithin))
	if err == nil && failed >= guesses {
		err = &studio.Error{Code: studio.TooMany, Text: "Too many tries for this address. Wait a quarter of an hour, or ask the studio for a new link."}
	}
	return err
}

func (a *App) noteGuess(ctx context.Context, at string, success bool) error {
	return a.db.InTx(ctx, studio.ProgramActor(), func(t *postgres.Tx) error { return t.NoteSignIn(ctx, at, success) })
}

// hashNew hashes a new passphrase that keeps the rules; field is where a refusal is shown.
func (a *App) hashNew(ctx context.Context, passphrase, email, field string) (string, error) {
	if why := auth.Refusal(passphrase, email); why != "" {
		return "", studio.Refuse("Nothing was changed.", []studio.FieldError{{Field: field, Problem: why}})
	}
	return a.hasher.Hash(ctx, passphrase)
}

// FirstOwner makes the first account of a studio. It refuses where there is an owner already.
func (a *App) FirstOwner(ctx context.Context, email, name, passphrase string) error {
	email = strings.ToLower(strings.TrimSpace(email))
	hash, err := a.hashNew(ctx, passphrase, email, "passphrase")
	if err != nil {
		return err
	}
	return a.db.InTx(ctx, studio.ProgramActor(), func(t *postgres.Tx) error {
		owners, err := t.Owners(ctx)
		if err != nil {
			return err
		}
		if owners > 0 {
			return &studio.Error{Code: studio.Conflict, Text: "This studio has an owner already. Further accounts are invited in the browser, under Studio, People."}
		}
		id, err := t.AddAccount(ctx, email, strings.TrimSpace(name), []studio.Role{studio.OwnerRole})
		if err != nil {
			return err
		}
		if err := t.SetPassword(ctx, id, hash); err != nil {
			return err
		}
		return t.Audit(ctx, "made the first owner", "account "+id.String(), nil)
	})
}
