package app

import (
	"path"
	"strings"
	"testing"
	"time"

	"rungbook/internal/studio"
)

// secretIn is the secret part of the link in a letter, of which the path begins with at.
func secretIn(t *testing.T, l Letter, at string) string {
	t.Helper()
	for _, line := range strings.Split(l.Text, "\n") {
		if strings.Contains(line, at) {
			return path.Base(strings.TrimSpace(line))
		}
	}
	t.Fatalf("no link to %s in %q", at, l.Text)
	return ""
}

// moving asks for a change of the parent's address and gives the secrets of the two links.
func (d *desk) moving(t *testing.T, sent *[]Letter, email string) (confirm, stop string) {
	t.Helper()
	before := len(*sent)
	if err := d.ChangeEmail(t.Context(), d.parent, ownWords, email); err != nil {
		t.Fatal(err)
	}
	d.Finish()
	if len(*sent) != before+2 || (*sent)[before].To != strings.ToLower(email) || (*sent)[before+1].To != d.parent.Email {
		t.Fatalf("sent %+v", (*sent)[before:])
	}
	return secretIn(t, (*sent)[before], "/address/confirm/"), secretIn(t, (*sent)[before+1], "/address/stop/")
}

func TestNewAddressCountsOnceItsLinkIsOpened(t *testing.T) {
	t.Parallel()
	d := openDesk(t)
	ctx := t.Context()
	d.passphrase(t, d.parent, ownWords)
	sent := d.letters()
	confirm, _ := d.moving(t, sent, "Moved@sample.example")
	if _, err := d.SignIn(ctx, d.parent.Email, ownWords); err != nil {
		t.Errorf("the old address ended before the link was opened: %v", err)
	}
	if pending, err := d.PendingEmail(ctx, d.parent); pending != "moved@sample.example" || err != nil {
		t.Errorf("waits for %q, %v", pending, err)
	}
	for range 2 { // opening the page uses nothing up
		if c, err := d.EmailToConfirm(ctx, confirm); err != nil || c.Email != "moved@sample.example" {
			t.Fatal(c, err)
		}
	}
	wantCode(t, "a secret of nothing", d.ConfirmEmail(ctx, strings.Repeat("A", 43)), studio.NotFound)
	if err := d.ConfirmEmail(ctx, confirm); err != nil {
		t.Fatal(err)
	}
	wantCode(t, "the link again", d.ConfirmEmail(ctx, confirm), studio.NotFound)
	if id, err := d.SignIn(ctx, "moved@sample.example", ownWords); err != nil || id != d.parent.ID {
		t.Errorf("the new address: %v", err)
	}
	_, err := d.SignIn(ctx, d.parent.Email, ownWords)
	wantCode(t, "the old address", err, studio.Invalid)
	d.Finish()
	told := map[string]bool{}
	for _, l := range (*sent)[2:] {
		told[l.To] = true
	}
	if len(*sent) != 4 || !told["moved@sample.example"] || !told[d.parent.Email] {
		t.Errorf("told %v", told)
	}
}

func TestLinksAboutAddressesEnd(t *testing.T) {
	t.Parallel()
	d := openDesk(t)
	ctx := t.Context()
	d.passphrase(t, d.parent, ownWords)
	sent := d.letters()
	first, firstStop := d.moving(t, sent, "one@sample.example")
	second, _ := d.moving(t, sent, "two@sample.example")
	wantCode(t, "a replaced link", d.ConfirmEmail(ctx, first), studio.NotFound)
	_, err := d.StopEmail(ctx, firstStop)
	wantCode(t, "its other half", err, studio.NotFound)
	d.now = d.now.Add(confirmWithin)
	wantCode(t, "a day later", d.ConfirmEmail(ctx, second), studio.NotFound)
	third, _ := d.moving(t, sent, "three@sample.example")
	if err := d.ChangePassphrase(ctx, d.parent, ownWords, "seven herons over wet sand"); err != nil {
		t.Fatal(err)
	}
	wantCode(t, "after a new passphrase", d.ConfirmEmail(ctx, third), studio.NotFound)
}

