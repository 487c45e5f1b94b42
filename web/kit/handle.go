package kit

import (
	"bytes"
	"errors"
	"net/http"
	"net/url"
	"runtime/debug"
	"strings"

	"github.com/a-h/templ"
	"github.com/go-chi/chi/v5"
	"rungbook/internal/studio"
	"rungbook/internal/words"
)

// Handle guards a route by its action and turns the handler's error into a page. Somebody who is not signed in is sent to sign in
// and back; somebody who may not is told the same as where nothing is.
func (k *Kit) Handle(route Route) http.HandlerFunc {
	return func(w http.ResponseWriter, r *http.Request) {
		actor := Actor(r)
		if route.Spoken || !k.Allowed(actor, route.Action) && onlyFamily(actor) {
			r = k.speak(r)
		}
		fail := k.Fail
		if route.JSON || WantsJSON(r) {
			fail = func(w http.ResponseWriter, r *http.Request, err error) { k.FailJSON(w, r, 0, err, nil) }
		}
		switch {
		case !k.Open(route.Action) && !actor.SignedIn():
			fail(w, r, &studio.Error{Code: studio.SignedOut, Text: Words(r).Say("error.sign-in")})
		case actor.Unguarded && !k.Open(route.Action) && route.Action != studio.GuardAccount:
			k.guardFirst(w, r, route.JSON || WantsJSON(r))
		case !k.Allowed(actor, route.Action):
			fail(w, r, studio.Missing())
		default:
			if err := route.Handler(w, r); err != nil {
				fail(w, r, err)
			}
		}
	}
}

// Fail answers with the page of an error. Text of an error that is not a studio.Error is logged, never shown.
func (k *Kit) Fail(w http.ResponseWriter, r *http.Request, err error) {
	var e *studio.Error
	switch {
	case !errors.As(err, &e):
		e = &studio.Error{Code: studio.Internal, Text: Words(r).Say("error.internal")}
		k.Log.Error("request failed", "method", r.Method, "route", routeOf(r), "error", err)
	case e.Error() == studio.Missing().Error():
		e = &studio.Error{Code: studio.NotFound, Text: Words(r).Say("error.missing")}
	}
	if e.Code == studio.SignedOut && r.Method == http.MethodGet {
		http.Redirect(w, r, "/sign-in?next="+url.QueryEscape(r.URL.RequestURI()), http.StatusSeeOther)
		return
	}
	page := k.Page(w, r, errorTitle(Words(r), e.Code), "")
	if err := k.Render(w, r, statusOf(e.Code), ErrorPage(page, e)); err != nil {
		k.Log.Error("error page failed", "error", err)
		http.Error(w, e.Text, statusOf(e.Code))
	}
}

// routeOf is the pattern of the request's route. A log never holds a path: there are ids in it, and secrets of links.
func routeOf(r *http.Request) string {
	if c := chi.RouteContext(r.Context()); c != nil {
		return c.RoutePattern()
	}
	return ""
}

func statusOf(c studio.Code) int {
	switch c {
	case studio.Invalid:
		return http.StatusUnprocessableEntity
	case studio.NotFound:
		return http.StatusNotFound
	case studio.SignedOut:
		return http.StatusUnauthorized
	case studio.Conflict:
		return http.StatusConflict
	case studio.TooMany:
		return http.StatusTooManyRequests
	}
	return http.StatusInternalServerError
}

func errorTitle(b *words.Book, c studio.Code) string {
	switch c {
	case studio.Invalid:
		return b.Say("error.title.invalid")
	case studio.NotFound:
		return b.Say("error.title.missing")
	case studio.SignedOut:
		return b.Say("error.title.signed-out")
	case studio.Conflict:
		return b.Say("error.title.conflict")
	case studio.TooMany:
		return b.Say("error.title.too-many")
	}
	return b.Say("error.title.internal")
}

// Render writes a component as a whole page, from a buffer, so that a failure half-way never reaches the browser.
func (k *Kit) Render(w http.ResponseWriter, r *http.Request, status int, page templ.Component) error {
	var body bytes.Buffer
	if err := page.Render(r.Context(), &body); err != nil {
		return err
	}
	w.Header().Set("Content-Type", "text/html; charset=utf-8")
	w.WriteHeader(status)
	_, err := body.WriteTo(w)
	return err
}

// Download writes bytes as a file to save.
func Download(w http.ResponseWriter, kind, name string, body []byte) error {
	DownloadHead(w, kind, name)
	_, err := w.Write(body)
	return err
}

// DownloadHead says that what is written next is a file to save.
func DownloadHead(w http.ResponseWriter, kind, name string) {
	w.Header().Set("Content-Type", kind)
	w.Header().Set("Content-Disposition", `attachment; filename="`+asciiName(name)+`"; filename*=UTF-8''`+url.PathEscape(name))
}

func asciiName(name string) string {
	return strings.Map(func(r rune) rune {
		if r < ' ' || r > '~' || strings.ContainsRune(`"\/`, r) {
			return '-'
		}
		return r
	}, name)
}

// Recover turns a panic into the page of an internal error.
func (k *Kit) Recover(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		defer func() {
			if p := recover(); p != nil {
				if p == http.ErrAbortHandler { // the answer has begun and cannot be finished: the server cuts the connection
					panic(p)
				}
				k.Log.Error("panic", "route", routeOf(r), "panic", p, "stack", string(debug.Stack()))
				k.Fail(w, r, errors.New("panic"))
			}
		}()
		next.ServeHTTP(w, r)
	})
}
