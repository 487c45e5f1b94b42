package e2e

import (
	"context"
	"encoding/json"
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"
	"github.com/jackc/pgx/v5"
	"rungbook/internal/testkit"
)

// hall is a lesson that is on, with a plan, over a database that the test may ask.
type hall struct {
	*house
	db     *pgx.Conn
	lesson string
	sheet  string // path of the class sheet
}

// openHall opens the house over a database of the test's own, and has the teacher plan and share tonight's lesson.
func openHall(t *testing.T, browser context.Context) *hall {
	t.Helper()
	db := testkit.Database(t)
	h := &hall{house: openHouse(t, "DATABASE_URL="+db.App, "RUNGBOOK_OWNER_URL="+db.Owner)}
	conn, err := pgx.Connect(t.Context(), db.Owner)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { conn.Close(context.WithoutCancel(t.Context())) })
	h.db = conn
	b := newTab(t, browser, h.url, "")
	b.signIn(h.as(t, teacherName))
	b.waitFor("the lesson of tonight", `document.querySelector("a[href^='/lessons/']")`)
	h.lesson = strings.TrimPrefix(js[string](b, `document.querySelector("a[href^='/lessons/']").getAttribute("href")`), "/lessons/")
	h.sheet = "/lessons/" + h.lesson + "/sheet"
	b.open("/lessons/" + h.lesson)
	b.press("button", "Propose")
	b.see("Here is a plan for who is here")
	b.press("button", "Save for the assistants")
	b.see("The plan is saved")
	return h
}

// tablet is somebody's device at the sheet, behind a line of its own.
type tablet struct {
	*tab
	*line
	hall *hall
}

func (h *hall) tablet(t *testing.T, browser context.Context, who string) *tablet {
	t.Helper()
	l := newLine(t, h.house)
	b := newTab(t, browser, l.url, "")
	b.lenient = true
	b.size(820)
	b.signIn(h.as(t, who))
	d := &tablet{b, l, h}
	d.openSheet()
	return d
}

// openSheet opens the sheet and waits until it can do without the network.
func (d *tablet) openSheet() {
	d.Helper()
	d.open(d.hall.sheet)
	d.until("the sheet to be kept", kept+" >= 3")
	js[bool](d.tab, markable)
}

// markable chooses a group and rotation in which somebody can be marked.
const markable = `(() => {
  const cell = [...document.querySelectorAll(".sheet-cell")].sort((a, b) => b.querySelectorAll(".marks").length - a.querySelectorAll(".marks").length)[0];
  for (const what of ["group", "rotation"]) document.querySelector(".choose-link[data-" + what + "='" + cell.dataset[what] + "']").click();
  return true;
})()`

// another opens the sheet in a second tab of the same device.
func (d *tablet) another() *tablet {
	d.Helper()
	ctx, closeIt := chromedp.NewContext(d.ctx)
	d.Cleanup(closeIt)
	b := &tab{T: d.T, base: d.base, lenient: true, ctx: ctx}
	if err := chromedp.Do(ctx); err != nil {
		d.Fatalf("open a second tab: %v", err)
	}
	two := &tablet{b, d.line, d.hall}
	two.open(d.hall.sheet)
	two.until("the sheet to run", kept+" >= 3")
	js[bool](two.tab, markable)
	return two
}

// until waits until an expression, which may await, is true.
func (d *tablet) until(what, expression string) {
	d.Helper()
	for end := time.Now().Add(patience); time.Now().Before(end); time.Sleep(50 * time.Millisecond) {
		if js[bool](d.tab, "(async () => "+expression+")()") {
			return
		}
	}
	d.Fatalf("waited for %s in vain, on %s", what, d.where())
}

// kept counts the copies that the device keeps for when there is no network.
const kept = `(await caches.open("rungbook-tonight").then(c => c.keys())).length`

// rows are the children of the group and rotation that is shown, who can be marked.
const rows = `[...document.querySelectorAll(".sheet-cell:not([hidden]) .sheet-row[data-rung]:not([data-rung=''])")]`

// allRows are the same of every group and rotation, all of which are shown where scripts do not run.
const allRows = `[...document.querySelectorAll(".sheet-row[data-rung]:not([data-rung=''])")]`

// tap taps an outcome for the nth child that is shown, with a real click.
func (d *tablet) tap(n int, outcome string) {
	d.Helper()
	d.tapIn(rows, n, outcome)
}

// tapIn is tap among these rows.
func (d *tablet) tapIn(rows string, n int, outcome string) {
	d.Helper()
	d.waitFor("a child to mark", fmt.Sprintf("%s.length > %d", rows, n)) // a page may still be on its way
	js[bool](d.tab, fmt.Sprintf(`(() => { document.querySelectorAll("[data-found]").forEach(x => x.removeAttribute("data-found"));
		const b = %s[%d].querySelector(".mark-%s"); b.setAttribute("data-found", ""); b.scrollIntoView({ block: "center" }); return true; })()`, rows, n, outcome))
	d.do(chromedp.Click(found))
}

// net waits until the sheet says how it stands with the network.
func (d *tablet) net(words string) {
	d.Helper()
	d.waitFor(fmt.Sprintf("the sheet to say %q", words), fmt.Sprintf("document.querySelector('#net-words').textContent.includes(%q)", words))
}

