package e2e

import (
	"fmt"
	"log/slog"
	"net/http"
	"slices"
	"strings"
	"sync"
	"testing"

	"github.com/go-chi/chi/v5"
	"rungbook/internal/app"
	"rungbook/web"
	"rungbook/web/kit"
)

// unjudged are the routes that a GET asks for and that no journey judges, each with its reason.
var unjudged = map[string]string{
	"/classes/{class}/forecasts.csv":    "a file to save",
	"/ladders/export":                   "a file to save",
	"/studio/forecasts/turned-out.csv":  "a file to save",
	"/studio/roster/template.csv":       "a file to save",
	"/home/{child}/reports/{class}.pdf": "a file to save",
	"/calendar/{feed}.ics":              "a file for calendars",
	"/lessons/{lesson}/plan.svg":        "a picture; the board that it draws is judged",
	"/lessons/{lesson}/sheet.json":      "read by scripts only",
	"/address/confirm/{change}":         "only a letter leads there: TestSheet judges it, over a database that it may write",
	"/address/stop/{stop}":              "only a letter leads there: TestSheet judges it, over a database that it may write",
}

// judged notes at which widths and in which schemes the pages of the route table were judged in a browser.
type judged struct {
	pages *chi.Mux // answers nothing: it knows the pattern of a path

	mu      sync.Mutex
	seen    map[string]map[string]bool // by pattern, then by width and scheme
	claimed map[string]bool            // by pattern
}

func newJudged() *judged {
	j := &judged{pages: chi.NewRouter(), seen: map[string]map[string]bool{}, claimed: map[string]bool{}}
	quiet := slog.New(slog.DiscardHandler)
	for _, r := range web.Routes(app.New(nil, app.StudioPolicy(), nil, app.Settings{}), &kit.Kit{Log: quiet}) {
		if r.Method == http.MethodGet {
			j.pages.Get(r.Pattern, http.NotFound)
			j.seen[r.Pattern] = map[string]bool{}
		}
	}
	return j
}

// pattern is the pattern of the route that answers a path, "" where none does.
func (j *judged) pattern(path string) string {
	path, _, _ = strings.Cut(path, "?")
	at := chi.NewRouteContext()
	if !j.pages.Match(at, http.MethodGet, path) {
		return ""
	}
	return at.RoutePattern()
}

func (j *judged) note(path, as string) {
	pattern := j.pattern(path)
	j.mu.Lock()
	defer j.mu.Unlock()
	if pattern != "" {
		j.seen[pattern][as] = true
	}
}

// claim reports whether whoever asks is to judge the page of a pattern in every way: once, and only where no one has.
func (j *judged) claim(pattern string) bool {
	if pattern == "" || unjudged[pattern] != "" || len(j.missing(pattern)) == 0 {
		return false
	}
	j.mu.Lock()
	defer j.mu.Unlock()
	first := !j.claimed[pattern]
	j.claimed[pattern] = true
	return first
}

// missing are the ways in which the page of a pattern was not judged yet.
func (j *judged) missing(pattern string) []string {
	j.mu.Lock()
	defer j.mu.Unlock()
	var ways []string
	for _, theme := range themes {
		for _, width := range widths {
			if as := seenAs(width, theme); !j.seen[pattern][as] {
				ways = append(ways, as)
			}
		}
	}
	return ways
}

func seenAs(width int64, theme string) string { return fmt.Sprintf("%d px, %s", width, theme) }

// hold fails for each page of the route table that was not judged at every width, light and dark, and for each excuse that has become
// idle.
func (j *judged) hold(t *testing.T) {
	var patterns []string
	for p := range j.seen {
		patterns = append(patterns, p)
	}
	slices.Sort(patterns)
	for _, p := range patterns {
		ways, reason := j.missing(p), unjudged[p]
		switch {
		case reason == "" && len(ways) == len(themes)*len(widths):
			t.Errorf("no journey judges %s", p)
		case reason == "" && len(ways) > 0:
			t.Errorf("no journey judges %s at %s", p, strings.Join(ways, "; "))
		case reason != "" && len(ways) == 0:
			t.Errorf("%s is judged, and still excused: %s", p, reason)
		}
	}
	for p := range unjudged {
		if j.seen[p] == nil {
			t.Errorf("%s is excused, and no route", p)
		}
	}
	t.Logf("%d pages of the route table judged, %d excused", len(patterns)-len(unjudged), len(unjudged))
}
