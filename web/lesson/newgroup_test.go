package lesson_test

import (
	"net/http"
	"net/url"
	"testing"

	"rungbook/internal/testkit"
)

// A class that was given more groups after planning: a child may move to a group that has no station yet, and the page says what is
// missing instead of refusing.
func TestMoveToAGroupWithoutAStation(t *testing.T) {
	s := open(t, testkit.SampleNow())
	s.exec(`update class set groups = 3 where id = (select class_id from lesson where id = $1)`, lessonA)
	s.must(s.post(teacherA, planPart+"/group", url.Values{"version": {"1"}, "child": {child1}, "to": {"3"}}), http.StatusSeeOther)
	if n := s.must(s.get(teacherA, lessonPth), http.StatusOK).Find("#plan .breach").Length(); n == 0 {
		t.Error("no rule is named as broken")
	}
}
