package app

import (
	"context"
	"errors"
	"slices"
	"strings"
	"time"

	"github.com/google/uuid"
	"rungbook/internal/auth"
	"rungbook/internal/postgres"
	"rungbook/internal/studio"
	"rungbook/internal/words"
)

// most passkeys of one account: enough for every device of a person.
const mostPasskeys = 20

// PasskeyLine is one of one's own passkeys.
type PasskeyLine struct {
	ID     uuid.UUID
	Name   string
	MadeAt time.Time
	UsedAt *time.Time
}

// OffersPasskeys reports whether the program's address allows passkeys: https or localhost, and a name instead of a number.
func (a *App) OffersPasskeys() bool { return a.settings.Passkeys != nil }

// errPasskey is the one refusal of a passkey.
func errPasskey(ctx context.Context, cause error) error {
	return &studio.Error{Code: studio.Invalid, Text: words.Of(ctx).Say("passkey.refused"), Cause: cause}
}

// OwnPasskeys lists the actor's passkeys.
func (a *App) OwnPasskeys(ctx context.Context, actor studio.Actor) ([]PasskeyLine, error) {
	var lines []PasskeyLine
	err := a.within(ctx, actor, studio.OwnAccount, func(t *postgres.Tx) error {
		keys, err := t.PasskeysOf(ctx, actor.ID)
		for _, k := range keys {
			lines = append(lines, PasskeyLine{ID: k.ID, Name: k.Name, MadeAt: k.MadeAt, UsedAt: k.UsedAt})
		}
		return err
	})
	return lines, err
}

// BeginPasskey gives the options for the browser to make a passkey, and what to keep in the session until it answers.
func (a *App) BeginPasskey(ctx context.Context, actor studio.Actor) (options, kept []byte, err error) {
	err = a.withPasskeys(ctx, actor, func(t *postgres.Tx) error {
		holder, err := holderOf(ctx, t, actor)
		if err != nil {
			return err
		}
		if len(holder.Credentials) >= mostPasskeys {
			return &studio.Error{Code: studio.Conflict, Text: words.Of(ctx).Say("passkey.most")}
		}
		options, kept, err = a.settings.Passkeys.BeginRegister(holder)
		return err
	})
	return options, kept, err
}

// AddPasskey keeps the passkey that the browser made, under a name such as that of the device. The account's holder is told.
func (a *App) AddPasskey(ctx context.Context, actor studio.Actor, name string, kept, answer []byte) error {
	b := words.Of(ctx)
	if name = strings.TrimSpace(name); name == "" {
		name = b.Say("passkey.unnamed")
	}
	if err := studio.Refuse(b.Say("passkey.none-added"), said(b, studio.ValidatePasskeyName(name), name, studio.PasskeyNameLength)); err != nil {
		return err
	}
	if a.settings.Passkeys == nil {
		return studio.Missing()
	}
	return a.telling(ctx, actor, studio.GuardAccount, studio.NotePasskey, name, func(t *postgres.Tx) error {
		holder, err := holderOf(ctx, t, actor)
		if err != nil {
			return err
		}
		credential, err := a.settings.Passkeys.Register(holder, kept, answer)
		if err != nil {
			return errPasskey(ctx, err)
		}
		if err := t.AddPasskey(ctx, postgres.Passkey{AccountID: actor.ID, CredentialID: credential.ID, Name: name, Credential: credential.Record}); err != nil {
			return err
		}
		return t.Audit(ctx, "added a passkey", "account "+actor.ID.String(), nil)
	})
}

func (a *App) withPasskeys(ctx context.Context, actor studio.Actor, fn func(*postgres.Tx) error) error {
	return a.within(ctx, actor, studio.GuardAccount, func(t *postgres.Tx) error {
		if a.settings.Passkeys == nil {
			return studio.Missing()
		}
		return fn(t)
	})
}

func holderOf(ctx context.Context, t *postgres.Tx, who studio.Actor) (auth.Holder, error) {
	holder := auth.Holder{ID: who.ID[:], Email: who.Email, Name: who.Name}
	keys, err := t.PasskeysOf(ctx, who.ID)
	for _, k := range keys {
		holder.Credentials = append(holder.Credentials, k.Credential)
	}
	return holder, err
}

// RenamePasskey names one of the actor's passkeys.
func (a *App) RenamePasskey(ctx context.Context, actor studio.Actor, passkey uuid.UUID, name string) error {
	name = strings.TrimSpace(name)
	return a.within(ctx, actor, studio.OwnAccount, func(t *postgres.Tx) error {
		keys, err := t.PasskeysOf(ctx, actor.ID)
		if err != nil {
			return err
		}
		if !slices.ContainsFunc(keys, func(k postgres.Passkey) bool { return k.ID == passkey }) {
			return studio.Missing()
		}
		b := words.Of(ctx)
		if err := studio.Refuse(b.Say("passphrase.nothing-changed"), said(b, studio.ValidatePasskeyName(name), name, studio.PasskeyNameLength)); err != nil {
			return err
		}
		return t.NamePasskey(ctx, actor.ID, passkey, name)
	})
}

// RemovePasskey makes one of the actor's passkeys useless. The account's holder is told.
func (a *App) RemovePasskey(ctx context.Context, actor studio.Actor, passkey uuid.UUID) error {
	var told notes
	err := a.within(ctx, actor, studio.OwnAccount, func(t *postgres.Tx) error {
		name, err := t.RemovePasskey(ctx, actor.ID, passkey)
		if err != nil {
			return err
		}
		if err := staysGuarded(ctx, t); err != nil {
			return err
		}
		told.add(ctx, t, actor, studio.NotePasskeyGone, name)
		if err := told.keep(ctx, t); err != nil {
			return err
		}
		return t.Audit(ctx, "removed a passkey", "account "+actor.ID.String(), nil)
	})
	if err == nil {
		a.tell(ctx, told)
	}
	return err
}

// BeginPasskeySignIn gives the options for a browser to sign in with whatever passkey it has, and what to keep until it answers.
func (a *App) BeginPasskeySignIn() (options, kept []byte, err error) {
	if a.settings.Passkeys == nil {
		return nil, nil, studio.Missing()
	}
	return a.settings.Passkeys.BeginSignIn()
}

// SignInByPasskey checks the browser's answer and returns the account. A passkey that was verified on its device is two factors in one:
// no code is asked for.
func (a *App) SignInByPasskey(ctx context.Context, kept, answer []byte) (uuid.UUID, error) {
	if a.settings.Passkeys == nil {
		return uuid.Nil, studio.Missing()
	}
	var account uuid.UUID
	err := a.db.InTx(ctx, studio.ProgramActor(), func(t *postgres.Tx) error {
		var found postgres.Passkey
		credential, err := a.settings.Passkeys.SignIn(kept, answer, func(id []byte) (auth.Holder, error) {
			var err error
			if found, err = t.PasskeyToSignIn(ctx, id); err != nil {
				return auth.Holder{}, err
			}
			return auth.Holder{ID: found.AccountID[:], Credentials: [][]byte{found.Credential}}, nil
		})
		if errors.Is(err, auth.ErrPasskey) || studio.CodeOf(err) == studio.NotFound {
			return errPasskey(ctx, err)
		}
		if err != nil {
			return err
		}
		account = found.AccountID
		return t.UsePasskey(ctx, found.ID, credential.Record)
	})
	return account, err
}
