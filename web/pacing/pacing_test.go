package pacing_test

import (
	"net/http"
	"net/url"
	"strings"
	"testing"

	"rungbook/internal/testkit"
	"rungbook/web/sitetest"
)

// The sessions of the sample studio, and the term of class A: hs-return was taught in week 2, hs-hold stands in week 11 of 13. It is
// Wednesday of week 9, the lesson is on; week 7 is a holiday, the showcase is on the Saturday of week 12.
const (
	teacherA = "ac02"
	teacherB = "ac03"
)

var term = "/classes/" + testkit.SampleID("c0a0").String() + "/term"

func form(version string, pairs ...string) url.Values {
	v := url.Values{"version": {version}}
	for i := 0; i < len(pairs); i += 2 {
		v.Add(pairs[i], pairs[i+1])
	}
	return v
}

func TestTermPage(t *testing.T) {
	s := sitetest.Open(t)
	p := s.Must(s.Get(teacherA, term), http.StatusOK)
	if n := p.Find(".pace thead th").Length(); n != 14 {
		t.Errorf("%d columns, want 13 weeks and their name", n)
	}
	s.Says(p, ".pace thead th:nth-child(8)", "no lesson: Half-way week")
	s.Says(p, ".pace thead th:nth-child(13)", "showcase")
	s.Says(p, ".pace td[data-week='2'] .pace-taught", "Small kick and return")
	s.Says(p, ".pace td[data-week='11'] .pace-rung", "in focus: Hold")
	s.Says(p, ".pace-words", "The heaviest week to come carries")
	s.Says(p, "#rung-hs-hold", "Comes after Small kick and return.")
	s.Says(p, ".pace-list li:nth-child(11)", "Hold")
	if n := p.Find("[style], .pace script").Length(); n != 0 {
		t.Errorf("%d inline styles or scripts", n)
	}
	for _, part := range []string{"/print", "/forecast", "/rungs"} {
		s.Must(s.Get(teacherA, term+part), http.StatusOK)
		s.Must(s.Get(teacherB, term+part), http.StatusNotFound)
	}
	s.Must(s.Get("ac04", term), http.StatusNotFound)                          // an assistant sees no term
	s.Must(s.Get("ac06", term), http.StatusNotFound)                          // nor does a parent
	s.Must(s.Post(teacherB, term+"/propose", form("1")), http.StatusNotFound) // nor does another teacher change it
	s.Must(s.Post(teacherA, term+"/move", form("1", "rung", "no-such", "week", "11")), http.StatusNotFound)
	s.Must(s.Post(teacherA, term+"/move", form("1", "rung", "hs-hold", "week", "14")), http.StatusNotFound)
}

// A move that breaks rules is kept, and each rule is named in its week; a stale one is refused; undo takes it back, and brings it again.
func TestMoveUndoAndStale(t *testing.T) {
	s := sitetest.Open(t)
	s.Must(s.Post(teacherA, term+"/move", form("1", "rung", "hs-hold", "week", "12")), http.StatusSeeOther)
	p := s.Get(teacherA, term)
	s.Says(p, ".pace td[data-week='12'] .pace-broken", "Hold")
	s.Says(p, ".pace tfoot tr:last-child td:nth-child(13) .breach", "Hold is in week 12, which has nothing new.")
	p = s.Must(s.Post(teacherA, term+"/move", form("1", "rung", "hs-hold", "week", "10")), http.StatusConflict)
	s.Says(p, "[role=alert]", "Somebody else changed this term meanwhile.")
	s.Must(s.Post(teacherA, term+"/undo", form("1")), http.StatusConflict)
	s.Must(s.Post(teacherA, term+"/undo", form("2")), http.StatusSeeOther)
	s.Says(s.Get(teacherA, term), ".pace td[data-week='11'] .pace-rung", "Hold")
	s.Must(s.Post(teacherA, term+"/undo", form("3")), http.StatusSeeOther)
	s.Says(s.Get(teacherA, term), ".pace td[data-week='12'] .pace-rung", "Hold")
}

// A pin holds when the term is laid out again; one that cannot be kept is named, and nothing changes.
func TestPins(t *testing.T) {
	s := sitetest.Open(t)
	s.Must(s.Post(teacherA, term+"/rung", form("1", "rung", "hs-hold", "week", "10", "earliest", "", "latest", "11", "pinned", "yes", "focus", "yes")), http.StatusSeeOther)
	s.Must(s.Post(teacherA, term+"/propose", form("2")), http.StatusSeeOther)
	s.Says(s.Get(teacherA, term), ".pace td[data-week='10'] .pace-rung", "pinned: ★ in focus: Hold")
	s.Must(s.Post(teacherA, term+"/rung", form("3", "rung", "hs-hold", "week", "12", "pinned", "yes", "focus", "yes")), http.StatusSeeOther)
	s.Says(s.Get(teacherA, term), ".notice", "No plan of these rungs keeps every rule.")
	p := s.Must(s.Post(teacherA, term+"/propose", form("4")), http.StatusUnprocessableEntity)
	s.Says(p, "[role=alert]", "No plan keeps every rule.")
	s.Says(p, ".pace td[data-week='12'] .pace-rung", "Hold")
	s.Must(s.Post(teacherA, term+"/rung", form("4", "rung", "hs-hold", "week", "11", "earliest", "11", "latest", "10")), http.StatusUnprocessableEntity)
}

