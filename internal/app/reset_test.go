package app

import (
	"context"
	"path"
	"strings"
	"sync"
	"testing"
	"time"

	"rungbook/internal/studio"
)

// sender keeps letters instead of sending them.
func sender(sent *[]Letter) func(context.Context, Letter) error {
	var one sync.Mutex
	return func(_ context.Context, l Letter) error {
		one.Lock()
		defer one.Unlock()
		*sent = append(*sent, l)
		return nil
	}
}

// tokenIn is the secret part of the link in a letter.
func tokenIn(t *testing.T, l Letter) string {
	t.Helper()
	for _, line := range strings.Split(l.Text, "\n") {
		if strings.Contains(line, "/join/") {
			return path.Base(strings.TrimSpace(line))
		}
	}
	t.Fatalf("no link in %q", l.Text)
	return ""
}

func TestResetIsSentToAccountsOnly(t *testing.T) {
	t.Parallel()
	d := openDesk(t)
	sent := d.letters()
	ask := func(email string) { d.AskReset(t.Context(), email); d.Finish() }
	ask("nobody@sample.example")
	ask("lockedmail@sample.example")
	ask("")
	if len(*sent) != 0 {
		t.Fatalf("sent %+v", *sent)
	}
	ask(" ParentMail-A@sample.example")
	if len(*sent) != 1 || (*sent)[0].To != d.parent.Email {
		t.Fatalf("sent %+v", *sent)
	}
	ask(d.parent.Email)
	if len(*sent) != 1 {
		t.Error("a second link went out within ten minutes")
	}
	d.now = d.now.Add(11 * time.Minute)
	ask(d.parent.Email)
	if len(*sent) != 2 {
		t.Fatal("no second link after ten minutes")
	}
	if _, err := d.Invitation(t.Context(), tokenIn(t, (*sent)[0])); studio.CodeOf(err) != studio.NotFound {
		t.Error("the older link still works")
	}
	token := tokenIn(t, (*sent)[1])
	const words = "seven herons over wet sand"
	if id, err := d.JoinBy(t.Context(), token, words); err != nil || id != d.parent.ID {
		t.Fatalf("got %v, %v", id, err)
	}
	if d.Finish(); len(*sent) != 3 || !strings.Contains((*sent)[2].Text, "new passphrase was chosen") {
		t.Errorf("not told: %+v", (*sent)[2:])
	}
	if id, err := d.SignIn(t.Context(), d.parent.Email, words); err != nil || id != d.parent.ID {
		t.Errorf("got %v, %v", id, err)
	}
	if _, err := d.JoinBy(t.Context(), token, words); studio.CodeOf(err) != studio.NotFound {
		t.Error("the link works twice")
	}
}

// The answer is given before anything about the account is looked up: even where no database answers, it is the same.
func TestResetAnswersWithoutLooking(t *testing.T) {
	t.Parallel()
	a := New(nil, StudioPolicy(), nil, Settings{})
	a.AskReset(t.Context(), "somebody@sample.example") // no mail server: nothing to do
	if a.SendsMail() {
		t.Error("sends mail without a server")
	}
}
