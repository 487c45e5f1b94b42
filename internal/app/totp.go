package app

import (
	"context"
	"fmt"
	"strings"
	"time"

	"github.com/google/uuid"
	"rungbook/internal/auth"
	"rungbook/internal/postgres"
	"rungbook/internal/studio"
)

const (
	recoveryCodes = 10
	codeWithin    = 10 * time.Minute // from passphrase to code
)

// Authenticator is the state of the actor's second factor.
type Authenticator struct {
	Offered bool // owners and teachers; others sign in with one factor
	On      bool
	Left    int // recovery codes not used yet
}

// NewAuthenticator is a secret to be put into an authenticator.
type NewAuthenticator struct {
	Picture auth.Picture
	Text    string
}

// OwnAuthenticator tells whether the actor signs in with a code.
func (a *App) OwnAuthenticator(ctx context.Context, actor studio.Actor) (Authenticator, error) {
	var is Authenticator
	err := a.within(ctx, actor, studio.OwnAccount, func(t *postgres.Tx) error {
		is.Offered = actor.Is(studio.OwnerRole) || actor.Is(studio.TeacherRole)
		factor, err := t.SecondFactorOf(ctx, actor.ID)
		if studio.CodeOf(err) == studio.NotFound {
			return nil
		}
		if err != nil || factor.ConfirmedAt == nil {
			return err
		}
		is.On = true
		is.Left, err = t.RecoveryCodesLeft(ctx, actor.ID)
		return err
	})
	return is, err
}

// staffOnly refuses whoever is neither owner nor teacher.
func staffOnly(actor studio.Actor) error {
	if actor.Is(studio.OwnerRole) || actor.Is(studio.TeacherRole) {
		return nil
	}
	return studio.Missing()
}

// BeginAuthenticator makes a new secret, given the present passphrase. It is not in force until a first code was shown.
func (a *App) BeginAuthenticator(ctx context.Context, actor studio.Actor, present string) (NewAuthenticator, error) {
	if err := staffOnly(actor); err != nil {
		return NewAuthenticator{}, err
	}
	if err := a.prove(ctx, actor, present); err != nil {
		return NewAuthenticator{}, err
	}
	secret := auth.NewCodeSecret()
	err := a.within(ctx, actor, studio.OwnAccount, func(t *postgres.Tx) error {
		err := t.BeginSecondFactor(ctx, actor.ID, secret)
		if studio.CodeOf(err) == studio.NotFound {
			return &studio.Error{Code: studio.Conflict, Text: "You sign in with codes already. Switch that off first."}
		}
		return err
	})
	if err != nil {
		return NewAuthenticator{}, err
	}
	return a.drawn(secret, actor)
}

// PendingAuthenticator is the secret that is not in force yet, to be shown again.
func (a *App) PendingAuthenticator(ctx context.Context, actor studio.Actor) (NewAuthenticator, error) {
	var secret []byte
	err := a.within(ctx, actor, studio.OwnAccount, func(t *postgres.Tx) error {
		factor, err := t.SecondFactorOf(ctx, actor.ID)
		if err == nil && factor.ConfirmedAt != nil {
			return studio.Missing()
		}
		secret = factor.Secret
		return err
	})
	if err != nil {
		return NewAuthenticator{}, err
	}
	return a.drawn(secret, actor)
}

func (a *App) drawn(secret []byte, actor studio.Actor) (NewAuthenticator, error) {
	picture, err := auth.QR(auth.CodeSecretURL(secret, a.settings.StudioName, actor.Email))
	return NewAuthenticator{Picture: picture, Text: auth.CodeSecretText(secret)}, err
}

// ConfirmAuthenticator puts the second factor in force by its first code, and gives the recovery codes: they are shown this once.
func (a *App) ConfirmAuthenticator(ctx context.Context, actor studio.Actor, code string) ([]string, error) {
	if err := staffOnly(actor); err != nil {
		return nil, err
	}
	if err := a.guessing(ctx, codeGuesses(actor.ID)); err != nil {
		return nil, err
	}
	codes := auth.NewRecoveryCodes(recoveryCodes)
	err := a.telling(ctx, actor, "signing in with a code of an authenticator was switched on for your account", func(t *postgres.Tx) error {
		factor, err := t.SecondFactorOf(ctx, actor.ID)
		if err == nil && factor.ConfirmedAt != nil {
			err = studio.Missing()
		}
		if err != nil {
			return err
		}
		if err := takeCode(ctx, t, factor, code); err != nil {
			return err
		}
		var hashes [][]byte
		for _, c := range codes {
			hashes = append(hashes, auth.RecoveryHash(c))
		}
		if err := t.SetRecoveryCodes(ctx, actor.ID, hashes); err != nil {
			return err
		}
		return t.Audit(ctx, "switched a second factor on", "account "+actor.ID.String(), nil)
	})
	if err != nil {
		return nil, a.countWrong(ctx, actor.ID, err)
	}
	return codes, nil
}

