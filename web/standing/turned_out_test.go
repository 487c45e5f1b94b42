package standing_test

import (
	"net/http"
	"strings"
	"testing"

	"rungbook/internal/testkit"
	"rungbook/web/sitetest"
)

func TestFewForecastsAreTooEarlyToTell(t *testing.T) {
	s := sitetest.Open(t)
	class := "/classes/" + testkit.SampleID("c0a0").String() + "/forecasts"
	for who, path := range map[string]string{owner: "/studio/forecasts/turned-out", teacherA: class} {
		p := s.Must(s.Get(who, path), http.StatusOK)
		s.Says(p, "h1", "How forecasts turned out")
		s.Says(p, ".notice", "Too early to tell")
		if p.Find("#rows, #turned-out").Length() != 0 {
			t.Errorf("%s says how so few turned out", path)
		}
	}
	p := s.Must(s.Get(teacherA, class+"?for=term"), http.StatusOK)
	s.Says(p, ".empty-title", "Nothing to hold against the marks yet")
	s.Says(p, "#unjudged", "Not due yet: 1 forecast, the next on 28 March 2026.")
	if text := s.Must(s.Get(teacherA, class+".csv"), http.StatusOK).Text(); !strings.HasPrefix(text, "child,rung,made_on,due_on,chance,came_true") || strings.Contains(text, "c1a1") {
		t.Errorf("the file is %q", text)
	}
	s.Must(s.Get(assistant, class), http.StatusNotFound)
	s.Must(s.Get(teacherA, "/studio/forecasts/turned-out"), http.StatusNotFound)
}
