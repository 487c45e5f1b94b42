package e2e

import (
	"fmt"
	"strings"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

// skips holds that the first stop of the Tab key leads past the navigation.
func (b *tab) skips() {
	b.Helper()
	js[bool](b, "scrollTo(0, 0), document.activeElement?.blur(), getSelection().removeAllRanges(), true")
	b.open(b.where())
	b.do(chromedp.KeyEvent(kb.Tab))
	if first := js[string](b, "document.activeElement.innerText"); first != "Skip to the page" {
		b.Errorf("the first stop of the Tab key on %s is %q", b.where(), first)
		return
	}
	b.do(chromedp.KeyEvent(kb.Enter))
	b.waitFor("the main part to have the focus", "document.activeElement.id === 'main'")
}

const place = `(() => { const e = document.activeElement; return e === document.body || !e ? "" :
	e.tagName + "#" + (e.id || "") + "." + [...document.querySelectorAll("a, button, input, select, textarea, summary, [tabindex]")].indexOf(e); })()`

// noTrap goes through the page with the Tab key alone: every stop is met once, each is seen, and the end is reached.
func (b *tab) noTrap() {
	b.Helper()
	b.open(b.where())
	seen := map[string]bool{}
	stops := js[int](b, `[...document.querySelectorAll("a[href], button, input:not([type=hidden]), select, textarea, summary")].filter(e => !e.disabled && e.getClientRects().length && !e.closest("details:not([open]) > :not(summary)")).length`)
	for range stops + 5 {
		b.do(chromedp.KeyEvent(kb.Tab))
		at := js[string](b, place)
		if at == "" || seen[at] {
			break
		}
		seen[at] = true
		if !js[bool](b, `(r => r.width > 0 && r.height > 0)(document.activeElement.getBoundingClientRect())`) {
			b.Errorf("%s: the stop %s cannot be seen", b.where(), at)
		}
	}
	// A group of radio buttons is one stop.
	radios := js[int](b, `(all => all.length - new Set(all.map(r => r.name + (r.form?.action || ""))).size)([...document.querySelectorAll("input[type=radio]")])`)
	if len(seen) < stops-radios-1 {
		b.Errorf("%s: the Tab key meets %d of %d stops", b.where(), len(seen), stops)
	}
	b.Logf("%s: %d stops by keyboard", b.where(), len(seen))
}

const focused = `document.activeElement?.matches("[data-found]")`

// plain is an expression: what has the focus shows it (WCAG 2.2, 2.4.7) and is not hidden behind anything (2.4.11).
const plain = `(e => { const s = getComputedStyle(e), r = e.getBoundingClientRect(), on = document.elementFromPoint(r.x + r.width / 2, r.y + r.height / 2);
	return (s.outlineStyle !== "none" && parseFloat(s.outlineWidth) > 0 || s.boxShadow !== "none") && !!on && (e.contains(on) || on.contains(e)); })(document.activeElement)`

// reach goes by the Tab key alone, on from where the focus is, to a link, button or field.
func (b *tab) reach(role, words string, near ...string) {
	b.Helper()
	within := strings.Join(near, " ")
	b.waitFor(fmt.Sprintf("a %s %q %s", role, words, within), find(role, words, within)+" !== ''")
	b.goTo(words)
}

// reachIn is reach for the element that a selector finds.
func (b *tab) reachIn(selector string) {
	b.Helper()
	js[bool](b, fmt.Sprintf(`(document.querySelectorAll("[data-found]").forEach(x => x.removeAttribute("data-found")), document.querySelector(%q).setAttribute("data-found", ""), true)`, selector))
	b.goTo(selector)
}

// goTo presses the Tab key until what was found has the focus.
func (b *tab) goTo(words string) {
	b.Helper()
	for range 250 {
		if js[bool](b, focused) {
			if !js[bool](b, plain) {
				b.Errorf("%s: the focus on %q cannot be seen", b.where(), words)
			}
			return
		}
		b.key(kb.Tab)
	}
	b.Fatalf("%s: the Tab key does not lead to %q", b.where(), words)
}

// key presses a key, or types a text.
func (b *tab) key(keys string) {
	b.Helper()
	b.do(chromedp.KeyEvent(keys))
}

// holdsFocus wants the focus to be somewhere in the main part after a change in place, so that the next Tab goes on from there.
func (b *tab) holdsFocus() {
	b.Helper()
	b.waitFor("the focus in the main part", "document.activeElement !== document.body && document.activeElement?.closest('main')")
}