// EndAuthenticator switches the second factor off, given the present passphrase.
func (a *App) EndAuthenticator(ctx context.Context, actor studio.Actor, present string) error {
	if err := a.prove(ctx, actor, present); err != nil {
		return err
	}
	return a.telling(ctx, actor, "signing in with a code of an authenticator was switched off for your account", func(t *postgres.Tx) error {
		if err := t.RemoveSecondFactor(ctx, actor.ID); err != nil {
			return err
		}
		return t.Audit(ctx, "switched a second factor off", "account "+actor.ID.String(), nil)
	})
}

// NeedsCode says what to keep in the session of somebody who has shown the passphrase of an account that signs in with codes; "" for
// one that does not.
func (a *App) NeedsCode(ctx context.Context, account uuid.UUID) (string, error) {
	pending := ""
	err := a.db.InTx(ctx, studio.ProgramActor(), func(t *postgres.Tx) error {
		factor, err := t.SecondFactorOf(ctx, account)
		if studio.CodeOf(err) == studio.NotFound {
			return nil
		}
		if err == nil && factor.ConfirmedAt != nil {
			pending = fmt.Sprintf("%s %s", account, t.Now.Format(time.RFC3339))
		}
		return err
	})
	return pending, err
}

// EnterCode checks a code of the authenticator, or a recovery code, of the account of which NeedsCode said what to keep.
func (a *App) EnterCode(ctx context.Context, pending, code string) (uuid.UUID, error) {
	id, since, _ := strings.Cut(pending, " ")
	account, err := uuid.Parse(id)
	began, wrong := time.Parse(time.RFC3339, since)
	if err != nil || wrong != nil {
		return uuid.Nil, &studio.Error{Code: studio.SignedOut, Text: "Sign in to go on."}
	}
	if err := a.guessing(ctx, codeGuesses(account)); err != nil {
		return uuid.Nil, err
	}
	err = a.db.InTx(ctx, studio.ProgramActor(), func(t *postgres.Tx) error {
		if t.Now.Sub(began) > codeWithin {
			return &studio.Error{Code: studio.SignedOut, Text: "That took too long. Sign in again."}
		}
		if _, err := t.ActorOf(ctx, account); err != nil { // locked meanwhile
			return &studio.Error{Code: studio.SignedOut, Text: "Sign in to go on.", Cause: err}
		}
		factor, err := t.SecondFactorOf(ctx, account)
		if err != nil {
			return err
		}
		err = t.UseRecoveryCode(ctx, account, auth.RecoveryHash(code))
		if studio.CodeOf(err) == studio.NotFound {
			err = takeCode(ctx, t, factor, code)
		}
		if err != nil {
			return err
		}
		return t.NoteSignIn(ctx, codeGuesses(account), true)
	})
	return account, a.countWrong(ctx, account, err)
}

func takeCode(ctx context.Context, t *postgres.Tx, factor postgres.SecondFactor, code string) error {
	step, ok := auth.CheckCode(factor.Secret, code, t.Now, factor.LastStep)
	if !ok {
		return errCode()
	}
	return t.TakeStep(ctx, factor.AccountID, step)
}

func errCode() error {
	return studio.Refuse("The code was not accepted.", []studio.FieldError{{Field: "code", Problem: "That is not the code of now. Wait for the next one; each works once."}})
}

// codeGuesses is under what name guesses at the codes of an account are counted, apart from those at its passphrase: showing the
// passphrase again forgives none of them.
func codeGuesses(account uuid.UUID) string { return "code " + account.String() }

func (a *App) countWrong(ctx context.Context, account uuid.UUID, err error) error {
	if studio.CodeOf(err) != studio.Invalid || err == nil {
		return err
	}
	if counted := a.noteGuess(ctx, codeGuesses(account), false); counted != nil {
		return counted
	}
	return err
}
