package app

import (
	"context"
	"strings"

	"github.com/google/uuid"
	"rungbook/internal/auth"
	"rungbook/internal/postgres"
	"rungbook/internal/studio"
	"rungbook/internal/words"
)

// SignIn checks an e-mail address and passphrase and returns the account. Unknown, disabled and wrong look the same, also in time.
func (a *App) SignIn(ctx context.Context, email, passphrase string) (uuid.UUID, error) {
	email = lowerEmail(email)
	var found postgres.Credentials
	err := a.counting(ctx, email, func() error {
		known := false
		err := a.db.InTx(ctx, studio.ProgramActor(), func(t *postgres.Tx) error {
			var err error
			found, err = t.CredentialsOf(ctx, email)
			known = err == nil
			if studio.CodeOf(err) == studio.NotFound {
				return nil
			}
			return err
		})
		if err != nil {
			return err
		}
		match, err := a.matches(ctx, known, passphrase, found.PasswordHash)
		if err == nil && !match {
			err = &studio.Error{Code: studio.Invalid, Text: words.Of(ctx).Say("sign-in.wrong")}
		}
		return err
	})
	return found.ID, err
}

func (a *App) matches(ctx context.Context, known bool, passphrase, hash string) (bool, error) {
	if !known {
		return false, a.hasher.VerifyNobody(ctx, passphrase)
	}
	match, _, err := a.hasher.Verify(ctx, passphrase, hash)
	return match, err
}

// ChangePassphrase replaces the actor's own passphrase, given the present one, and ends every session of the account. A change of
// address that was not confirmed ends with it.
func (a *App) ChangePassphrase(ctx context.Context, actor studio.Actor, present, next string) error {
	if err := a.prove(ctx, actor, studio.OwnAccount, present); err != nil {
		return err
	}
	hash, err := a.hashNew(ctx, next, actor.Email, "next")
	if err != nil {
		return err
	}
	return a.telling(ctx, actor, studio.OwnAccount, studio.NotePassphrase, "", func(t *postgres.Tx) error {
		if err := t.SetPassword(ctx, actor.ID, hash); err != nil {
			return err
		}
		if err := t.DeleteSessionsOf(ctx, actor.ID); err != nil {
			return err
		}
		if err := t.DropOpenEmailChange(ctx, actor.ID); err != nil {
			return err
		}
		return t.Audit(ctx, "changed passphrase", "account "+actor.ID.String(), nil)
	})
}

// hashNew hashes a new passphrase that keeps the rules; field is where a refusal is shown.
func (a *App) hashNew(ctx context.Context, passphrase, email, field string) (string, error) {
	if flaw := auth.Refusal(passphrase, email); flaw != auth.NoFlaw {
		b := words.Of(ctx)
		why := b.Say("passphrase.wrong."+string(flaw), "Least", auth.MinCharacters, "Most", auth.MaxBytes)
		return "", studio.Refuse(b.Say("passphrase.nothing-changed"), []studio.FieldError{{Field: field, Problem: why}})
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
			return &studio.Error{Code: studio.Conflict, Text: "This studio has an owner already. Further accounts are invited in the browser, under Studio, People; an owner who cannot get in is let in by -lost."}
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
