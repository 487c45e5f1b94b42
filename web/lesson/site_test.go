package lesson_test

import (
	"context"
	"log/slog"
	"net/http"
	"net/http/httptest"
	"net/url"
	"strings"
	"testing"
	"time"

	"github.com/PuerkitoBio/goquery"
	"github.com/jackc/pgx/v5"
	"rungbook/internal/app"
	"rungbook/internal/auth"
	"rungbook/internal/postgres"
	"rungbook/internal/testkit"
	"rungbook/web"
)

// People and records of the sample studio.
const (
	owner     = "ac01"
	teacherA  = "ac02"
	teacherB  = "ac03"
	helperA   = "ac04"
	helperB   = "ac05"
	parentA   = "ac06"
	child1    = "00000000-0000-4000-8000-00000000c1a1"
	child2    = "00000000-0000-4000-8000-00000000c1a2"
	helper    = "00000000-0000-4000-8000-000000005f04"
	lessonA   = "00000000-0000-4000-8000-000000001ea0"
	lessonB   = "00000000-0000-4000-8000-000000001eb0"
	noLesson  = "00000000-0000-4000-8000-00000000ffff"
	planPart  = "/lessons/" + lessonA + "/plan"
	lessonPth = "/lessons/" + lessonA
)

// hall is the sample studio behind the whole site.
type hall struct {
	*testing.T
	site http.Handler
	rows *pgx.Conn // bound by no row-level security
}

func open(t *testing.T, now time.Time) hall {
	t.Helper()
	db := testkit.Fill(t)
	rows, err := pgx.Connect(t.Context(), db.Owner)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { rows.Close(context.Background()) })
	pool, err := postgres.Open(t.Context(), db.App, func() time.Time { return now }, time.UTC)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(pool.Close)
	hasher, err := auth.NewHasher(auth.Params{Memory: 8, Time: 1, Threads: 1}, 1)
	if err != nil {
		t.Fatal(err)
	}
	use := app.New(pool, app.StudioPolicy(), hasher, app.Settings{StudioName: "Sample", BaseURL: "http://sample.example", TimeZone: "UTC"})
	return hall{t, web.New(use, web.Options{Log: slog.New(slog.DiscardHandler)}), rows}
}

// page is an answer.
type page struct {
	*goquery.Document
	status int
	to     string // where a redirect leads
}

func (s hall) get(who, path string) page {
	s.Helper()
	path, _, _ = strings.Cut(path, "#") // a browser keeps the fragment to itself
	return s.ask(who, httptest.NewRequest("GET", path, nil))
}

func (s hall) post(who, path string, form url.Values) page {
	s.Helper()
	r := httptest.NewRequest("POST", path, strings.NewReader(form.Encode()))
	r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	return s.ask(who, r)
}

func (s hall) ask(who string, r *http.Request) page {
	s.Helper()
	r.AddCookie(&http.Cookie{Name: "rungbook", Value: "sample-session-" + who})
	w := httptest.NewRecorder()
	s.site.ServeHTTP(w, r)
	doc, err := goquery.NewDocumentFromReader(w.Body)
	if err != nil {
		s.Fatal(err)
	}
	return page{doc, w.Code, w.Header().Get("Location")}
}

// must fails the test unless the page has the status.
func (s hall) must(p page, status int) page {
	s.Helper()
	if p.status != status {
		s.Fatalf("status %d, want %d: %s", p.status, status, p.text("main"))
	}
	return p
}

// text is what the selected parts say, with one space between elements and words.
func (p page) text(selector string) string {
	var words []string
	for _, node := range p.Find(selector).Nodes {
		for n := range node.Descendants() {
			if goquery.NodeName(goquery.NewDocumentFromNode(n).Selection) == "#text" {
				words = append(words, strings.Fields(n.Data)...)
			}
		}
	}
	return strings.Join(words, " ")
}

// says fails the test unless the selected part holds the text.
func (s hall) says(p page, selector, want string) {
	s.Helper()
	if !strings.Contains(p.text(selector), want) {
		s.Errorf("%s does not say %q but %q", selector, want, p.text(selector))
	}
}

func (s hall) version(lesson string) (version int, shared bool) {
	s.Helper()
	if err := s.rows.QueryRow(s.Context(), `select version, shared_at is not null from plan where lesson_id = $1`, lesson).Scan(&version, &shared); err != nil {
		s.Fatal(err)
	}
	return version, shared
}

// changes are the forms that change a plan, with what they need besides the version.
func changes() map[string]url.Values {
	return map[string]url.Values{
		planPart:                nil,
		planPart + "/share":     nil,
		planPart + "/group":     {"child": {child1}, "to": {"2"}},
		planPart + "/pin-child": {"child": {child1}, "pinned": {"yes"}},
		planPart + "/activity":  {"cell": {"1-1"}, "child": {child2}, "activity": {"rung hs-return"}},
		planPart + "/station":   {"cell": {"1-1"}, "station": {"spare"}},
		planPart + "/staff":     {"cell": {"1-1"}, "lead": {helper}},
		planPart + "/pin-cell":  {"cell": {"1-1"}, "pinned": {"yes"}},
	}
}

func with(form url.Values, version string) url.Values {
	out := url.Values{"version": {version}}
	for k, v := range form {
		out[k] = v
	}
	return out
}
