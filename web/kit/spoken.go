package kit

import (
	"net/http"
	"slices"

	"github.com/a-h/templ"
	"rungbook/internal/studio"
	"rungbook/internal/words"
)

// speak gives a request the Book of whoever reads the answer: the language chosen in the account, else the browser's.
func (k *Kit) speak(r *http.Request) *http.Request {
	if k.Words == nil {
		return r
	}
	book := k.Words.Match(Actor(r).Language, r.Header.Get("Accept-Language"))
	return r.WithContext(words.With(r.Context(), book))
}

// Words is the Book of a request.
func Words(r *http.Request) *words.Book { return words.Of(r.Context()) }

// In marks what the studio wrote itself, in its own language, where the page is in another (WCAG 2.2, 3.1.2 Language of Parts):
// <p { kit.In(b, language)... }>.
func In(page *words.Book, language string) templ.Attributes {
	if language == "" || language == page.Lang() {
		return nil
	}
	return templ.Attributes{"lang": language}
}

// onlyFamily reports whether an actor has nothing to do with pages that are in English alone.
func onlyFamily(actor studio.Actor) bool {
	return !slices.ContainsFunc(studio.StaffRoles(), actor.Is)
}

// TooMany answers whoever tries too often.
func (k *Kit) TooMany(w http.ResponseWriter, r *http.Request) {
	r = k.speak(r)
	k.Fail(w, r, &studio.Error{Code: studio.TooMany, Text: Words(r).Say("error.too-many")})
}

// NotFound answers where no page is.
func (k *Kit) NotFound(w http.ResponseWriter, r *http.Request) {
	if onlyFamily(Actor(r)) {
		r = k.speak(r)
	}
	k.Fail(w, r, studio.Missing())
}
