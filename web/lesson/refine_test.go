package lesson_test

import (
	"net/http"
	"net/url"
	"testing"

	"rungbook/internal/testkit"
)

// A draft that was just proposed and is not proven best has its page look on for a better one; a shared plan, or one that somebody
// changed meanwhile, stays as it is.
func TestLookingOnForABetterPlan(t *testing.T) {
	s := open(t, testkit.SampleNow())
	looks := func(path string) int {
		return s.must(s.get(teacherA, path), http.StatusOK).Find("form#refine").Length()
	}
	s.exec(`update plan set optimal = false, bound = worth + 1 where lesson_id = $1`, lessonA)
	if looks(lessonPth+"?look-on=yes") != 0 {
		t.Error("a shared plan is looked on for")
	}
	s.must(s.post(teacherA, planPart+"/refine", url.Values{"version": {"1"}}), http.StatusSeeOther)
	s.says(s.get(teacherA, lessonPth), "#plan .plan-state", "Saved")
	s.exec(`update plan set shared_at = null where lesson_id = $1`, lessonA)
	if looks(lessonPth+"?look-on=yes") != 1 || looks(lessonPth) != 0 {
		t.Error("a draft is looked on for after a proposal, and only then")
	}
	s.must(s.post(teacherA, planPart+"/refine", url.Values{"version": {"7"}}), http.StatusSeeOther) // of a draft that is gone
	if v := s.get(teacherA, lessonPth).Find(`#plan input[name="version"]`).First().AttrOr("value", ""); v != "1" {
		t.Errorf("the plan is now version %s", v)
	}
	s.must(s.post(teacherB, planPart+"/refine", url.Values{"version": {"1"}}), http.StatusNotFound)
	s.must(s.post(helperA, planPart+"/refine", url.Values{"version": {"1"}}), http.StatusNotFound)
}
