package people_test

import (
	"net/http"
	"strings"
	"testing"

	"github.com/PuerkitoBio/goquery"
)

// The sample has one term that has begun: each question has a sentence, a table and a file, and the charts are said in words.
func TestTermsSideBySide(t *testing.T) {
	b := open(t)
	doc := b.get("/studio/terms-overview")
	for _, id := range []string{"who-stays", "progress", "attendance", "cover", "library", "library-gaps"} {
		part := doc.Find("#" + id)
		if words(part.Find(".notice-line")) == "" || part.Find("table caption").Length() == 0 || part.Find(`form[action="/studio/terms-overview/`+id+`.csv"]`).Length() != 1 {
			t.Errorf("%s lacks its sentence, its table or its file", id)
		}
	}
	doc.Find("main svg[role=img]").Each(func(_ int, s *goquery.Selection) {
		if s.AttrOr("aria-label", "") == "" {
			t.Error("a chart says nothing")
		}
	})
	b.holds("nobody can have stayed yet", doc.Find("#who-stays"), "no later term")
	b.holds("cautions", doc.Find("#cover"), "It does not make a step safe to spot")
	b.holds("the studio's page", b.get("/studio").Find("#rooms"), "Terms side by side")

	one := b.get("/studio/terms-overview?class=Amberclass&family=upside+down")
	if got := one.Find(`#progress form input[name="class"]`).AttrOr("value", ""); got != "Amberclass" {
		t.Errorf("the file would be of %q", got)
	}
	if one.Find("#progress table").Length() != 1 || !strings.Contains(words(one.Find("#progress caption")), "Amberclass") {
		t.Error("one class has more than its own table")
	}
}

func TestTermsAreForOwners(t *testing.T) {
	site := open(t)
	for _, who := range []string{"ac02", "ac04", "ac06"} {
		b := site.as(who)
		b.page(b.post("/studio/terms-overview/all.xlsx"), http.StatusNotFound)
		b.page(b.post("/studio/terms-overview/progress.csv"), http.StatusNotFound)
	}
}
