package e2e

// termJourney lays the term of the class at hand out by hand: a rung to a later week, kept there, a question, and the change taken back.
func termJourney(b *tab) {
	b.open(b.where() + "/term")
	b.heading("The term")
	b.look("teacher-term")
	const open = `document.querySelector("[popover]:popover-open")`
	rung := js[string](b, `[...document.querySelectorAll("table.pace [data-rung]:not(.pace-taught)")].map(e => e.dataset.rung)[0]`)
	chip := `document.querySelector("table.pace [data-rung='` + rung + `']")`
	week := chip + `.closest("[data-week]").dataset.week`
	was := js[string](b, week)

	js[bool](b, chip+".click(), true")
	b.waitFor("the sheet of the rung", open)
	b.rules("the sheet of a rung of the term")
	b.press("button", "Later: week")
	b.see("The rung is moved.")
	if now := js[string](b, week); now == was {
		b.Errorf("%s is still in week %s", rung, was)
	}
	js[bool](b, chip+".click(), true")
	b.waitFor("the sheet of the rung", open)
	js[bool](b, open+`.querySelector("[name=pinned]").click(), true`)
	b.press("button", "Save")
	b.waitFor("the pin", chip+`?.innerText.includes("pinned")`)

	b.fill("A week has no lesson", "week ")
	b.press("button", "Try without it")
	b.waitFor("the answer", `document.querySelector("#if h3")`)
	b.rules("a question about the term")
	b.fits("a question about the term")
	b.press("button", "Undo the last change")
	b.see("The last change is taken back")
	b.waitFor("the rung without its pin", "!"+chip+`.innerText.includes("pinned")`)

	term := b.where()
	for _, page := range []string{"/rungs", "/forecast"} {
		b.open("/classes/" + classIn(term) + "/term" + page)
		b.rules("the term" + page)
		b.fits("the term" + page)
	}
	b.open("/classes/" + classIn(term))
}

// classIn is the class of a path of the site.
func classIn(path string) string { return oneOf.FindString(path) }
