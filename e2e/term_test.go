package e2e

import "github.com/chromedp/chromedp/kb"

// termJourney lays the term of the class at hand out by keyboard alone: a rung to a later week, kept there; then a question, and the
// change taken back.
func termJourney(b *tab) {
	b.open(b.where() + "/term")
	b.heading("The term")
	b.look("teacher-term")
	const open = `document.querySelector("[popover]:popover-open")`
	rung := js[string](b, `[...document.querySelectorAll("table.pace [data-rung]:not(.pace-taught)")].map(e => e.dataset.rung)[0]`)
	chip := `document.querySelector("table.pace [data-rung='` + rung + `']")`
	week := chip + `.closest("[data-week]").dataset.week`
	was := js[string](b, week)

	name := js[string](b, chip+".innerText")

	b.reach("button", name)
	b.key(kb.Enter)
	b.waitFor("the sheet of the rung", open)
	b.rules("the sheet of a rung of the term")
	b.key(kb.Escape)
	b.waitFor("the sheet to close", "!"+open)
	b.key(kb.Enter)
	b.waitFor("the sheet of the rung", open)
	b.reach("button", "Later: week")
	b.key(kb.Enter)
	b.see("The rung is moved.")
	b.holdsFocus()
	if now := js[string](b, week); now == was {
		b.Errorf("%s is still in week %s", rung, was)
	}
	b.reach("button", name)
	b.key(kb.Enter)
	b.waitFor("the sheet of the rung", open)
	b.reachIn("[popover]:popover-open [name=pinned]")
	b.key(" ")
	b.reach("button", "Save")
	b.key(kb.Enter)
	b.waitFor("the pin", chip+`?.innerText.includes("pinned")`)

	b.fill("A week has no lesson", "week ")
	b.press("button", "Try without it")
	b.waitFor("the answer", `document.querySelector("#if h3")`)
	b.rules("a question about the term")
	b.fits("a question about the term")
	b.press("button", "Undo the last change")
	b.see("The last change is taken back")
	b.waitFor("the rung without its pin", "!"+chip+`.innerText.includes("pinned")`)

	b.open("/classes/" + classIn(b.where()))
}

// classIn is the class of a path of the site.
func classIn(path string) string { return oneOf.FindString(path) }
