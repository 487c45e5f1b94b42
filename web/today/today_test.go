package today_test

import (
	"net/http"
	"testing"

	"rungbook/web/sitetest"
)

func TestTodayByRole(t *testing.T) {
	s := sitetest.Open(t)
	owner := s.Must(s.Get("ac01", "/"), http.StatusOK)
	if n := owner.Find("#lessons article").Length(); n != 2 {
		t.Errorf("the owner sees %d lessons, want both", n)
	}
	teacher := s.Must(s.Get("ac02", "/"), http.StatusOK)
	s.Says(teacher, "#lessons article", "Amberclass")
	s.Says(teacher, "#lessons article", "planned and shared")
	s.Says(teacher, "#lessons article", "2 adults are needed")
	if n := teacher.Find("#lessons article").Length(); n != 1 {
		t.Errorf("a teacher sees %d lessons, want the own one", n)
	}
	helper := s.Must(s.Get("ac04", "/"), http.StatusOK)
	if helper.Find(`#helping a[href="/tonight/00000000-0000-4000-8000-000000001ea0"]`).Length() != 1 {
		t.Error("an assistant is not led to the stations")
	}
	if helper.Find("#lessons, #attention, #recheck").Length() != 0 {
		t.Error("an assistant sees a teacher's part")
	}
	later := s.Must(s.Get("ac05", "/"), http.StatusOK)
	s.Says(later, "#helping", "Berylclass: Wednesday 4 March, 20:00")
	if p := s.Must(s.Get("ac06", "/"), http.StatusSeeOther); p.To != "/home" {
		t.Errorf("a parent is led to %s", p.To)
	}
}
