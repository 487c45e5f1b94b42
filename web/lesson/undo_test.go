package lesson_test

import (
	"net/http"
	"net/url"
	"testing"

	"rungbook/internal/testkit"
)

// A change by hand is said in words and can be taken back, and had again; the plan that somebody else saved meanwhile is not touched.
func TestUndo(t *testing.T) {
	s := open(t, testkit.SampleNow())
	s.exec(`delete from plan_before`)
	if n := s.get(teacherA, lessonPth).Find(`form[action$="/plan/undo"]`).Length(); n != 0 {
		t.Error("a plan that never changed offers to undo")
	}
	s.must(s.post(teacherA, planPart+"/undo", url.Values{"version": {"1"}}), http.StatusNotFound)
	s.must(s.post(teacherA, planPart+"/station", url.Values{"version": {"1"}, "cell": {"1-1"}, "station": {"spare"}}), http.StatusSeeOther)
	p := s.get(teacherA, lessonPth)
	s.says(p, "#plan .disclosure", "Group 1 in rotation 1: Spare in place of Handstand.")
	s.says(p, "#plan .disclosure", "2 of the 2 activities are others than before.")
	s.must(s.post(teacherA, planPart+"/share", url.Values{"version": {"2"}}), http.StatusSeeOther)
	s.must(s.post(teacherA, planPart+"/undo", url.Values{"version": {"2"}}), http.StatusConflict)
	s.must(s.post(teacherA, planPart+"/undo", url.Values{"version": {"3"}}), http.StatusSeeOther)
	p = s.get(teacherA, lessonPth)
	s.says(p, "#plan .board thead", "Handstand")
	s.says(p, "#plan .board td", "Azimuth C. Wall press (drill)")
	s.says(p, "#plan .board td", "Runs it: Hanne Anvil")
	s.says(p, "#plan .plan-state", "A draft")
	s.must(s.post(teacherA, planPart+"/undo", url.Values{"version": {"4"}}), http.StatusSeeOther)
	s.says(s.get(teacherA, lessonPth), "#plan .board thead", "Spare")
}

// Who left the plan is named, and what the library no longer has stays out of what comes back.
func TestUndoOfAMove(t *testing.T) {
	s := open(t, testkit.SampleNow())
	s.must(s.post(teacherA, planPart+"/group", url.Values{"version": {"1"}, "child": {child2}, "to": {"0"}}), http.StatusSeeOther)
	s.says(s.get(teacherA, lessonPth), "#plan .disclosure", "Azimuth C. left the plan.")
	s.exec(`delete from home_assignment where drill_key = 'd-press'`)
	s.exec(`delete from drill where key = 'd-press'`)
	s.must(s.post(teacherA, planPart+"/undo", url.Values{"version": {"2"}}), http.StatusSeeOther)
	s.says(s.get(teacherA, lessonPth), "#plan .disclosure", "Azimuth C. came into group 1.")
}
