package web_test

import (
	"context"
	"slices"
	"strings"
	"sync"
	"testing"

	"rungbook/internal/app"
)

// letters is the mail server of a world: it keeps what is handed over.
type letters struct {
	mu   sync.Mutex
	kept []app.Letter
}

func (l *letters) take(_ context.Context, letter app.Letter) error {
	l.mu.Lock()
	defer l.mu.Unlock()
	l.kept = append(l.kept, letter)
	return nil
}

func (l *letters) empty() []app.Letter {
	l.mu.Lock()
	defer l.mu.Unlock()
	kept := l.kept
	l.kept = nil
	return kept
}

// readLetters searches what was sent since.
func (w *world) readLetters(t *testing.T, after string) {
	t.Helper()
	w.use.Finish()
	for _, letter := range w.letters.empty() {
		w.scanned.letters++
		if leaked := w.letterLeaks(letter); len(leaked) > 0 {
			t.Errorf("after %s the letter %q to %s tells %q", after, letter.Subject, letter.To, leaked)
		}
	}
}

// aboutAccount are canaries of which a letter tells the holder of the account that they are about.
var aboutAccount = []string{"keynameleak-", "movedmail-"}

// letterLeaks: anybody may read a letter on its way, so it holds no canary at all beside the name and the address of whom it is for, and
// what was done to their own account: nothing of a child, of a message, of a report that something hurt.
func (w *world) letterLeaks(letter app.Letter) []string {
	var besides []string
	for _, h := range w.heard(letter.To + "\n" + letter.Name) {
		besides = append(besides, h.Text)
	}
	text := strings.Join([]string{letter.To, letter.Name, letter.Subject, letter.Text}, "\n")
	for _, h := range w.heard(text) {
		holder := slices.ContainsFunc(h.May, func(account string) bool { return strings.HasPrefix(letter.To, addresses[account]) })
		if holder && slices.ContainsFunc(aboutAccount, func(start string) bool { return strings.HasPrefix(h.Text, start) }) {
			besides = append(besides, h.Text)
		}
	}
	return w.sung(nobody, text, besides...)
}

// addresses are how the addresses of the parents begin.
var addresses = map[string]string{parentA.account: "parentmail-a@", parentB.account: "parentmail-b@"}

// readLog searches every line of the log: no canary of any kind may stand there, whoever asked.
func (w *world) readLog(t *testing.T) {
	t.Helper()
	for line := range strings.Lines(w.log.String()) {
		w.scanned.lines++
		if leaked := w.sung(nobody, line); len(leaked) > 0 {
			t.Errorf("the log holds %q: %s", leaked, line)
		}
	}
}

// follow asks for the page that an answer leads to: it tells in a sentence what was done.
func (m *matrix) follow(t *testing.T, c cell, got answer) {
	t.Helper()
	to := got.header.Get("Location")
	if to == "" {
		return
	}
	if !strings.HasPrefix(to, "/") || strings.HasPrefix(to, "//") {
		t.Errorf("%s leads away, to %s", c, to)
		return
	}
	if leaked := m.leaks(c.as, to, m.ask(c.as, "GET", to, nil), m.shown(c)...); len(leaked) > 0 {
		t.Errorf("%s leads to %s, which shows %q", c, to, leaked)
	}
}
