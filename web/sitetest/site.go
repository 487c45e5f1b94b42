// Package sitetest asks the whole site, over the sample studio, as its people do. Only tests import it.
package sitetest

import (
	"log/slog"
	"net/http"
	"net/http/httptest"
	"net/url"
	"strings"
	"testing"
	"time"

	"github.com/PuerkitoBio/goquery"
	"rungbook/internal/app"
	"rungbook/internal/auth"
	"rungbook/internal/postgres"
	"rungbook/internal/testkit"
	"rungbook/internal/words"
	"rungbook/web"
)

// Site is the sample studio behind the whole site.
type Site struct {
	*testing.T
	// Language is what the browser accepts; "" says nothing.
	Language string
	// Use are the use cases behind the pages.
	Use     *app.App
	handler http.Handler
}

// Open fills a database of the test's own with the sample studio and puts the site over it, at the sample's moment.
func Open(t *testing.T) Site {
	t.Helper()
	languages, err := words.Embedded()
	if err != nil {
		t.Fatal(err)
	}
	return OpenIn(t, languages)
}

// OpenIn is Open with the languages of a catalogue, and with changes to the settings.
func OpenIn(t *testing.T, languages *words.Catalogue, changes ...func(*app.Settings)) Site {
	t.Helper()
	pool, err := postgres.Open(t.Context(), testkit.Fill(t).App, testkit.SampleNow, time.UTC)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(pool.Close)
	hasher, err := auth.NewHasher(auth.Params{Memory: 8, Time: 1, Threads: 1}, 1)
	if err != nil {
		t.Fatal(err)
	}
	seal, err := auth.NewSealer(strings.Repeat("A", 43) + "=")
	if err != nil {
		t.Fatal(err)
	}
	settings := app.Settings{StudioName: "Sample", BaseURL: "http://sample.example", TimeZone: "UTC", Sealer: seal}
	for _, change := range changes {
		change(&settings)
	}
	use := app.New(pool, app.StudioPolicy(), hasher, settings)
	return Site{T: t, Use: use, handler: web.New(use, web.Options{Log: slog.New(slog.DiscardHandler), Words: languages})}
}

// Page is an answer. To is where a redirect leads.
type Page struct {
	*goquery.Document
	Status int
	To     string
}

// Get asks as the account of which who is the sample session's name.
func (s Site) Get(who, path string) Page { return s.ask(who, httptest.NewRequest("GET", path, nil)) }

// Post sends a form.
func (s Site) Post(who, path string, form url.Values) Page {
	r := httptest.NewRequest("POST", path, strings.NewReader(form.Encode()))
	r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	return s.ask(who, r)
}

func (s Site) ask(who string, r *http.Request) Page {
	s.Helper()
	r.Header.Set("Accept-Language", s.Language)
	r.AddCookie(&http.Cookie{Name: "rungbook", Value: "sample-session-" + who})
	w := httptest.NewRecorder()
	s.handler.ServeHTTP(w, r)
	doc, err := goquery.NewDocumentFromReader(w.Body)
	if err != nil {
		s.Fatal(err)
	}
	return Page{doc, w.Code, w.Header().Get("Location")}
}

// Must fails the test unless the page has the status.
func (s Site) Must(p Page, status int) Page {
	s.Helper()
	if p.Status != status {
		s.Fatalf("status %d, want %d: %s", p.Status, status, p.Find("main").Text())
	}
	return p
}

// Says fails the test unless the selected part holds the text.
func (s Site) Says(p Page, selector, want string) {
	s.Helper()
	if got := strings.Join(strings.Fields(p.Find(selector).Text()), " "); !strings.Contains(got, want) {
		s.Errorf("%s says %q, want %q in it", selector, got, want)
	}
}
