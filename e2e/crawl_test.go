package e2e

import (
	"fmt"
	"net/url"
	"regexp"
	"strings"
	"testing"
)

const (
	crawlPages = 150 // that a crawl of one role opens at most
	crawlAlike = 2   // pages of one pattern that are judged in the browser
	crawlAsked = 5   // pages of one pattern that are asked for at all
)

var (
	oneOf = regexp.MustCompile(`[0-9a-f]{8}-[0-9a-f-]{27}`)
	aKey  = regexp.MustCompile(`/(ladders|rungs|drills|faults)/[a-z0-9-]+`)
)

// patternOf is the path with what names one record left out.
func patternOf(path string) string {
	path, query, _ := strings.Cut(path, "?")
	path = oneOf.ReplaceAllString(path, "{id}")
	path = aKey.ReplaceAllString(path, "/${1}/{key}")
	if keys, err := url.ParseQuery(query); err == nil && len(keys) > 0 {
		names := map[string]bool{}
		for k := range keys {
			names[k] = true
		}
		path += "?" + strings.Join(sorted(names), "&")
	}
	return path
}

const linksOf = `[...document.querySelectorAll("a[href]")].filter(a => a.origin === location.origin && !a.pathname.startsWith("/static/")).map(a => a.pathname + a.search)`

// crawl follows the links of the site from the first page on. Every page must be there; the first few of each pattern are judged by
// the accessibility rules, at the narrow width.
func crawl(t *testing.T, b *tab) {
	b.size(390)
	met, alike := map[string]bool{"/": true}, map[string]int{}
	opened, files := 0, 0
	for next := []string{"/"}; len(next) > 0 && opened+files < crawlPages; next = next[1:] {
		path := next[0]
		pattern := patternOf(path)
		if alike[pattern]++; alike[pattern] > crawlAsked {
			continue
		}
		if alike[pattern] > crawlAlike {
			b.present(t, path)
			files++
			continue
		}
		if isFile := b.present(t, path); isFile {
			files++
			continue
		}
		b.open(path)
		opened++
		b.rules("crawl " + path)
		b.fits("crawl " + path)
		for _, link := range js[[]string](b, linksOf) {
			if !met[link] {
				met[link] = true
				next = append(next, link)
			}
		}
	}
	b.size(1280)
	t.Logf("%d pages judged, %d more answers, %d patterns: %s", opened, files, len(alike), strings.Join(patterns(alike), " "))
}

func patterns(alike map[string]int) []string {
	names := map[string]bool{}
	for p := range alike {
		names[p] = true
	}
	return sorted(names)
}

// present wants a 200 for a path and reports whether it is a file to save.
func (b *tab) present(t *testing.T, path string) bool {
	t.Helper()
	got := js[[]string](b, fmt.Sprintf(`fetch(%q).then(r => [String(r.status), r.headers.get("content-disposition") || "", r.headers.get("content-type") || ""])`, path))
	if got[0] != "200" {
		t.Errorf("a link leads to %s, which answers %s", path, got[0])
		return true
	}
	return got[1] != "" || !strings.HasPrefix(got[2], "text/html")
}