// item is what the device noted; the journal against which the database is held.
type item struct {
	ID, Device, Lesson, Kind, Child, Staff, Rung, Side, Outcome, Replaces string
	Seq                                                                   int
	Faults                                                                []string
	Present                                                               *bool
}

// readOutbox is an expression for the items that wait on the device, in order.
const readOutbox = `new Promise((done, failed) => {
  const open = indexedDB.open("rungbook");
  open.onerror = () => failed(open.error);
  open.onsuccess = () => {
    const all = open.result.transaction("items").objectStore("items").getAll();
    all.onsuccess = () => { open.result.close(); done(JSON.stringify(all.result.map(e => e.item).sort((a, b) => a.seq - b.seq))); };
  };
})`

func (d *tablet) outbox() []item {
	d.Helper()
	var items []item
	if err := json.Unmarshal([]byte(js[string](d.tab, readOutbox)), &items); err != nil {
		d.Fatal(err)
	}
	return items
}

// waits waits until the device holds n items on its disk.
func (d *tablet) waits(n int) []item {
	d.Helper()
	d.until(fmt.Sprintf("%d items in the outbox", n), fmt.Sprintf("JSON.parse(await %s).length === %d", readOutbox, n))
	return d.outbox()
}

// stands holds that the database has each mark of the journal once and as it was tapped, by this account, and that those taken back do
// not count.
func (d *tablet) stands(journal []item, who string) {
	d.Helper()
	struck := map[string]bool{}
	for _, i := range journal {
		if i.Replaces != "" {
			struck[i.Replaces] = true
		}
	}
	for _, i := range journal {
		if i.Kind != "mark" {
			continue
		}
		var child, rung, side, outcome, lesson, email string
		var faults []string
		var counts bool
		err := d.hall.db.QueryRow(d.Context(), `select m.child_id::text, m.rung_key, m.side, m.outcome, m.lesson_id::text, a.email,
			array(select f.fault_key from mark_fault f where f.mark_id = m.id order by 1), not exists (select from mark x where x.replaces = m.id)
			from mark m join account a on a.id = m.marked_by where m.id = $1`, i.ID).Scan(&child, &rung, &side, &outcome, &lesson, &email, &faults, &counts)
		if err != nil {
			d.Errorf("mark %s of the device is not in the database: %v", i.ID, err)
			continue
		}
		if child != i.Child || rung != i.Rung || side != i.Side || outcome != i.Outcome || lesson != i.Lesson || !slices.Equal(faults, i.Faults) && len(faults)+len(i.Faults) > 0 {
			d.Errorf("the database has %s %s %s %s %v, the device tapped %+v", child, rung, side, outcome, faults, i)
		}
		if !strings.HasPrefix(email, who+"@") {
			d.Errorf("the mark is by %s, want %s", email, who)
		}
		if counts == struck[i.ID] {
			d.Errorf("the mark counts: %v, was taken back: %v", counts, struck[i.ID])
		}
	}
}

// count asks the database for a number.
func (h *hall) count(t *testing.T, sql string, args ...any) int {
	t.Helper()
	var n int
	if err := h.db.QueryRow(t.Context(), sql, args...).Scan(&n); err != nil {
		t.Fatal(err)
	}
	return n
}

// TestSheet meets the class sheet in the hall, with and without network, in a real browser.
func TestSheet(t *testing.T) {
	axe, browser := readAxe(t), openBrowser(t)
	h := openHall(t, browser)
	for _, part := range []struct {
		name string
		run  func(*testing.T, context.Context, *hall)
	}{
		{"marks made without a network are sent after it", sheetOffline},
		{"two tabs send each mark once", sheetTwoTabs},
		{"a tab that is closed loses nothing", sheetClosed},
		{"an answer that is lost doubles nothing", sheetDeaf},
		{"a wet finger counts once", sheetWetFinger},
		{"a device whose clock is years off marks and shows the clock right", sheetWrongClock},
		{"a session that ended keeps the marks and signs in again", sheetSignedOut},
		{"signing out warns and keeps what waits for its owner", sheetSignOut},
		{"a device that cannot store says so and sends all the same", sheetFull},
		{"somebody taken off the class is told what happens to the marks", sheetRightsLost},
		{"a second device sees marks and the clock", sheetLive},
		{"a tap is kept and shown", sheetTap},
		{"without scripts a form sends each tap", sheetNoScripts},
	} {
		t.Run(part.name, func(t *testing.T) { part.run(t, browser, h) })
	}
	t.Run("looks", func(t *testing.T) {
		d := h.tablet(t, browser, teacherName)
		d.axe = axe
		js[bool](d.tab, "(document.querySelector('.sheet-bar').style.position = 'static', true)") // it floats above what can be scrolled up from under it
		d.look("sheet")
		js[bool](d.tab, "(document.querySelectorAll('main details').forEach(x => x.open = true), true)")
		d.size(390)
		d.rules("the sheet with everything open at 390 px")
		d.fits("the sheet with everything open at 390 px")
		d.open("/lessons/" + h.lesson + "/stop")
		d.look("sheet-stop")
	})
	t.Run("letters", func(t *testing.T) { letters(newTab(t, browser, h.url, axe), h) })
}

// always runs a script in every page of the tab before its own.
func (d *tablet) always(script string) {
	d.Helper()
	if _, err := chromedp.Call(d.ctx, page.AddScriptToEvaluateOnNewDocument, page.AddScriptToEvaluateOnNewDocumentParams{Source: script}); err != nil {
		d.Fatal(err)
	}
}
