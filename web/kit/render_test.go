package kit

import (
	"context"
	"strings"
	"testing"

	"github.com/PuerkitoBio/goquery"
	"github.com/a-h/templ"
)

// render draws a component and reads it back as a document.
func render(t *testing.T, c templ.Component) *goquery.Document {
	t.Helper()
	var b strings.Builder
	if err := c.Render(context.Background(), &b); err != nil {
		t.Fatal(err)
	}
	doc, err := goquery.NewDocumentFromReader(strings.NewReader(b.String()))
	if err != nil {
		t.Fatal(err)
	}
	return doc
}

// renderWith draws a component around a child.
func renderWith(t *testing.T, c, child templ.Component) *goquery.Document {
	t.Helper()
	var b strings.Builder
	if err := c.Render(templ.WithChildren(context.Background(), child), &b); err != nil {
		t.Fatal(err)
	}
	doc, err := goquery.NewDocumentFromReader(strings.NewReader(b.String()))
	if err != nil {
		t.Fatal(err)
	}
	return doc
}

// one finds the only element that fits.
func one(t *testing.T, doc *goquery.Document, selector string) *goquery.Selection {
	t.Helper()
	found := doc.Find(selector)
	if found.Length() != 1 {
		t.Fatalf("%d elements fit %q, want 1", found.Length(), selector)
	}
	return found
}

// attr is the value of an attribute that must be there.
func attr(t *testing.T, s *goquery.Selection, name string) string {
	t.Helper()
	value, ok := s.Attr(name)
	if !ok {
		html, _ := goquery.OuterHtml(s)
		t.Fatalf("no %s on %s", name, html)
	}
	return value
}

// words is the text of a selection with its white space in order.
func textOf(s *goquery.Selection) string {
	return strings.Join(strings.Fields(s.Text()), " ")
}
