package app

import (
	"bytes"
	"encoding/base64"
	"testing"
	"time"

	"rungbook/internal/auth"
	"rungbook/internal/postgres"
	"rungbook/internal/studio"
)

func keyText(n byte) string { return base64.StdEncoding.EncodeToString(bytes.Repeat([]byte{n}, 32)) }

// sealer is one with a key of its own for each n, and with those of before.
func sealer(t *testing.T, n byte, before ...byte) *auth.Sealer {
	t.Helper()
	var keys []string
	for _, b := range before {
		keys = append(keys, keyText(b))
	}
	s, err := auth.NewSealer(keyText(n), keys...)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// kept is what the database holds of the second factor of an account.
func (d *desk) kept(t *testing.T, who studio.Actor) postgres.SecondFactor {
	t.Helper()
	var f postgres.SecondFactor
	err := d.db.InTx(t.Context(), who, func(tx *postgres.Tx) error {
		var err error
		f, err = tx.SecondFactorOf(t.Context(), who.ID)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return f
}

// The two of the sample are from before there was a key; the teacher's is made under one; then the key changes.
func TestSecretsAreSealed(t *testing.T) {
	t.Parallel()
	d := openDesk(t)
	ctx := t.Context()
	d.guard(t, d.teacher)
	secret, first := d.secretOf(t, d.teacher), d.kept(t, d.teacher)
	if first.KeyID != d.settings.Sealer.KeyID() || bytes.Contains(first.Secret, secret) {
		t.Errorf("kept as %q %x", first.KeyID, first.Secret)
	}
	plain := d.kept(t, d.parent)
	if sealed, lost, err := d.SealSecrets(ctx); sealed != 2 || lost != 0 || err != nil {
		t.Fatalf("sealed %d, lost %d, %v", sealed, lost, err)
	}
	if after := d.kept(t, d.parent); after.KeyID == "" || bytes.Contains(after.Secret, plain.Secret) || !bytes.Equal(d.secretOf(t, d.parent), plain.Secret) {
		t.Errorf("kept as %q %x", after.KeyID, after.Secret)
	}
	if sealed, lost, err := d.SealSecrets(ctx); sealed != 0 || lost != 0 || err != nil {
		t.Errorf("again: sealed %d, lost %d, %v", sealed, lost, err)
	}
	d.settings.Sealer = sealer(t, 2, 1)
	if sealed, lost, err := d.SealSecrets(ctx); sealed != 3 || lost != 0 || err != nil {
		t.Errorf("under a new key: sealed %d, lost %d, %v", sealed, lost, err)
	}
	d.settings.Sealer = sealer(t, 2)
	if !bytes.Equal(d.secretOf(t, d.teacher), secret) {
		t.Error("the secret changed with the key")
	}
}

// Without its key a code is not checked, a recovery code still lets in, and nobody can set codes up.
func TestLostKey(t *testing.T) {
	t.Parallel()
	d := openDesk(t)
	ctx := t.Context()
	recovery := d.guard(t, d.teacher)
	secret := d.secretOf(t, d.teacher)
	for name, s := range map[string]*auth.Sealer{"none": nil, "another": sealer(t, 9)} {
		d.settings.Sealer = s
		d.now = d.now.Add(time.Minute)
		pending, err := d.NeedsCode(ctx, d.teacher.ID)
		if err != nil || pending == "" {
			t.Fatal(pending, err)
		}
		_, err = d.EnterCode(ctx, pending, auth.CodeAt(secret, d.now))
		wantCode(t, "key "+name, err, studio.Conflict)
		if _, err := d.EnterCode(ctx, pending, recovery[len(name)]); err != nil {
			t.Errorf("key %s: a recovery code: %v", name, err)
		}
	}
	d.settings.Sealer = nil
	if _, lost, err := d.SealSecrets(ctx); lost != 1 || err != nil {
		t.Errorf("lost %d, %v", lost, err)
	}
	d.passphrase(t, d.owner, "nine copper kettles sing")
	_, err := d.BeginAuthenticator(ctx, d.owner, "nine copper kettles sing")
	wantCode(t, "without a key", err, studio.Invalid)
	if is, err := d.OwnAuthenticator(ctx, d.owner); !is.Keyless || err != nil {
		t.Errorf("%+v, %v", is, err)
	}
}

// What was sealed for one account opens for no other: whoever can write to the database cannot put an own secret in another's place.
func TestSealedSecretCannotBeMoved(t *testing.T) {
	t.Parallel()
	d := openDesk(t)
	d.guard(t, d.teacher)
	d.guard(t, d.owner)
	mine, theirs := d.kept(t, d.teacher), d.kept(t, d.owner)
	theirs.Secret = mine.Secret
	if _, err := d.opened(t.Context(), theirs); studio.CodeOf(err) != studio.Conflict {
		t.Errorf("opened: %v", err)
	}
}

// guard sets a code up for an account and gives its recovery codes.
func (d *desk) guard(t *testing.T, who studio.Actor) []string {
	t.Helper()
	const words = "nine copper kettles sing"
	d.passphrase(t, who, words)
	if _, err := d.BeginAuthenticator(t.Context(), who, words); err != nil {
		t.Fatal(err)
	}
	codes, err := d.ConfirmAuthenticator(t.Context(), who, auth.CodeAt(d.secretOf(t, who), d.now))
	if err != nil {
		t.Fatal(err)
	}
	return codes
}
