package app

import (
	"strings"
	"testing"
	"time"

	"rungbook/internal/auth"
	"rungbook/internal/postgres"
	"rungbook/internal/studio"
)

// secretOf is what the authenticator of an account would hold.
func (d *desk) secretOf(t *testing.T, who studio.Actor) []byte {
	t.Helper()
	var secret []byte
	err := d.db.InTx(t.Context(), who, func(tx *postgres.Tx) error {
		factor, err := tx.SecondFactorOf(t.Context(), who.ID)
		if err == nil {
			secret, err = d.opened(t.Context(), factor)
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return secret
}

func TestCodeAtSignIn(t *testing.T) {
	t.Parallel()
	d := openDesk(t)
	ctx := t.Context()
	const words = "nine copper kettles sing"
	d.passphrase(t, d.teacher, words)
	sent := d.letters()
	_, err := d.BeginAuthenticator(ctx, d.parent, words)
	wantCode(t, "a parent", err, studio.NotFound)
	_, err = d.BeginAuthenticator(ctx, d.teacher, "something else altogether")
	wantCode(t, "without the passphrase", err, studio.Invalid)
	made, err := d.BeginAuthenticator(ctx, d.teacher, words)
	if err != nil || made.Picture.Path == "" {
		t.Fatal(made, err)
	}
	if pending, err := d.NeedsCode(ctx, d.teacher.ID); err != nil || pending != "" {
		t.Fatalf("in force before a first code: %q, %v", pending, err)
	}
	secret := d.secretOf(t, d.teacher)
	_, err = d.ConfirmAuthenticator(ctx, d.teacher, "12345")
	wantCode(t, "a wrong first code", err, studio.Invalid)
	recovery, err := d.ConfirmAuthenticator(ctx, d.teacher, auth.CodeAt(secret, d.now))
	if err != nil || len(recovery) != 10 {
		t.Fatal(recovery, err)
	}
	if d.Finish(); len(*sent) != 1 || !strings.Contains((*sent)[0].Text, "switched on") {
		t.Errorf("told %+v", *sent)
	}
	pending, err := d.NeedsCode(ctx, d.teacher.ID)
	if err != nil || pending == "" {
		t.Fatalf("not in force: %v", err)
	}
	enter := func(code string) error { _, err := d.EnterCode(ctx, pending, code); return err }
	wantCode(t, "the code that switched it on", enter(auth.CodeAt(secret, d.now)), studio.Invalid)
	d.now = d.now.Add(time.Minute)
	if err := enter(auth.CodeAt(secret, d.now)); err != nil {
		t.Errorf("the code of now: %v", err)
	}
	wantCode(t, "the same code again", enter(auth.CodeAt(secret, d.now)), studio.Invalid)
	if err := enter(strings.ToLower(recovery[3])); err != nil {
		t.Errorf("a recovery code: %v", err)
	}
	wantCode(t, "the same recovery code again", enter(recovery[3]), studio.Invalid)
	_, err = d.EnterCode(ctx, "", "000000")
	wantCode(t, "without a passphrase", err, studio.SignedOut)
	d.now = d.now.Add(codeWithin)
	wantCode(t, "too late", enter(auth.CodeAt(secret, d.now)), studio.SignedOut)
	wantCode(t, "off without the passphrase", d.EndAuthenticator(ctx, d.teacher, "something else altogether"), studio.Invalid)
	if err := d.EndAuthenticator(ctx, d.teacher, words); err != nil {
		t.Error(err)
	}
	if pending, err := d.NeedsCode(ctx, d.teacher.ID); err != nil || pending != "" {
		t.Errorf("still in force: %q, %v", pending, err)
	}
}

// Showing the passphrase again forgives no wrong code.
func TestGuessesAtCodesAreLimited(t *testing.T) {
	t.Parallel()
	d := openDesk(t)
	ctx := t.Context()
	const words = "nine copper kettles sing"
	d.passphrase(t, d.teacher, words)
	if _, err := d.BeginAuthenticator(ctx, d.teacher, words); err != nil {
		t.Fatal(err)
	}
	secret := d.secretOf(t, d.teacher)
	if _, err := d.ConfirmAuthenticator(ctx, d.teacher, auth.CodeAt(secret, d.now)); err != nil {
		t.Fatal(err)
	}
	pending, err := d.NeedsCode(ctx, d.teacher.ID)
	if err != nil {
		t.Fatal(err)
	}
	d.now = d.now.Add(time.Minute)
	for range guesses {
		_, err := d.EnterCode(ctx, pending, "no code")
		wantCode(t, "a wrong code", err, studio.Invalid)
	}
	if _, err := d.SignIn(ctx, d.teacher.Email, words); err != nil {
		t.Fatal(err)
	}
	_, err = d.EnterCode(ctx, pending, auth.CodeAt(secret, d.now))
	wantCode(t, "after too many", err, studio.TooMany)
}

// A link from the studio switches a lost second factor off; one that was asked for by e-mail does not.
func TestLinkOfTheStudioEndsALostAuthenticator(t *testing.T) {
	t.Parallel()
	d := openDesk(t)
	ctx := t.Context()
	const words = "nine copper kettles sing"
	d.passphrase(t, d.teacher, words)
	if _, err := d.BeginAuthenticator(ctx, d.teacher, words); err != nil {
		t.Fatal(err)
	}
	if _, err := d.ConfirmAuthenticator(ctx, d.teacher, auth.CodeAt(d.secretOf(t, d.teacher), d.now)); err != nil {
		t.Fatal(err)
	}
	sent := d.letters()
	d.AskReset(ctx, d.teacher.Email)
	d.Finish()
	if _, err := d.JoinBy(ctx, tokenIn(t, (*sent)[0]), words); err != nil {
		t.Fatal(err)
	}
	if pending, err := d.NeedsCode(ctx, d.teacher.ID); err != nil || pending == "" {
		t.Fatalf("a link by e-mail switched the code off: %v", err)
	}
	link, err := d.ResetLink(ctx, d.owner, d.teacher.ID)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := d.JoinBy(ctx, tokenIn(t, Letter{Text: link.URL}), words); err != nil {
		t.Fatal(err)
	}
	if pending, err := d.NeedsCode(ctx, d.teacher.ID); err != nil || pending != "" {
		t.Errorf("the studio's link did not switch the code off: %q, %v", pending, err)
	}
}
