package e2e

import (
	"strings"

	"github.com/chromedp/chromedp/kb"
)

// familyKeys is an evening of a parent who uses no mouse: a drill is done, and then the child says that it hurt.
func familyKeys(b *tab) {
	b.open("/home")
	b.reach("link", "Open Jago")
	b.key(kb.Enter)
	b.heading("Jago")
	own := b.where()
	b.reach("button", "Done today")
	b.key(kb.Enter)
	b.see("done today")
	b.holdsFocus()
	b.reach("button", "Take out")
	b.key(kb.Enter)
	b.see("Taken out of the log")
	b.holdsFocus()

	b.reach("link", "It hurt")
	b.key(kb.Enter)
	b.waitFor("the form", "document.querySelector('form [name=place]')")
	b.reach("field", "Numb")
	b.key(" ")
	b.reach("field", "Where")
	b.key(kb.ArrowDown)
	b.reach("field", "How much")
	b.key("4")
	b.reach("button", "Send")
	b.key(kb.Enter)
	b.waitFor("what to do at once", "location.pathname.endsWith('/help')")
	b.look("parent-help")
	b.reach("link", "Back to")
	b.key(kb.Enter)
	b.waitFor("the page of the child", "location.pathname === "+quote(own))
}

// familyGerman has a parent choose German and read every page on the narrowest telephone (320 px, WCAG 2.2, 1.4.10 Reflow).
func familyGerman(b *tab, own string) {
	b.speak("de")
	b.size(320)
	guardians := js[string](b, `document.querySelector("main a[href^='/account/children/']")?.getAttribute("href") ?? ""`)
	for _, page := range []string{"/home", own, own + "/hurt", own + "/help", own + "/consents", own + "/data", own + "/messages", "/home/calendar", "/account", guardians} {
		b.open(page)
		if lang := js[string](b, "document.documentElement.lang"); lang != "de" && !strings.HasPrefix(page, "/account") { // the page of an account is shared with staff
			b.Errorf("%s is in %s", page, lang)
		}
		b.narrow("german" + nameOfPage(b.judged.pattern(page)))
	}
	b.size(1280)
	b.speak("en-GB")
}

// speak chooses a language on the page of one's account.
func (b *tab) speak(tag string) {
	b.Helper()
	b.open("/account")
	js[bool](b, `(s => { s.value = `+quote(tag)+`; s.form.requestSubmit(); return true; })(document.querySelector("select[name=language]"))`)
	b.waitFor("the choice", `document.querySelector("#flash")?.innerText.trim() && document.querySelector("select[name=language]").value === `+quote(tag))
}

// narrow has the page judged as it is now, and keeps a picture where RUNGBOOK_SCREENSHOTS is set.
func (b *tab) narrow(name string) {
	b.Helper()
	b.rules(name)
	b.fits(name)
	if pictures() {
		b.shot(name)
	}
}
