package standing_test

import (
	"net/http"
	"net/url"
	"strings"
	"testing"

	"rungbook/web/sitetest"
)

const (
	mate     = "/children/00000000-0000-4000-8000-00000000c1a2"
	mateMark = mate + "/marks/00000000-0000-4000-8000-00000000a0a2"
)

func TestTimelineSaysInWordsWhatItDraws(t *testing.T) {
	s := sitetest.Open(t)
	p := s.Must(s.Get(teacherA, child+"/marks"), http.StatusOK)
	s.Says(p, ".time-lanes", "1 mark on 1 day: 0 clean, 0 supported, 1 missed. Faults: arms bend 1 time.")
	if p.Find(".time-lane .time-missed").Length() != 1 || p.Find(".time-lane .time-hurts").Length() != 1 {
		t.Error("the missed turn and its fault that can hurt are not drawn once each")
	}
	if label := p.Find(".time-lane[role=img]").AttrOr("aria-label", ""); !strings.Contains(label, "1 missed") {
		t.Errorf("who hears the drawing is told %q", label)
	}
}

func TestSeveralTurnsAreWrittenAtOnce(t *testing.T) {
	s := sitetest.Open(t)
	form := url.Values{"rung": {"hs-return"}, "outcome": {"clean"}, "outcome-2": {"splendid"}, "outcome-4": {"missed"}}
	p := s.Must(s.Post(teacherA, child+"/marks", form), http.StatusUnprocessableEntity)
	if p.Find(`select[name="outcome-4"] option[value="missed"][selected]`).Length() != 1 || p.Find("#write details[open]").Length() != 1 {
		t.Error("the turns that were chosen are lost or out of sight")
	}
	form.Set("outcome-2", "supported")
	s.Must(s.Post(teacherA, child+"/marks", form), http.StatusSeeOther)
	if n := s.Get(teacherA, child+"/marks").Find("#over-time tbody tr").Length(); n != 4 {
		t.Errorf("%d marks, want three more than the first", n)
	}
}

func TestMarkIsTakenBackWhereItIsPutRight(t *testing.T) {
	s := sitetest.Open(t)
	p := s.Must(s.Get(teacherA, mate+"/marks?correct=00000000-0000-4000-8000-00000000a0a2"), http.StatusOK)
	if p.Find(`form[method=post][action="`+mateMark+`/strike"] button`).Length() != 1 {
		t.Fatal("the page that puts a mark right does not offer to take it back")
	}
	s.Must(s.Post(teacherB, mateMark+"/strike", nil), http.StatusNotFound)
	s.Must(s.Post(teacherA, child+"/marks/00000000-0000-4000-8000-00000000a0a2/strike", nil), http.StatusNotFound)
	s.Must(s.Post(teacherA, mateMark+"/strike", nil), http.StatusSeeOther)
	s.Must(s.Post(teacherA, mateMark+"/strike", nil), http.StatusConflict)
	s.Says(s.Get(teacherA, mate+"/marks"), "#over-time", "Nothing is marked yet")
	s.Says(s.Get(teacherA, mate+"/history"), "#history tbody", "Took a mark back: Small kick and return")
}

func TestNotesPageKeepsAndShows(t *testing.T) {
	s := sitetest.Open(t)
	s.Says(s.Must(s.Get(teacherA, child+"/notes"), http.StatusOK), "#notes .plain-list", "aboutleak-a1")
	s.Says(s.Must(s.Post(teacherA, child+"/notes", url.Values{"note": {" "}}), http.StatusUnprocessableEntity), "#notes .error", "Write something")
	s.Must(s.Post(teacherA, child+"/notes", url.Values{"note": {"<b>Slow</b> starts"}}), http.StatusSeeOther)
	s.Says(s.Get(owner, child+"/notes"), "#notes .plain-list li:first-child", "<b>Slow</b> startsTove Arkle")
	for _, who := range []string{teacherB, "ac04", "ac06"} {
		s.Must(s.Get(who, child+"/notes"), http.StatusNotFound)
		s.Must(s.Get(who, child+"/history"), http.StatusNotFound)
	}
}

func TestHistoryNamesWhoReadAReason(t *testing.T) {
	s := sitetest.Open(t)
	s.Must(s.Post(owner, limit+"/reason", nil), http.StatusOK)
	p := s.Must(s.Get(teacherA, child+"/history"), http.StatusOK)
	s.Says(p, "#history tbody tr:first-child", "Orla QuistRead the reason of a care limit")
	if strings.Contains(p.Text(), "trailleak") {
		t.Error("the page tells more of the trail than it should")
	}
}

func TestClassIsMarkedOnOnePage(t *testing.T) {
	s := sitetest.Open(t)
	p := s.Must(s.Get(teacherA, class+"/marks?rung=hs-return"), http.StatusOK)
	if n := p.Find(`main form[method=post] input[name="child"]`).Length(); n != 2 {
		t.Fatalf("%d children to mark, want the two of the class", n)
	}
	s.Says(p, "main form[method=post]", "limitdo-a1")
	one, two := child[len("/children/"):], mate[len("/children/"):]
	form := url.Values{"rung": {"hs-return"}, "child": {one, two}, "none-" + one: {""}, "none-" + two: {""}}
	s.Says(s.Must(s.Post(teacherA, class+"/marks", form), http.StatusUnprocessableEntity), "main form[method=post] .breach", "at least one child")
	form.Set("none-"+two, "clean")
	form.Set("lesson", "00000000-0000-4000-8000-000000001eb0")
	p = s.Must(s.Post(teacherA, class+"/marks", form), http.StatusUnprocessableEntity)
	if p.Find(`input[name="none-`+two+`"][value="clean"][checked]`).Length() != 1 {
		t.Error("what was marked is lost")
	}
	form.Set("lesson", "00000000-0000-4000-8000-000000001ea0")
	form.Set("faults-"+two, "arms-bend")
	p = s.Must(s.Post(teacherA, class+"/marks", form), http.StatusUnprocessableEntity)
	s.Says(p, "details[open] .error", "A clean turn has no fault")
	if p.Find(`details[open] input[name="faults-`+two+`"][value="arms-bend"][checked]`).Length() != 1 || p.Find("details[open]").Length() != 1 {
		t.Error("the fault that was ticked is lost, or shown as another child's")
	}
	form.Set("none-"+two, "supported")
	s.Must(s.Post(teacherA, class+"/marks", form), http.StatusSeeOther)
	s.Says(s.Get(teacherA, mate+"/marks"), "#over-time tbody tr:first-child", "Arms bend")
	if n := s.Get(teacherA, mate+"/marks").Find("#over-time tbody tr").Length(); n != 2 {
		t.Errorf("%d marks, want one more", n)
	}
	s.Must(s.Get(teacherA, class+"/marks?rung=no-rung"), http.StatusNotFound)
	s.Must(s.Get(teacherA, class+"/marks?rung=%00"), http.StatusNotFound)
	s.Must(s.Get(teacherB, class+"/marks?rung=hs-return"), http.StatusNotFound)
}
