package lesson_test

import (
	"net/http"
	"net/url"
	"testing"

	"rungbook/internal/testkit"
)

// The plan stands beside the one before its last change: totals on top, a row for each child, and words for what changed.
func TestCompareWithThePlanBefore(t *testing.T) {
	s := open(t, testkit.SampleNow())
	if to, _ := s.get(teacherA, lessonPth).Find(`#plan a[href$="/compare"]`).Attr("href"); to != lessonPth+"/compare" {
		t.Errorf("the plan leads to %q", to)
	}
	p := s.must(s.get(teacherA, lessonPth+"/compare"), http.StatusOK)
	s.says(p, ".intro", "from before its last change")
	s.says(p, "#sums tbody tr:nth-child(1)", "Worth 1.00 1.00 as before")
	s.says(p, "#sums tbody tr:nth-child(2)", "How good")
	s.says(p, "#sums tbody tr:nth-child(3)", "Rules broken")
	s.says(p, "#sums tbody tr:nth-child(4)", "Mean waiting of a child 5 min of 10 min 5 min of 10 min as before")
	s.says(p, "#sums tbody tr:nth-child(5)", "Children 1 2 changed")
	s.says(p, "#children tbody tr:nth-child(1)", "Aliquot A. Group 1: 9 turns, 5 min of waiting Dish Group 1: 9 turns, 5 min of waiting Small kick and return changed: activities")
	s.says(p, "#children tbody tr:nth-child(2)", "Azimuth C. in no group Group 1: 9 turns, 5 min of waiting Wall press came into the plan")

	s.must(s.post(teacherA, planPart+"/group", url.Values{"version": {"1"}, "child": {child2}, "to": {"0"}}), http.StatusSeeOther)
	p = s.get(teacherA, lessonPth+"/compare")
	s.says(p, "#children tbody tr:nth-child(2)", "Azimuth C. Group 1: 9 turns, 5 min of waiting Wall press in no group left the plan")
}

// A plan that never changed stands beside the last one of the class, which tonight's rules do not judge; without either the page says so.
func TestCompareWithTheLastLesson(t *testing.T) {
	s := open(t, testkit.SampleNow())
	s.exec(`delete from plan_before`)
	if n := s.get(teacherA, lessonPth).Find(`#plan a[href$="/compare"]`).Length(); n != 0 {
		t.Error("the plan offers to compare with nothing")
	}
	s.says(s.must(s.get(teacherA, lessonPth+"/compare"), http.StatusOK), "main", "Nothing to compare with yet")

	s.exec(`update lesson set starts_at = starts_at - interval '8 days' where id = $1`, lessonB)
	s.exec(`update lesson set class_id = (select class_id from lesson where id = $1) where id = $2`, lessonA, lessonB)
	p := s.must(s.get(teacherA, lessonPth+"/compare"), http.StatusOK)
	s.says(p, ".intro", "the last plan of the class, of 24 February")
	s.says(p, "#sums tbody tr:nth-child(3)", "Rules broken not counted")
	s.says(p, "#children tbody tr:nth-child(1)", "Aliquot A. in no group Group 1")

	s.exec(`delete from plan where lesson_id = $1`, lessonA)
	s.must(s.get(teacherA, lessonPth+"/compare"), http.StatusNotFound)
}
