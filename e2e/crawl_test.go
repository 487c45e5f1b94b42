package e2e

import (
	"fmt"
	"net/url"
	"regexp"
	"strings"
	"testing"
)

const (
	crawlPages = 400 // that a crawl of one role opens at most
	crawlAlike = 1   // pages of one pattern that are judged in the browser
	crawlAsked = 5   // pages of one pattern that are asked for at all
)

var oneOf = regexp.MustCompile(`[0-9a-f]{8}-[0-9a-f-]{27}`)

// kindOf is the pattern of a path with the names in its query: pages of one kind are alike.
func (j *judged) kindOf(path string) string {
	_, query, _ := strings.Cut(path, "?")
	kind := j.pattern(path)
	if keys, err := url.ParseQuery(query); err == nil && len(keys) > 0 {
		names := map[string]bool{}
		for k := range keys {
			names[k] = true
		}
		kind += "?" + strings.Join(sorted(names), "&")
	}
	return kind
}

const linksOf = `[...document.querySelectorAll("a[href]")].filter(a => a.origin === location.origin && !a.pathname.startsWith("/static/")).map(a => a.pathname + a.search)`

// crawl follows the links of the site from the first page on. Every page must be there; the first few of each pattern are judged by
// the accessibility rules at the narrow width, and one that no journey has judged yet in every way.
func crawl(t *testing.T, b *tab) {
	met, alike := map[string]bool{"/": true}, map[string]int{}
	opened, files := 0, 0
	for next := []string{"/"}; len(next) > 0 && opened+files < crawlPages; next = next[1:] {
		path := next[0]
		kind := b.judged.kindOf(path)
		if alike[kind]++; alike[kind] > crawlAsked {
			continue
		}
		route := b.judged.pattern(path)
		if unjudged[route] != "" || alike[kind] > crawlAlike {
			b.present(t, path)
			files++
			continue
		}
		b.size(390)
		b.open(path)
		opened++
		if b.judged.claim(route) {
			b.look("page" + nameOfPage(route))
		} else {
			b.rules("crawl " + path)
			b.fits("crawl " + path)
		}
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

// nameOfPage is a pattern as part of the name of a file.
func nameOfPage(pattern string) string {
	return strings.NewReplacer("/", "-", "{", "", "}", "").Replace(pattern)
}

func patterns(alike map[string]int) []string {
	names := map[string]bool{}
	for p := range alike {
		names[p] = true
	}
	return sorted(names)
}

// present wants a 200 for a path.
func (b *tab) present(t *testing.T, path string) {
	t.Helper()
	if status := js[int](b, fmt.Sprintf(`fetch(%q).then(r => r.status)`, path)); status != 200 {
		t.Errorf("a link leads to %s, which answers %d", path, status)
	}
}
