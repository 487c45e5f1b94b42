package standing_test

import (
	"net/http"
	"net/url"
	"strings"
	"testing"

	"rungbook/web/sitetest"
)

const assistant = "ac04"

func TestForecastsSayWhatTheyGoBy(t *testing.T) {
	s := sitetest.Open(t)
	p := s.Must(s.Get(teacherA, "/studio/forecasts"), http.StatusOK)
	s.Says(p, "h1", "How rungs are learned")
	s.Says(p, "#unlocks table", "Small kick and return")
	s.Says(p, "#fits table", "too few to say: it takes 10 children and 150 marks")
	if p.Find("#fits form").Length() != 0 {
		t.Error("a teacher is offered to have it worked out")
	}
	p = s.Must(s.Get(owner, "/studio/forecasts"), http.StatusOK)
	if p.Find(`#fits form[action="/studio/forecasts"]`).Length() != 1 {
		t.Error("the owner has no way to have it worked out")
	}
	s.Must(s.Post(owner, "/studio/forecasts", url.Values{}), http.StatusSeeOther)
	s.Must(s.Post(teacherA, "/studio/forecasts", url.Values{}), http.StatusNotFound)
	s.Must(s.Get(assistant, "/studio/forecasts"), http.StatusNotFound)
}

func TestAgreementTeachesHowToBegin(t *testing.T) {
	s := sitetest.Open(t)
	p := s.Must(s.Get(teacherA, "/studio/agreement"), http.StatusOK)
	s.Says(p, ".empty-title", "No turn was marked by two people yet")
	if text := p.Text(); !strings.Contains(text, "whose bounds are arbitrary") || !strings.Contains(text, "0.60") {
		t.Error("the page does not say that its bands are arbitrary, or what the floor is")
	}
	s.Must(s.Get(assistant, "/studio/agreement"), http.StatusNotFound)
}
