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
	email = strings.ToLower(strings.TrimSpace(email))
	var found postgres.Credentials
	var known bool
	err := a.db.InTx(ctx, studio.ProgramActor(), func(t *postgres.Tx) error {
		failed, err := t.FailedSignIns(ctx, email, t.Now.Add(-guessesWithin))
		if err != nil {
			return err
		}
		if failed >= guesses {
			return &studio.Error{Code: studio.TooMany, Text: "Too many tries for this address. Wait a quarter of an hour, or ask the studio for a new link."}
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
	err = a.db.InTx(ctx, studio.ProgramActor(), func(t *postgres.Tx) error { return t.NoteSignIn(ctx, email, match) })
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
	return a.db.InTx(ctx, actor, func(t *postgres.Tx) error {
		if err := a.may(ctx, t, studio.OwnAccount, Target{}); err != nil {
			return err
		}
		stored, err := t.PasswordHash(ctx, actor.ID)
		if err != nil {
			return err
		}
		match, _, err := a.hasher.Verify(ctx, present, stored)
		if err != nil {
			return err
		}
		if !match {
			return studio.Refuse("Nothing was changed.", []studio.FieldError{{Field: "present", Problem: "That is not your present passphrase."}})
		}
		hash, err := a.hashNew(ctx, next, actor.Email, "next")
		if err != nil {
			return err
		}
		if err := t.SetPassword(ctx, actor.ID, hash); err != nil {
			return err
		}
		if err := t.DeleteSessionsOf(ctx, actor.ID); err != nil {
			return err
		}
		return t.Audit(ctx, "changed passphrase", "account "+actor.ID.String(), nil)
	})
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
