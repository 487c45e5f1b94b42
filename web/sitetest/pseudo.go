package sitetest

import (
	"os"
	"regexp"
	"strings"
	"testing"
	"testing/fstest"
	"unicode"

	"github.com/PuerkitoBio/goquery"
	"rungbook/internal/words"
)

// PseudoTag is a language in which every message stands in brackets, so that text which is no message shows. Common practice, no source.
const PseudoTag = "en-XA"

// Pseudo is English beside the pseudo-language. It reads the messages from a test's folder two below the root.
func Pseudo(t *testing.T) *words.Catalogue {
	t.Helper()
	english, err := os.ReadFile("../../internal/words/en-GB.toml")
	if err != nil {
		t.Fatal(err)
	}
	all, err := words.Read(fstest.MapFS{"en-GB.toml": {Data: english}, PseudoTag + ".toml": {Data: bracketed(string(english))}})
	if err != nil {
		t.Fatal(err)
	}
	return all
}

func bracketed(messages string) []byte {
	lines := strings.Split(messages, "\n")
	text := regexp.MustCompile(`"((?:[^"\\]|\\.)*)"`)
	for i, line := range lines {
		if !strings.HasPrefix(line, "#") {
			lines[i] = text.ReplaceAllString(line, `"[$1]"`)
		}
	}
	return []byte(strings.Join(lines, "\n"))
}

// spoken are the attributes that people see, or hear.
var spoken = []string{"aria-label", "placeholder", "title", "alt", "data-confirm", "data-say", "data-updated", "data-unsent", "data-closed", "data-here", "data-offline",
	"data-failed"}

// Unspoken lists what a page in the pseudo-language says outside brackets: neither a message, nor marked as being in another language,
// nor one of the names that are data.
func Unspoken(doc *goquery.Document, data ...string) []string {
	names := strings.NewReplacer(pairsOf(data)...)
	var found []string
	check := func(where, text string) {
		if rest := names.Replace(outside(text)); strings.IndexFunc(rest, unicode.IsLetter) >= 0 {
			found = append(found, where+": "+strings.Join(strings.Fields(text), " "))
		}
	}
	doc.Find("html, html *").Each(func(_ int, s *goquery.Selection) {
		if s.Is("script, style") || s.Closest("body [lang]").Length() > 0 {
			return
		}
		at := goquery.NodeName(s)
		for _, name := range spoken {
			check(at+" "+name, s.AttrOr(name, ""))
		}
		s.Contents().Each(func(_ int, c *goquery.Selection) {
			if goquery.NodeName(c) == "#text" {
				check(at, c.Text())
			}
		})
	})
	return found
}

func pairsOf(data []string) []string {
	var pairs []string
	for _, name := range data {
		pairs = append(pairs, name, "")
	}
	return pairs
}

// outside is a text without what stands in brackets, however deep. A bracket may be open at an end: a drawing breaks lines.
func outside(text string) string {
	var rest strings.Builder
	depth := 0
	for _, r := range text {
		switch {
		case r == '[':
			depth++
		case r == ']':
			if depth--; depth < 0 {
				rest.Reset()
				depth = 0
			}
		case depth == 0:
			rest.WriteRune(r)
		}
	}
	return rest.String()
}
