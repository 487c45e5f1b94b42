package library_test

import (
	"net/http"
	"testing"

	"github.com/PuerkitoBio/goquery"
	"rungbook/web/sitetest"
)

// The map links every rung, says the needs in words, and the list beside it names the same rungs.
func TestMapIsReachableAndSaysTheSameAsItsList(t *testing.T) {
	s := sitetest.Open(t)
	p := s.Must(s.Get(teacher, "/ladders/handstand"), http.StatusOK)
	links := map[string]bool{}
	p.Find("#map svg a").Each(func(_ int, a *goquery.Selection) { links[a.AttrOr("href", "")] = true })
	if len(links) != 2 || !links["/rungs/hs-return"] || !links["/rungs/hs-hold"] {
		t.Errorf("the map links %v, want both rungs", links)
	}
	if label := p.Find(`#map svg a[href="/rungs/hs-hold"]`).AttrOr("aria-label", ""); label != "Hold; needs Small kick and return" {
		t.Errorf("the box is called %q", label)
	}
	p.Find("#map .disclosure a").Each(func(_ int, a *goquery.Selection) {
		if !links[a.AttrOr("href", "")] {
			t.Errorf("the list has %s and the map has not", a.AttrOr("href", ""))
		}
		delete(links, a.AttrOr("href", ""))
	})
	if len(links) > 0 {
		t.Errorf("the list leaves out %v", links)
	}
	s.Says(p, "#classes .spread-rungs", "Small kick and return 2 working")
	if p.Find("#map [style], #map [onclick]").Length() > 0 {
		t.Error("the map carries style or script of its own")
	}
}

func TestAssistantSeesTheMapAndNoClass(t *testing.T) {
	s := sitetest.Open(t)
	p := s.Must(s.Get(assistant, "/ladders/handstand?map=whole"), http.StatusOK)
	if p.Find("#map svg a").Length() != 2 || p.Find("#classes").Length() != 0 {
		t.Error("an assistant reads the ladder, and nothing of a class")
	}
}
