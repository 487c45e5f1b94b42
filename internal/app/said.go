package app

import (
	"strings"

	"rungbook/internal/studio"
	"rungbook/internal/words"
)

// said puts what the studio's rules found wrong with a name of at most so many characters, an address or a choice into the language of
// whoever typed it. The rules themselves speak English.
func said(b *words.Book, problems []studio.FieldError, name string, most int) []studio.FieldError {
	for i := range problems {
		switch p := &problems[i]; {
		case p.Field == "email":
			p.Problem = b.Say("address.wrong.form")
		case p.Field == "name" && name == "":
			p.Problem = b.Say("form.empty")
		case p.Field == "name":
			p.Problem = b.Count("form.too-long", most)
		default:
			p.Problem = b.Say("form.choose")
		}
	}
	return problems
}

// BrowserInWords says what kind of browser a session was kept with; one from before the kind was kept has none. It is "Firefox on
// Linux", or "A browser" for a kind that is not known, as kit keeps it.
func BrowserInWords(b *words.Book, kind string) string {
	browser, system, on := strings.Cut(kind, " on ")
	if browser == "" || browser == "A browser" {
		browser = b.Say("browser.some")
	}
	if !on {
		return browser
	}
	return b.Say("browser.on", "Browser", browser, "System", system)
}
