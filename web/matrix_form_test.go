package web_test

import (
	"net/http"
	"net/url"
	"strings"
	"testing"

	"github.com/PuerkitoBio/goquery"
	"rungbook/web/kit"
)

// fields is a valid form for a POST about the record of a variant.
func (m *matrix) fields(t *testing.T, r kit.Route, p page, v variant) *sent {
	t.Helper()
	if p.file != nil {
		return p.file(v)
	}
	form := url.Values{}
	if p.from != "" {
		form = m.standing(t, r, p, v)
	}
	if p.form != nil {
		for name, texts := range p.form(v) {
			form[name] = texts
		}
	}
	return formOf(form)
}

// standing is the form as its page holds it for the owner; that of A where there is no such record.
func (m *matrix) standing(t *testing.T, r kit.Route, p page, v variant) url.Values {
	t.Helper()
	if !v.exists() {
		v = ofA
	}
	at, _ := pathOf(p.from, v)
	to, known := pathOf(r.Pattern, v)
	if !known {
		return url.Values{}
	}
	got := m.ask(owner, http.MethodGet, at, nil)
	page, err := goquery.NewDocumentFromReader(strings.NewReader(got.body))
	if err != nil {
		t.Fatal(err)
	}
	form := page.Find("form[method=post]").FilterFunction(func(_ int, s *goquery.Selection) bool { return s.AttrOr("action", "") == to })
	if form.Length() == 0 {
		t.Errorf("%s (%d) holds no form for %s", at, got.status, to)
	}
	return valuesOf(form.First())
}

// valuesOf is what a browser would send.
func valuesOf(form *goquery.Selection) url.Values {
	values := url.Values{}
	form.Find("input[name], textarea[name], select[name]").Each(func(_ int, s *goquery.Selection) {
		name, kind := s.AttrOr("name", ""), s.AttrOr("type", "text")
		_, checked := s.Attr("checked")
		switch {
		case s.Is("select"):
			chosen := s.Find("option[selected]")
			if _, many := s.Attr("multiple"); chosen.Length() == 0 && !many {
				chosen = s.Find("option").First()
			}
			chosen.Each(func(_ int, o *goquery.Selection) { values.Add(name, o.AttrOr("value", o.Text())) })
		case s.Is("textarea"):
			values.Add(name, s.Text())
		case kind == "checkbox" || kind == "radio":
			if checked {
				values.Add(name, s.AttrOr("value", "on"))
			}
		case kind != "file" && kind != "submit":
			values.Add(name, s.AttrOr("value", ""))
		}
	})
	return values
}
