package sheet_test

import (
	"context"
	"encoding/json"
	"fmt"
	"log/slog"
	"net/http"
	"net/http/httptest"
	"net/url"
	"strings"
	"sync/atomic"
	"testing"
	"time"

	"github.com/PuerkitoBio/goquery"
	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"
	"rungbook/internal/app"
	"rungbook/internal/auth"
	"rungbook/internal/postgres"
	"rungbook/internal/testkit"
	"rungbook/web"
)

// People and records of the sample studio.
const (
	owner    = "ac01"
	teacherA = "ac02"
	teacherB = "ac03"
	helperA  = "ac04"
	helperB  = "ac05"
	parentA  = "ac06"
)

func id(end string) string { return testkit.SampleID(end).String() }

// hall is the sample studio behind the whole site, with a clock to turn.
type hall struct {
	testing.TB
	site http.Handler
	rows *pgx.Conn // bound by no row-level security
	late atomic.Int64
}

// later turns the clock on.
func (h *hall) later(d time.Duration) { h.late.Add(int64(d)) }

func open(t testing.TB) *hall {
	t.Helper()
	h := &hall{TB: t}
	db := testkit.Fill(t)
	var err error
	if h.rows, err = pgx.Connect(t.Context(), db.Owner); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { h.rows.Close(context.Background()) })
	now := func() time.Time { return testkit.SampleNow().Add(time.Duration(h.late.Load())) }
	pool, err := postgres.Open(t.Context(), db.App, now, time.UTC)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(pool.Close)
	hasher, err := auth.NewHasher(auth.Params{Memory: 8, Time: 1, Threads: 1}, 1)
	if err != nil {
		t.Fatal(err)
	}
	use := app.New(pool, app.StudioPolicy(), hasher, app.Settings{StudioName: "Sample", BaseURL: "http://sample.example", TimeZone: "UTC"})
	h.site = web.New(use, web.Options{Log: slog.New(slog.DiscardHandler)})
	return h
}

func (h *hall) do(who string, r *http.Request) *httptest.ResponseRecorder {
	if who != "" {
		r.AddCookie(&http.Cookie{Name: "rungbook", Value: "sample-session-" + who})
	}
	w := httptest.NewRecorder()
	h.site.ServeHTTP(w, r)
	return w
}

// page asks for a page.
func (h *hall) page(who, path string, want int) *goquery.Document {
	h.Helper()
	return h.document(h.do(who, httptest.NewRequest("GET", path, nil)), want)
}

// post sends a form.
func (h *hall) post(who, path string, form url.Values, want int) *goquery.Document {
	h.Helper()
	r := httptest.NewRequest("POST", path, strings.NewReader(form.Encode()))
	r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	return h.document(h.do(who, r), want)
}

func (h *hall) document(w *httptest.ResponseRecorder, want int) *goquery.Document {
	h.Helper()
	doc, err := goquery.NewDocumentFromReader(w.Body)
	if err != nil {
		h.Fatal(err)
	}
	if w.Code != want {
		h.Fatalf("status %d, want %d: %s", w.Code, want, doc.Find("main").Text())
	}
	return doc
}

// count asks the database for a number.
func (h *hall) count(sql string, args ...any) int {
	h.Helper()
	var n int
	if err := h.rows.QueryRow(context.Background(), `select count(*) from `+sql, args...).Scan(&n); err != nil {
		h.Fatal(err)
	}
	return n
}

func (h *hall) exec(sql string, args ...any) {
	h.Helper()
	if _, err := h.rows.Exec(context.Background(), sql, args...); err != nil {
		h.Fatal(err)
	}
}

// item is what a device sends.
type item map[string]any

// mark is a clean turn of a child of class A at its lesson.
func mark(seq int) item {
	return item{"id": newID(), "device": "tablet-1", "seq": seq, "kind": "mark", "lesson": id("1ea0"), "child": id("c1a1"), "rung": "hs-return", "side": "none", "outcome": "clean",
		"faults": []string{}, "client_at": "2026-03-04T16:55:00Z"}
}

// with is a copy with other fields.
func (i item) with(pairs ...any) item {
	out := item{}
	for k, v := range i {
		out[k] = v
	}
	for n := 0; n < len(pairs); n += 2 {
		out[pairs[n].(string)] = pairs[n+1]
	}
	return out
}

func newID() string { return uuid.Must(uuid.NewV7()).String() }

type answers struct {
	Receipt string
	Answers []struct{ ID, Answer, Words, Was string }
}

// said is the answers in a row: "stored duplicate".
func (a answers) said() string {
	var words []string
	for _, x := range a.Answers {
		words = append(words, x.Answer)
	}
	return strings.Join(words, " ")
}

func batch(body string) *http.Request {
	r := httptest.NewRequest("POST", "/sheet/items", strings.NewReader(body))
	r.Header.Set("Content-Type", "application/json")
	return r
}

// send sends a batch, and fails the test unless it was answered item by item.
func (h *hall) send(who string, items ...item) answers {
	h.Helper()
	body, err := json.Marshal(map[string]any{"items": items})
	if err != nil {
		h.Fatal(err)
	}
	w := h.do(who, batch(string(body)))
	var a answers
	if err := json.Unmarshal(w.Body.Bytes(), &a); w.Code != http.StatusOK || err != nil || len(a.Answers) != len(items) {
		h.Fatalf("%d %s", w.Code, w.Body)
	}
	for i, x := range a.Answers {
		if x.ID != fmt.Sprint(items[i]["id"]) {
			h.Errorf("answer %d is for %s, want %s", i, x.ID, items[i]["id"])
		}
	}
	return a
}

// expect sends a batch and compares the answers.
func (h *hall) expect(want, who string, items ...item) answers {
	h.Helper()
	a := h.send(who, items...)
	if a.said() != want {
		h.Errorf("answered %q, want %q: %+v", a.said(), want, a.Answers)
	}
	return a
}
