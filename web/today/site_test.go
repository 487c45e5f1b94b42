package today_test

import (
	"log/slog"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"
	"time"

	"github.com/PuerkitoBio/goquery"
	"rungbook/internal/app"
	"rungbook/internal/auth"
	"rungbook/internal/postgres"
	"rungbook/internal/testkit"
	"rungbook/web"
)

// site is the sample studio behind the whole site.
type site struct {
	*testing.T
	handler http.Handler
}

func open(t *testing.T) site {
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
	use := app.New(pool, app.StudioPolicy(), hasher, app.Settings{StudioName: "Sample", BaseURL: "http://sample.example", TimeZone: "UTC"})
	return site{t, web.New(use, web.Options{Log: slog.New(slog.DiscardHandler)})}
}

// page is an answer.
type page struct {
	*goquery.Document
	status int
	to     string // where a redirect leads
}

// get asks as the account whose id ends so.
func (s site) get(who, path string) page { return s.ask(who, httptest.NewRequest("GET", path, nil)) }

func (s site) ask(who string, r *http.Request) page {
	s.Helper()
	r.AddCookie(&http.Cookie{Name: "rungbook", Value: "sample-session-" + who})
	w := httptest.NewRecorder()
	s.handler.ServeHTTP(w, r)
	doc, err := goquery.NewDocumentFromReader(w.Body)
	if err != nil {
		s.Fatal(err)
	}
	return page{doc, w.Code, w.Header().Get("Location")}
}

// must fails the test unless the page has the status.
func (s site) must(p page, status int) page {
	s.Helper()
	if p.status != status {
		s.Fatalf("status %d, want %d: %s", p.status, status, p.Find("main").Text())
	}
	return p
}

// says fails the test unless the selected part holds the text.
func (s site) says(p page, selector, want string) {
	s.Helper()
	if got := strings.Join(strings.Fields(p.Find(selector).Text()), " "); !strings.Contains(got, want) {
		s.Errorf("%s says %q, want %q in it", selector, got, want)
	}
}
