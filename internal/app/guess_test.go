package app

import (
	"context"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"rungbook/internal/studio"
	"rungbook/internal/testkit"
)

const ownWords = "nine copper kettles sing"

// Every form that asks for the passphrase once more counts wrong ones to the same ten, and so does signing in.
func TestWrongPassphrasesCountEverywhere(t *testing.T) {
	t.Parallel()
	child := testkit.SampleID("c1a1")
	for name, c := range map[string]struct {
		as  func(*desk) studio.Actor
		try func(context.Context, *desk, studio.Actor, string) error
	}{
		"change passphrase": {parentOf, func(ctx context.Context, d *desk, who studio.Actor, words string) error {
			return d.ChangePassphrase(ctx, who, words, "seven herons over wet sand")
		}},
		"change address": {parentOf, func(ctx context.Context, d *desk, who studio.Actor, words string) error {
			return d.ChangeEmail(ctx, who, words, "moved@sample.example")
		}},
		"copy of a child's data": {parentOf, func(ctx context.Context, d *desk, who studio.Actor, words string) error {
			_, err := d.ExportChild(ctx, who, child, words)
			return err
		}},
		"erasure": {ownerOf, func(ctx context.Context, d *desk, who studio.Actor, words string) error {
			return d.EraseChild(ctx, who, child, "Aliquot Alderleak", words)
		}},
		"code on": {ownerOf, func(ctx context.Context, d *desk, who studio.Actor, words string) error {
			_, err := d.BeginAuthenticator(ctx, who, words)
			return err
		}},
		"code off": {ownerOf, func(ctx context.Context, d *desk, who studio.Actor, words string) error {
			return d.EndAuthenticator(ctx, who, words)
		}},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			d := openDesk(t)
			ctx := t.Context()
			who := c.as(d)
			d.passphrase(t, who, ownWords)
			for range guesses - 1 {
				wantCode(t, "a wrong passphrase", c.try(ctx, d, who, "not this one at all"), studio.Invalid)
			}
			_, err := d.SignIn(ctx, who.Email, "not this one at all")
			wantCode(t, "the tenth, at the sign-in page", err, studio.Invalid)
			wantCode(t, "the right one after ten wrong ones", c.try(ctx, d, who, ownWords), studio.TooMany)
			_, err = d.SignIn(ctx, who.Email, ownWords)
			wantCode(t, "signing in after ten wrong ones", err, studio.TooMany)
			d.now = d.now.Add(guessesWithin + time.Second)
			if _, err := d.SignIn(ctx, who.Email, ownWords); err != nil {
				t.Errorf("a quarter of an hour later: %v", err)
			}
		})
	}
}

func parentOf(d *desk) studio.Actor { return d.parent }
func ownerOf(d *desk) studio.Actor  { return d.owner }

// Thirty guesses at the same moment are no more than ten, for an address with an account and for one without.
func TestGuessesAtOnceAreCounted(t *testing.T) {
	t.Parallel()
	d := openDesk(t)
	d.passphrase(t, d.parent, ownWords)
	for _, email := range []string{d.parent.Email, "nobody@sample.example"} {
		var tried atomic.Int32
		var all sync.WaitGroup
		for range 30 {
			all.Go(func() {
				_, err := d.SignIn(t.Context(), email, "not this one at all")
				switch studio.CodeOf(err) {
				case studio.Invalid:
					tried.Add(1)
				case studio.TooMany:
				default:
					t.Error(err)
				}
			})
		}
		all.Wait()
		if tried.Load() != guesses {
			t.Errorf("%s: %d guesses at once were checked, want %d", email, tried.Load(), guesses)
		}
	}
}
