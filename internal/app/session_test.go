package app

import (
	"crypto/sha256"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/uuid"
	"rungbook/internal/postgres"
	"rungbook/internal/studio"
)

// letters collects what the desk sends.
func (d *desk) letters() *[]Letter {
	sent := &[]Letter{}
	d.settings.Send = sender(sent)
	return sent
}

func (d *desk) session(t *testing.T, id string, account uuid.UUID, browser string) []byte {
	t.Helper()
	hash := sha256.Sum256([]byte(id))
	if err := d.KeepSession(t.Context(), hash[:], KeptSession{Account: &account, Browser: browser, Data: []byte("{}"), New: true}); err != nil {
		t.Fatal(err)
	}
	return hash[:]
}

func TestBrowsersAreListedAndEnded(t *testing.T) {
	t.Parallel()
	d := openDesk(t)
	here := d.session(t, "here", d.parent.ID, "Firefox on Linux")
	there := d.session(t, "there", d.parent.ID, "Safari on iPhone")
	list := func() []Browser {
		t.Helper()
		browsers, _, err := d.Browsers(t.Context(), d.parent, here)
		if err != nil {
			t.Fatal(err)
		}
		return browsers
	}
	browsers := list()
	if len(browsers) != 3 { // one is of the sample
		t.Fatalf("got %+v", browsers)
	}
	for _, b := range browsers {
		if b.This != (b.Kind == "Firefox on Linux") {
			t.Errorf("%+v", b)
		}
	}
	for _, b := range browsers {
		wantCode(t, "another's session", d.EndBrowser(t.Context(), d.teacher, b.ID), studio.NotFound)
		wantCode(t, "nobody's session", d.EndBrowser(t.Context(), studio.Actor{}, b.ID), studio.NotFound)
		if b.Kind != "Safari on iPhone" {
			continue
		}
		if err := d.EndBrowser(t.Context(), d.parent, b.ID); err != nil {
			t.Error(err)
		}
	}
	if _, _, err := d.OpenSession(t.Context(), there); studio.CodeOf(err) != studio.NotFound {
		t.Errorf("an ended session opens: %v", err)
	}
	if ended, err := d.EndOtherBrowsers(t.Context(), d.parent, here); err != nil || ended != 1 {
		t.Errorf("ended %d, %v", ended, err)
	}
	if left := list(); len(left) != 1 || !left[0].This {
		t.Errorf("left %+v", left)
	}
	if _, _, err := d.Browsers(t.Context(), studio.Actor{}, here); studio.CodeOf(err) != studio.NotFound {
		t.Error("nobody reads a list")
	}
}

func TestEndedSessionIsNotWrittenAgain(t *testing.T) {
	t.Parallel()
	d := openDesk(t)
	hash := d.session(t, "here", d.parent.ID, "Firefox on Linux")
	if err := d.EndSession(t.Context(), hash); err != nil {
		t.Fatal(err)
	}
	err := d.KeepSession(t.Context(), hash, KeptSession{Account: &d.parent.ID, Data: []byte("{}")})
	wantCode(t, "a request that was under way", err, studio.SignedOut)
}

func TestNewKindOfBrowserIsTold(t *testing.T) {
	t.Parallel()
	d := openDesk(t)
	sent := d.letters()
	told := func() []Letter { d.Finish(); return *sent }
	d.session(t, "1", d.teacher.ID, "Firefox on Linux")
	if got := told(); len(got) != 0 {
		t.Errorf("the first browser of all is told: %+v", got)
	}
	d.session(t, "2", d.teacher.ID, "Safari on iPhone")
	if got := told(); len(got) != 1 || got[0].To != d.teacher.Email || !strings.Contains(got[0].Text, "Safari on iPhone") {
		t.Errorf("a new kind: %+v", got)
	}
	d.session(t, "3", d.teacher.ID, "Safari on iPhone")
	if got := told(); len(got) != 1 {
		t.Errorf("a known kind is told: %+v", got)
	}
}

func TestChangesOfAnAccountAreTold(t *testing.T) {
	t.Parallel()
	d := openDesk(t)
	const words, next = "nine copper kettles sing", "seven herons over wet sand"
	d.passphrase(t, d.parent, words)
	sent := d.letters()
	wantCode(t, "a wrong passphrase", d.ChangeEmail(t.Context(), d.parent, "not this one at all", "moved@sample.example"), studio.Invalid)
	wantCode(t, "no address", d.ChangeEmail(t.Context(), d.parent, words, "moved"), studio.Invalid)
	wantCode(t, "nobody", d.ChangeEmail(t.Context(), studio.Actor{}, words, "moved@sample.example"), studio.NotFound)
	if d.Finish(); len(*sent) != 0 {
		t.Errorf("nothing happened, and %+v", *sent)
	}
	if err := d.ChangePassphrase(t.Context(), d.parent, words, next); err != nil {
		t.Fatal(err)
	}
	if d.Finish(); len(*sent) != 1 || strings.Contains((*sent)[0].Text, next) {
		t.Errorf("told %+v", *sent)
	}
	if kinds := d.notesOf(t, d.parent); !slices.Equal(kinds, []studio.NoteKind{studio.NotePassphrase, studio.NoteBrowser}) { // one is of the sample
		t.Errorf("the page says %v", kinds)
	}
}

func (d *desk) passphrase(t *testing.T, who studio.Actor, words string) {
	t.Helper()
	hash, err := d.hasher.Hash(t.Context(), words)
	if err == nil {
		err = d.db.InTx(t.Context(), who, func(tx *postgres.Tx) error { return tx.SetPassword(t.Context(), who.ID, hash) })
	}
	if err != nil {
		t.Fatal(err)
	}
}

// notesOf are the kinds of what the page of an account says happened lately, the newest first.
func (d *desk) notesOf(t *testing.T, who studio.Actor) []studio.NoteKind {
	t.Helper()
	list, err := d.OwnNotes(t.Context(), who)
	if err != nil {
		t.Fatal(err)
	}
	var kinds []studio.NoteKind
	for _, n := range list {
		kinds = append(kinds, n.Kind)
	}
	return kinds
}

// A session ends when it was not used for a day, and for good after a fortnight, however much it is used.
func TestSessionsEnd(t *testing.T) {
	t.Parallel()
	d := openDesk(t)
	begin := d.now
	idle, used := d.session(t, "idle", d.parent.ID, "Firefox on Linux"), d.session(t, "used", d.parent.ID, "Firefox on Linux")
	opens := func(hash []byte) bool {
		t.Helper()
		_, who, err := d.OpenSession(t.Context(), hash)
		if err != nil && studio.CodeOf(err) != studio.NotFound {
			t.Fatal(err)
		}
		return err == nil && who.ID == d.parent.ID
	}
	for at := begin; at.Before(begin.Add(sessionAbsolute)); at = at.Add(23 * time.Hour) {
		if d.now = at; !opens(used) {
			t.Fatalf("ended after %v though it was used a day before", at.Sub(begin))
		}
	}
	if d.now = begin.Add(sessionAbsolute - time.Second); !opens(used) {
		t.Error("ended before a fortnight was over")
	}
	if d.now = begin.Add(sessionAbsolute); opens(used) {
		t.Error("goes on after a fortnight")
	}
	if d.now = begin.Add(sessionIdle - time.Second); !opens(idle) {
		t.Error("ended within a day")
	}
	if d.now = begin.Add(2 * sessionIdle); opens(idle) {
		t.Error("goes on after a day without use")
	}
}
