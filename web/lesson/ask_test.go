package lesson_test

import (
	"net/http"
	"net/url"
	"testing"

	"rungbook/internal/testkit"
)

func (s hall) whyNot(child, about string) page {
	s.Helper()
	return s.get(teacherA, lessonPth+"?"+url.Values{"cell": {"1-1"}, "child": {child}, "about": {about}}.Encode())
}

// Each child's work comes with its reason in numbers: 9 turns of 20 s, half of 10 minutes (the sample's rows).
func TestWhyThis(t *testing.T) {
	s := open(t, testkit.SampleNow())
	p := s.must(s.get(teacherA, lessonPth+"?cell=1-1"), http.StatusOK)
	s.says(p, "#change .change-child", "Why this: 9 turns of 20 s in 10 min; waits or rests 50% of that time.")
	s.says(p, "#change .change-child", "Prepares Small kick and return.")
}

// The question is answered by where the child stands first, then by the rules, then by the cost.
func TestWhyNot(t *testing.T) {
	s := open(t, testkit.SampleNow())
	s.says(s.must(s.whyNot(child1, "rung hs-hold"), http.StatusOK), ".change-answer", "Hold is not open for Aliquot A. yet. Needs first: Small kick and return (")
	s.says(s.must(s.whyNot(child1, "rung hs-return"), http.StatusOK), ".change-answer", "Aliquot A. does work at Small kick and return in this plan.")
	s.says(s.must(s.whyNot(child2, "rung sp-shape"), http.StatusOK), ".change-answer", "The group of Azimuth C. does not come to a station for Dish in this plan.")
	p := s.must(s.whyNot(child2, "rung hs-return"), http.StatusOK)
	s.says(p, ".change-answer", "It can be done: Azimuth C. at Small kick and return in rotation 1")
	if v := p.Find("#ask-child option[selected]").AttrOr("value", ""); v != child2 {
		t.Errorf("the form forgets who was asked about: %q", v)
	}
	s.exec(`update plan_entry set rung_key = null, drill_key = 'd-press' where child_id = $1`, child1)
	s.says(s.must(s.whyNot(child1, "rung hs-return"), http.StatusOK), ".change-answer", "A care limit of Aliquot A. rules out Small kick and return.")
	s.exec(`update attendance set present = false where child_id = $1`, child1)
	s.says(s.must(s.whyNot(child1, "rung hs-return"), http.StatusOK), ".change-answer", "Aliquot A. is not here.")
}

// Questions that the page does not offer are not there.
func TestWhyNotOfNothing(t *testing.T) {
	s := open(t, testkit.SampleNow())
	for child, about := range map[string]string{"x": "rung hs-hold", lessonA: "rung hs-hold", child1: "rung nothing", child2: "drill d-warm"} {
		s.must(s.whyNot(child, about), http.StatusNotFound)
	}
	s.must(s.get(teacherB, lessonPth+"?cell=1-1&child="+child1+"&about=rung+hs-hold"), http.StatusNotFound)
}
