package lesson_test

import (
	"net/http"
	"net/url"
	"testing"

	"rungbook/web/sitetest"
)

func TestEffortTakesOneTap(t *testing.T) {
	s := sitetest.Open(t)
	p := s.Must(s.Get(teacherA, lessonPth), http.StatusOK)
	s.Says(p, "#effort", "Not noted yet")
	if n := p.Find(`#effort button[name="effort"]`).Length(); n != 11 {
		t.Errorf("%d buttons, want 0 to 10", n)
	}
	s.Must(s.Post(teacherA, lessonPth+"/effort", url.Values{"effort": {"6"}}), http.StatusSeeOther)
	s.Must(s.Post(teacherA, lessonPth+"/effort", url.Values{"child-" + child1: {"9"}, "child-" + child2: {""}}), http.StatusSeeOther)
	p = s.Get(teacherA, lessonPth)
	s.Says(p, "#effort", "Noted: 6 of 10 for the class.")
	if got, _ := p.Find(`select[name="child-` + child1 + `"] option[selected]`).Attr("value"); got != "9" {
		t.Errorf("the child's own figure is %q, want 9", got)
	}
	s.Must(s.Post(teacherA, lessonPth+"/effort", url.Values{"effort": {"11"}}), http.StatusUnprocessableEntity)
	s.Must(s.Post(teacherA, "/lessons/"+lessonB+"/effort", url.Values{"effort": {"6"}}), http.StatusNotFound)
	if s.Get(owner, "/lessons/"+lessonB).Find("#effort").Length() > 0 {
		t.Error("a lesson to come is asked about")
	}
}
