package e2e

import (
	"testing"
)

// The accounts of the invented studio, by the name in their e-mail address.
const (
	ownerName     = "marit"
	teacherName   = "zoe"
	assistantName = "lucja"
	parentName    = "elspeth.pascoe"
)

// Each role does its evening's work in the real program; then every page that it can reach by links is visited.
func TestJourneys(t *testing.T) {
	axe, browser := readAxe(t), openBrowser(t)
	h := openHouse(t)
	visit := func(name string, journey func(*tab)) func(*testing.T) {
		return func(t *testing.T) {
			t.Parallel()
			b := newTab(t, browser, h.url, axe)
			b.signIn(h.as(t, name))
			journey(b)
			t.Run("crawl", func(t *testing.T) { crawl(t, b) })
		}
	}
	t.Run("signed out", func(t *testing.T) {
		t.Parallel()
		signedOut(newTab(t, browser, h.url, axe))
	})
	t.Run("owner", visit(ownerName, ownerJourney))
	t.Run("teacher", visit(teacherName, teacherJourney))
	t.Run("assistant", visit(assistantName, assistantJourney))
	t.Run("parent", visit(parentName, parentJourney))
}

func (h *house) as(t *testing.T, name string) signIn {
	t.Helper()
	s, ok := h.words[name]
	if !ok {
		t.Fatalf("the program announced no sign-in for %s, only %v", name, h.words)
	}
	return s
}

func signedOut(b *tab) {
	b.open("/children") // sends to sign in, and back
	b.heading("Sign in")
	b.look("sign-in")
	b.skips()
	b.fill("E-mail", "nobody@tidebell.example")
	b.fill("Passphrase", "surely not this one")
	b.mu.Lock()
	b.refusing = true // the browser notes the 422
	b.mu.Unlock()
	b.press("button", "Sign in")
	b.see("do not belong together")
	b.look("sign-in-refused")
}

func ownerJourney(b *tab)     {}
func teacherJourney(b *tab)   {}
func assistantJourney(b *tab) {}
func parentJourney(b *tab)    {}
