package e2e

import (
	"context"
	"fmt"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"
)

// A session that ends in the middle of a class keeps what is tapped, and signing in again leads back to the sheet and sends it.
func sheetSignedOut(t *testing.T, browser context.Context, h *hall) {
	d := h.tablet(t, browser, teacherName)
	d.endSessions(teacherName)
	d.tap(0, "clean")
	d.net("You are signed out: 1 mark kept on this device")
	journal := d.waits(1)
	d.press("link", "Sign in to send")
	d.heading("Sign in")
	who := h.as(t, teacherName)
	d.fill("E-mail", who.email)
	d.fill("Passphrase", who.passphrase)
	d.press("button", "Sign in")
	d.waitFor("the sheet again", "location.pathname.endsWith('/sheet') && document.querySelector('#net-words')")
	d.net("All sent")
	d.stands(journal, teacherName)
}

// endSessions ends the sessions of an account, as the owner or the passing of time would.
func (d *tablet) endSessions(who string) {
	d.Helper()
	if _, err := d.hall.db.Exec(d.Context(), "delete from session where account_id = (select id from account where email like $1)", who+"@%"); err != nil {
		d.Fatal(err)
	}
}

// Who signs out with marks that wait is warned; the copies of the sheet are gone, the marks stay, and are sent under the name of who
// tapped them and no other's.
func sheetSignOut(t *testing.T, browser context.Context, h *hall) {
	d := h.tablet(t, browser, teacherName)
	d.blocked.Store(true)
	d.tap(0, "missed")
	journal := d.waits(1)
	d.until("the warning to be ready", "!!document.querySelector(\"form[action='/sign-out']\").dataset.confirm")
	js[bool](d.tab, "(window.confirm = text => { sessionStorage.asked = text; return true; }, true)")
	d.signOut()
	if asked := js[string](d.tab, "sessionStorage.asked ?? ''"); !strings.Contains(asked, "1 entry is not sent yet") {
		t.Errorf("the question was %q", asked)
	}
	d.until("the copies to be gone", kept+" === 0")
	d.waits(1)
	d.blocked.Store(false)
	d.signIn(h.as(t, assistantName))
	d.see("waiting to send")
	time.Sleep(2 * time.Second) // what must not happen now
	if n := h.count(t, "select count(*) from mark where id = $1", journal[0].ID); n != 0 {
		t.Fatal("the mark was sent under another's name")
	}
	d.waits(1)
	d.signOut()
	d.signIn(h.as(t, teacherName)) // any page sends
	d.waits(0)
	d.stands(journal, teacherName)
}

// Somebody taken off the class in the middle of it: what was tapped before is kept for a teacher, and they are told.
func sheetRightsLost(t *testing.T, browser context.Context, h *hall) {
	d := h.tablet(t, browser, assistantName)
	d.blocked.Store(true)
	d.tap(0, "clean")
	journal := d.waits(1)
	if _, err := h.db.Exec(t.Context(), `update class_staff set until_on = from_on where staff_id = (select s.id from staff s join account a on a.id = s.account_id where a.email like $1) and class_id in (select c.id from class c join term t on t.id = c.term_id where t.archived_at is null)`,
		assistantName+"@%"); err != nil {
		t.Fatal(err)
	}
	d.blocked.Store(false)
	d.see("not open to you any more")
	d.see("does not count as sent")
	d.waits(0)
	if n := h.count(t, "select count(*) from mark where id = $1", journal[0].ID); n != 0 {
		t.Error("the mark counts")
	}
	if n := h.count(t, "select count(*) from sheet_item where id = $1 and answer = 'quarantined'", journal[0].ID); n != 1 {
		t.Error("the mark is not kept for a teacher")
	}
	d.until("the copies to be gone", kept+" === 0")
	d.press("button", "I have read it")
	d.waitFor("the words to be gone", "!document.querySelector('[data-notice=told]')")
}

// A second device sees marks and the clock by itself. How soon is logged, not held: the aim is two seconds.
func sheetLive(t *testing.T, browser context.Context, h *hall) {
	d, other := h.tablet(t, browser, teacherName), h.tablet(t, browser, teacherName)
	var worst time.Duration
	for range 5 {
		count := "Number(" + rows + "[0].querySelector('.mark-clean').dataset.count ?? 0)"
		n := js[int](other.tab, count)
		d.tap(0, "clean")
		began := time.Now()
		other.waitFor("the mark of the other device", fmt.Sprintf("%s > %d", count, n))
		worst = max(worst, time.Since(began))
	}
	t.Logf("a second device saw the slowest of 5 marks after %v", worst.Round(10*time.Millisecond))
	began := time.Now()
	other.clockIs(d.pressClock())
	t.Logf("and the clock after %v", time.Since(began).Round(10*time.Millisecond))
	d.clockIs(other.pressClock())
	d.cut.Store(true)
	alone := d.pressClock()
	d.see("on this device alone")
	d.cut.Store(false)
	other.clockIs(alone) // handed over once the network is back
	d.waitFor("the clock to be shared again", "!document.querySelector('#clock-words').textContent.includes('alone')")
}

// pressClock starts the clock, or lets it pause, and gives what its button offers then.
func (d *tablet) pressClock() string {
	d.Helper()
	next := map[string]string{"start": "pause", "pause": "start"}[js[string](d.tab, "document.querySelector('#clock-go').value")]
	js[bool](d.tab, "(document.querySelector('#clock-go').click(), true)")
	return next
}

func (d *tablet) clockIs(offers string) {
	d.Helper()
	d.waitFor("the clock to offer "+offers, fmt.Sprintf("document.querySelector('#clock-go').value === %q", offers))
}

// signOut sends the form of the account menu.
func (d *tablet) signOut() {
	d.Helper()
	js[bool](d.tab, `(document.querySelector("form[action='/sign-out']").requestSubmit(), true)`)
	d.heading("Sign in")
}

// Where scripts do not run, every group is on the page and each tap is a form.
func sheetNoScripts(t *testing.T, browser context.Context, h *hall) {
	d := h.tablet(t, browser, teacherName)
	if _, err := chromedp.Call(d.ctx, emulation.SetScriptExecutionDisabled, emulation.SetScriptExecutionDisabledParams{Value: true}); err != nil {
		t.Fatal(err)
	}
	d.open(h.sheet)
	if n := js[int](d.tab, "[...document.querySelectorAll('.sheet-cell')].filter(c => c.getClientRects().length).length"); n < 2 {
		t.Errorf("%d groups are shown", n)
	}
	before := h.count(t, "select count(*) from mark")
	d.tapIn(allRows, 0, "supported") // the group of now may have drills only
	d.waitFor("the page again", "document.querySelector('#flash').innerText.trim() !== ''")
	if n := h.count(t, "select count(*) from mark") - before; n != 1 {
		t.Errorf("one tap made %d marks", n)
	}
	d.press("button", "Undo: supported")
	for end := time.Now().Add(patience); h.count(t, "select count(*) from mark")-before < 2; time.Sleep(50 * time.Millisecond) {
		if time.Now().After(end) {
			t.Fatal("the mark was not taken back")
		}
	}
}
