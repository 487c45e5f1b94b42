package e2e

import (
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