func TestChooseRungs(t *testing.T) {
	s := sitetest.Open(t)
	p := s.Get(teacherA, term+"/rungs")
	if n := p.Find("input[name=rung][checked]").Length(); n != 2 {
		t.Errorf("%d rungs are ticked, want 2", n)
	}
	p = s.Must(s.Post(teacherA, term+"/rungs", form("1", "rung", "sp-shape", "most_new", "many", "lag", "1")), http.StatusUnprocessableEntity)
	if got, _ := p.Find("input[name=most_new]").Attr("value"); got != "many" || p.Find("input[value=sp-shape][checked]").Length() != 1 {
		t.Errorf("what was typed is gone: %q", got)
	}
	s.Must(s.Post(teacherA, term+"/rungs", form("1", "rung", "hs-hold", "rung", "sp-shape", "most_new", "1", "lag", "2")), http.StatusSeeOther)
	p = s.Get(teacherA, term)
	s.Says(p, ".pace-loose", "Dish")
	s.Says(p, ".pace td[data-week='11']", "Hold")
	if strings.Contains(p.Find(".pace").Text(), "Small kick") {
		t.Error("a rung that was taken out is still there")
	}
	s.Must(s.Post(teacherA, term+"/propose", form("2")), http.StatusSeeOther)
	if n := s.Get(teacherA, term).Find(".pace-loose").Length(); n != 0 {
		t.Error("after a proposal a rung has no week")
	}
	s.Must(s.Post(teacherA, term+"/rungs", form("3", "most_new", "2", "lag", "1")), http.StatusSeeOther)
	s.Must(s.Post(teacherA, term+"/propose", form("4")), http.StatusSeeOther) // an empty term is chosen by the rule
	s.Says(s.Get(teacherA, term), ".pace tbody", "Hold")
}

// Trying something out says what would change, and changes nothing.
func TestWhatIf(t *testing.T) {
	s := sitetest.Open(t)
	p := s.Get(teacherA, term+"?lose=11")
	s.Says(p, "#if h3", "If week 11 has no lesson")
	s.Says(p, "#if li", "Hold moves from week 11 to week 9.")
	s.Says(p, "#if table", "no lesson")
	s.Says(s.Get(teacherA, term+"?showcase=11"), "#if li", "Hold moves from week 11 to week")
	s.Says(s.Get(teacherA, term+"?child=more"), "#if li", "with 3 in the class in place of 2")
	for _, nonsense := range []string{"?lose=99", "?lose=-1", "?lose=7", "?lose=x", "?showcase=1"} {
		if n := s.Get(teacherA, term+nonsense).Find("#if h3").Length(); n != 0 {
			t.Errorf("%s is answered", nonsense)
		}
	}
	s.Says(s.Get(teacherA, term), ".pace td[data-week='11'] .pace-rung", "Hold")
}

func TestForecastPage(t *testing.T) {
	s := sitetest.Open(t)
	p := s.Get(teacherA, term+"/forecast")
	s.Says(p, ".intro", "lessons until the showcase on 28 March, 2 children")
	s.Says(p, "table", "Hold")
	s.Says(p, ".pace-band", "of 2")
	s.Says(p, ".cautions", "It clears no child for anything")
}

// The lesson of a week says what the term has in it, and a proposal leans on it.
func TestLessonSaysWhatTheTermHas(t *testing.T) {
	s := sitetest.Open(t)
	lesson := "/lessons/" + testkit.SampleID("1ea0").String()
	if n := s.Get(teacherA, lesson).Find(".plan-term").Length(); n != 0 {
		t.Error("a week without rungs has something of the term")
	}
	s.Must(s.Post(teacherA, term+"/move", form("1", "rung", "hs-hold", "week", "9")), http.StatusSeeOther)
	s.Says(s.Get(teacherA, lesson), ".plan-term", "new: Hold.")
	s.Must(s.Post(teacherA, term+"/move", form("2", "rung", "hs-hold", "week", "8")), http.StatusSeeOther)
	s.Says(s.Get(teacherA, lesson), ".plan-term", "seen again: Hold.")
}
