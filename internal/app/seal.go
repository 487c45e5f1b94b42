package app

import (
	"context"

	"rungbook/internal/postgres"
	"rungbook/internal/studio"
	"rungbook/internal/words"
)

// errNoKey is for a program without a key. Its words are for the owner, who may know whom to ask.
func errNoKey(ctx context.Context) error {
	return &studio.Error{Code: studio.Invalid, Text: words.Of(ctx).Say("code.keyless")}
}

// opened is the secret of a second factor.
func (a *App) opened(ctx context.Context, f postgres.SecondFactor) ([]byte, error) {
	if f.KeyID == "" { // from before there was a key
		return f.Secret, nil
	}
	lost := &studio.Error{Code: studio.Conflict, Text: words.Of(ctx).Say("code.key-lost")}
	if a.settings.Sealer == nil {
		return nil, lost
	}
	secret, err := a.settings.Sealer.Open(f.KeyID, f.Secret, f.AccountID[:])
	if err != nil {
		a.settings.Log.Error("a code was not checked", "error", err)
		lost.Cause = err
		return nil, lost
	}
	return secret, nil
}

// SealSecrets seals the secrets of authenticators by the present key: those from before there was one, and those of an earlier key that
// is still known. It says how many, and how many can be opened by no key that is known.
func (a *App) SealSecrets(ctx context.Context) (sealed, lost int, err error) {
	present := ""
	if a.settings.Sealer != nil {
		present = a.settings.Sealer.KeyID()
	}
	err = a.db.InTx(ctx, studio.ProgramActor(), func(t *postgres.Tx) error {
		others, err := t.SecondFactorsNotOf(ctx, present)
		if err != nil {
			return err
		}
		for _, f := range others {
			if a.settings.Sealer == nil || f.KeyID != "" && !a.settings.Sealer.Knows(f.KeyID) {
				lost++
				continue
			}
			secret, err := a.opened(ctx, f)
			if err != nil { // changed in the database: the others are sealed all the same
				lost++
				continue
			}
			if err := t.SealSecondFactor(ctx, f.AccountID, present, a.settings.Sealer.Seal(secret, f.AccountID[:])); err != nil {
				return err
			}
			sealed++
		}
		if sealed == 0 {
			return nil
		}
		return t.Audit(ctx, "sealed the secrets of codes", "studio", map[string]any{"key": present, "accounts": sealed})
	})
	return sealed, lost, err
}
