package e2e

import (
	"fmt"
	"strings"

	"github.com/chromedp/chromedp"
)

// finder looks for things as people do: by role and by the words on them. It marks what it finds for a real click or key press.
const finder = `((role, words, within, nth) => {
  const kinds = {
    link: "a[href]",
    button: "button, [role=button], input[type=submit], summary",
    field: "input:not([type=hidden]), select, textarea",
  };
  const clean = s => (s || "").replace(/\s+/g, " ").trim().toLowerCase();
  const byIds = ids => (ids || "").split(" ").map(id => document.getElementById(id)?.innerText).join(" ");
  const name = e => clean(e.getAttribute("aria-label") || byIds(e.getAttribute("aria-labelledby")) ||
    [...(e.labels || [])].map(l => l.innerText).join(" ") || e.innerText ||
    e.querySelector("[role=img]")?.getAttribute("aria-label") || e.value || e.title);
  const shown = e => e.getClientRects().length > 0 || e.type === "radio" || e.type === "checkbox" || e.type === "file";
  const place = e => clean(e.closest("li, tr, article, section, fieldset, form, dialog, [popover], td, div[class*=row]")?.innerText);
  const near = e => { for (let p = e.parentElement; p; p = p.parentElement) if (clean(p.innerText).includes(clean(within))) return depth(p); return 0; };
  const depth = e => { let n = 0; for (; e; e = e.parentElement) n++; return n; };
  let all = [...document.querySelectorAll(kinds[role])].filter(shown).filter(e => !e.disabled);
  const exact = all.filter(e => name(e) === clean(words));
  let found = exact.length ? exact : all.filter(e => name(e).startsWith(clean(words)));
  if (!found.length) found = all.filter(e => name(e).includes(clean(words)));
  if (within) { const best = Math.max(...found.map(near)); found = found.filter(e => near(e) === best); }
  const e = found[nth || 0];
  if (!e) return "";
  document.querySelectorAll("[data-found]").forEach(x => x.removeAttribute("data-found"));
  e.setAttribute("data-found", "");
  e.scrollIntoView({ block: "center" });
  return e.tagName.toLowerCase() + " " + (e.type || "");
})`

const found = chromedp.CSS("[data-found]")

func find(role, words, within string) string {
	return fmt.Sprintf("%s(%q, %q, %q)", finder, role, words, within)
}

// press clicks a link or button with these words; near, when given, names words beside it.
func (b *tab) press(role, words string, near ...string) {
	b.Helper()
	within := strings.Join(near, " ")
	b.waitFor(fmt.Sprintf("a %s %q %s", role, words, within), find(role, words, within)+" !== ''")
	b.do(chromedp.Click(found))
}

// fill types into the field with this label, or chooses, or ticks.
func (b *tab) fill(label, text string, near ...string) {
	b.Helper()
	within := strings.Join(near, " ")
	b.waitFor(fmt.Sprintf("a field %q %s", label, within), find("field", label, within)+" !== ''")
	kind := js[string](b, find("field", label, within))
	switch {
	case strings.HasPrefix(kind, "select"):
		js[bool](b, fmt.Sprintf(`(() => { const s = document.querySelector("[data-found]"); const o = [...s.options].find(o => o.text.includes(%q) || o.value === %[1]q);
			if (!o) return false; s.value = o.value; s.dispatchEvent(new Event("input", {bubbles: true})); s.dispatchEvent(new Event("change", {bubbles: true})); return true; })()`, text))
	case strings.HasSuffix(kind, "checkbox"), strings.HasSuffix(kind, "radio"):
		b.do(chromedp.Click(found))
	case strings.HasSuffix(kind, "date"), strings.HasSuffix(kind, "time"):
		b.do(chromedp.SetValue(found, text))
	case strings.HasSuffix(kind, "file"):
		b.do(chromedp.SetUploadFiles(found, []string{text}))
	default:
		b.do(chromedp.Clear(found), chromedp.SendKeys(found, text))
	}
}

// downloads takes the file that a button offers, as the page's form would, and gives its type and its first bytes.
func (b *tab) downloads(button string) (kind, start string) {
	b.Helper()
	b.waitFor("a button "+button, find("button", button, "")+" !== ''")
	got := js[[]string](b, `(f => fetch(f.action, {method: f.method, body: new URLSearchParams(new FormData(f))})
		.then(async r => [String(r.status), r.headers.get("content-type"), (await r.text()).slice(0, 400)]))(document.querySelector("[data-found]").form)`)
	if got[0] != "200" {
		b.Errorf("%q answers %s", button, got[0])
	}
	return got[1], got[2]
}

// drag takes the first thing that a selector finds onto the first that another finds, as the browser reports it to a page, and waits
// until it is there.
func (b *tab) drag(from, onto string) {
	b.Helper()
	child := js[string](b, fmt.Sprintf(`((row, cell) => {
		const dataTransfer = new DataTransfer(), tell = (on, what) => on.dispatchEvent(new DragEvent(what, { bubbles: true, cancelable: true, dataTransfer }));
		row.dispatchEvent(new PointerEvent("pointerover", { bubbles: true }));
		const child = row.draggable ? row.dataset.child : "";
		tell(row, "dragstart");
		tell(cell, "dragover");
		if (!cell.classList.contains("board-drop")) return "";
		tell(cell, "drop");
		tell(row, "dragend");
		return child;
	})(document.querySelector(%q), document.querySelector(%q))`, from, onto))
	if child == "" {
		b.Errorf("%s cannot be dragged onto %s", from, onto)
		return
	}
	b.waitFor("the child to be there", fmt.Sprintf(`document.querySelector(%q + " [data-child='" + %q + "']")`, onto, child))
}
