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
	"rungbook/internal/words"
)

const (
	recoveryCodes = 10
	codeWithin    = 10 * time.Minute // from passphrase to code
)

// Authenticator is the state of the actor's second factor.
type Authenticator struct {
	Offered bool // owners and teachers; others sign in with one factor
	Keyless bool // codes cannot be set up here: the program has no key to seal their secrets with
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
	err := a.within(ctx, actor, studio.GuardAccount, func(t *postgres.Tx) error {
		is.Offered, is.Keyless = actor.Is(studio.OwnerRole) || actor.Is(studio.TeacherRole), a.settings.Sealer == nil
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
	if a.settings.Sealer == nil {
		return NewAuthenticator{}, errNoKey(ctx)
	}
	if err := a.prove(ctx, actor, studio.GuardAccount, present); err != nil {
		return NewAuthenticator{}, err
	}
	secret := auth.NewCodeSecret()
	err := a.within(ctx, actor, studio.GuardAccount, func(t *postgres.Tx) error {
		err := t.BeginSecondFactor(ctx, actor.ID, a.settings.Sealer.KeyID(), a.settings.Sealer.Seal(secret, actor.ID[:]))
		if studio.CodeOf(err) == studio.NotFound {
			return &studio.Error{Code: studio.Conflict, Text: words.Of(ctx).Say("code.on-already")}
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
	err := a.within(ctx, actor, studio.GuardAccount, func(t *postgres.Tx) error {
		factor, err := t.SecondFactorOf(ctx, actor.ID)
		if err == nil && factor.ConfirmedAt != nil {
			err = studio.Missing()
		}
		if err == nil {
			secret, err = a.opened(ctx, factor)
		}
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
	codes := auth.NewRecoveryCodes(recoveryCodes)
	err := a.counting(ctx, codeGuesses(actor.ID), func() error {
		return a.telling(ctx, actor, studio.GuardAccount, studio.NoteCodeOn, "", func(t *postgres.Tx) error {
			factor, err := t.SecondFactorOf(ctx, actor.ID)
			if err == nil && factor.ConfirmedAt != nil {
				err = studio.Missing()
			}
			if err == nil {
				err = a.takeCode(ctx, t, factor, code)
			}
			if err != nil {
				return err
			}
			return keepRecovery(ctx, t, codes)
		})
	})
	if err != nil {
		return nil, err
	}
	return codes, nil
}

// keepRecovery keeps the hashes of the actor's recovery codes.
func keepRecovery(ctx context.Context, t *postgres.Tx, codes []string) error {
	var hashes [][]byte
	for _, c := range codes {
		hashes = append(hashes, auth.RecoveryHash(c))
	}
	if err := t.SetRecoveryCodes(ctx, t.Actor.ID, hashes); err != nil {
		return err
	}
	return t.Audit(ctx, "switched a second factor on", "account "+t.Actor.ID.String(), nil)
}

// EndAuthenticator switches the second factor off, given the present passphrase.
func (a *App) EndAuthenticator(ctx context.Context, actor studio.Actor, present string) error {
	if err := a.prove(ctx, actor, studio.OwnAccount, present); err != nil {
		return err
	}
	return a.telling(ctx, actor, studio.OwnAccount, studio.NoteCodeOff, "", func(t *postgres.Tx) error {
		if err := t.RemoveSecondFactor(ctx, actor.ID); err != nil {
			return err
		}
		if err := staysGuarded(ctx, t); err != nil {
			return err
		}
		return t.Audit(ctx, "switched a second factor off", "account "+actor.ID.String(), nil)
	})
}

// staysGuarded refuses what leaves the actor with neither a code nor a passkey where the studio asks for one.
func staysGuarded(ctx context.Context, t *postgres.Tx) error {
	who, err := t.ActorOf(ctx, t.Actor.ID)
	if err == nil && who.Unguarded {
		err = &studio.Error{Code: studio.Conflict, Text: words.Of(ctx).Say("passkey.last")}
	}
	return err
}

// NeedsCode says what to keep in the session of somebody who has shown the passphrase of an account that signs in with codes; "" for
// one that does not. Where the studio asks for a code or a passkey and the account has passkeys only, the passphrase alone is refused.
func (a *App) NeedsCode(ctx context.Context, account uuid.UUID) (string, error) {
	pending := ""
	err := a.db.InTx(ctx, studio.ProgramActor(), func(t *postgres.Tx) error {
		factor, err := t.SecondFactorOf(ctx, account)
		if studio.CodeOf(err) == studio.NotFound || err == nil && factor.ConfirmedAt == nil {
			return needsPasskey(ctx, t, account)
		}
		if err == nil {
			pending = fmt.Sprintf("%s %s", account, t.Now.Format(time.RFC3339))
		}
		return err
	})
	return pending, err
}

// needsPasskey refuses an owner or teacher who has passkeys where the studio asks for more than a passphrase.
func needsPasskey(ctx context.Context, t *postgres.Tx, account uuid.UUID) error {
	if !t.Settings.Guarded {
		return nil
	}
	who, err := t.ActorOf(ctx, account)
	if err != nil || staffOnly(who) != nil {
		return err
	}
	has, err := t.HasPasskeys(ctx, account)
	if err == nil && has {
		err = &studio.Error{Code: studio.Invalid, Text: words.Of(ctx).Say("sign-in.needs-passkey")}
	}
	return err
}

// EnterCode checks a code of the authenticator, or a recovery code, of the account of which NeedsCode said what to keep.
func (a *App) EnterCode(ctx context.Context, pending, code string) (uuid.UUID, error) {
	id, since, _ := strings.Cut(pending, " ")
	account, err := uuid.Parse(id)
	began, wrong := time.Parse(time.RFC3339, since)
	if err != nil || wrong != nil {
		return uuid.Nil, &studio.Error{Code: studio.SignedOut, Text: words.Of(ctx).Say("error.sign-in")}
	}
	err = a.counting(ctx, codeGuesses(account), func() error {
		return a.db.InTx(ctx, studio.ProgramActor(), func(t *postgres.Tx) error {
			if t.Now.Sub(began) > codeWithin {
				return &studio.Error{Code: studio.SignedOut, Text: words.Of(ctx).Say("code.took-long")}
			}
			if _, err := t.ActorOf(ctx, account); err != nil { // locked meanwhile
				return &studio.Error{Code: studio.SignedOut, Text: words.Of(ctx).Say("error.sign-in"), Cause: err}
			}
			factor, err := t.SecondFactorOf(ctx, account)
			if err != nil {
				return err
			}
			err = t.UseRecoveryCode(ctx, account, auth.RecoveryHash(code))
			if studio.CodeOf(err) == studio.NotFound {
				err = a.takeCode(ctx, t, factor, code)
			}
			return err
		})
	})
	return account, err
}

func (a *App) takeCode(ctx context.Context, t *postgres.Tx, factor postgres.SecondFactor, code string) error {
	secret, err := a.opened(ctx, factor)
	if err != nil {
		return err
	}
	step, ok := auth.CheckCode(secret, code, t.Now, factor.LastStep)
	if !ok {
		return errCode(words.Of(ctx))
	}
	return t.TakeStep(ctx, factor.AccountID, step)
}

func errCode(b *words.Book) error {
	return studio.Refuse(b.Say("code.refused"), []studio.FieldError{{Field: "code", Problem: b.Say("code.wrong")}})
}

// codeGuesses is under what name guesses at the codes of an account are counted, apart from those at its passphrase: showing the
// passphrase again forgives none of them.
func codeGuesses(account uuid.UUID) string { return "code " + account.String() }