// The old address stops the change, before it counts and after it.
func TestOldAddressStopsTheChange(t *testing.T) {
	t.Parallel()
	for name, confirmed := range map[string]bool{"before": false, "after": true} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			d := openDesk(t)
			ctx := t.Context()
			d.passphrase(t, d.parent, ownWords)
			sent := d.letters()
			confirm, stop := d.moving(t, sent, "thief@sample.example")
			thief := d.parent
			if confirmed {
				if err := d.ConfirmEmail(ctx, confirm); err != nil {
					t.Fatal(err)
				}
				thief.Email = "thief@sample.example"
				// A second change must not disarm the link that stops the first.
				wantCode(t, "a second change", d.ChangeEmail(ctx, thief, ownWords, "further@sample.example"), studio.Invalid)
			}
			session := d.session(t, "thief's", d.parent.ID, "Firefox on Linux")
			d.now = d.now.Add(6 * 24 * time.Hour)
			link, err := d.StopEmail(ctx, stop)
			if err != nil {
				t.Fatal(err)
			}
			wantCode(t, "the link to the new address", d.ConfirmEmail(ctx, confirm), studio.NotFound)
			if _, _, err := d.OpenSession(ctx, session); studio.CodeOf(err) != studio.NotFound {
				t.Errorf("a session goes on: %v", err)
			}
			for _, email := range []string{"thief@sample.example", d.parent.Email} {
				_, err = d.SignIn(ctx, email, ownWords)
				wantCode(t, "the known passphrase with "+email, err, studio.Invalid)
			}
			if id, err := d.JoinBy(ctx, path.Base(link.URL), "seven herons over wet sand"); err != nil || id != d.parent.ID {
				t.Fatal(id, err)
			}
			if id, err := d.SignIn(ctx, d.parent.Email, "seven herons over wet sand"); err != nil || id != d.parent.ID {
				t.Error(id, err)
			}
			_, err = d.StopEmail(ctx, stop)
			wantCode(t, "the link again", err, studio.NotFound)
		})
	}
}

// Whether another account has an address shows only to who reads its letters.
func TestTakenAddressIsNotToldApart(t *testing.T) {
	t.Parallel()
	d := openDesk(t)
	d.passphrase(t, d.parent, ownWords)
	sent := d.letters()
	confirm, _ := d.moving(t, sent, d.teacher.Email)
	wantCode(t, "confirmed", d.ConfirmEmail(t.Context(), confirm), studio.Conflict)
	if now := d.actor(t, "ac06"); now.Email != d.parent.Email {
		t.Errorf("moved to %s", now.Email)
	}
}

func TestChangesOfAddressAreLimited(t *testing.T) {
	t.Parallel()
	d := openDesk(t)
	d.passphrase(t, d.parent, ownWords)
	sent := d.letters()
	for range emailAsks {
		d.moving(t, sent, "moved@sample.example")
	}
	wantCode(t, "too often", d.ChangeEmail(t.Context(), d.parent, ownWords, "moved@sample.example"), studio.TooMany)
	d.now = d.now.Add(24 * time.Hour)
	d.moving(t, sent, "moved@sample.example")
}

func TestWithoutMailAnAddressCountsAtOnce(t *testing.T) {
	t.Parallel()
	d := openDesk(t)
	d.passphrase(t, d.parent, ownWords)
	wantCode(t, "an address of somebody else", d.ChangeEmail(t.Context(), d.parent, ownWords, d.teacher.Email), studio.Invalid)
	wantCode(t, "the own address", d.ChangeEmail(t.Context(), d.parent, ownWords, d.parent.Email), studio.Invalid)
	if err := d.ChangeEmail(t.Context(), d.parent, ownWords, "moved@sample.example"); err != nil {
		t.Fatal(err)
	}
	if now := d.actor(t, "ac06"); now.Email != "moved@sample.example" {
		t.Errorf("is %s", now.Email)
	}
}
