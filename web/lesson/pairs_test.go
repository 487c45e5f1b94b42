package lesson_test

import (
	"net/http"
	"net/url"
	"strings"
	"testing"

	"rungbook/internal/testkit"
)

const pairsPth = lessonPth + "/pairs"

// The sample keeps its two children together; a wish replaces the one before, the plan names what it breaks, and it can be let go.
func TestPairs(t *testing.T) {
	s := open(t, testkit.SampleNow())
	s.says(s.must(s.get(teacherA, pairsPth), http.StatusOK), ".pair", "together")
	if words := s.get(teacherA, lessonPth).text("#plan .breach"); strings.Contains(words, "together") {
		t.Errorf("a plan that keeps them together breaks: %q", words)
	}
	both := url.Values{"one": {child2}, "other": {child1}, "wish": {"apart"}}
	s.must(s.post(teacherA, pairsPth, both), http.StatusSeeOther)
	p := s.get(teacherA, pairsPth)
	s.says(p, ".pair", "apart")
	if n := p.Find(".pair").Length(); n != 1 {
		t.Errorf("%d pairs, want 1", n)
	}
	s.says(s.get(teacherA, lessonPth), "#plan .breach", "apart")
	s.must(s.post(teacherA, lessonPth+"/present", url.Values{"asked": {child1, child2}, "child": {child1}}), http.StatusSeeOther)
	if words := s.get(teacherA, lessonPth).text("#plan .breach"); strings.Contains(words, "apart") {
		t.Errorf("a pair of whom one is away is still kept: %q", words)
	}
	s.must(s.post(teacherA, pairsPth+"/remove", both), http.StatusSeeOther)
	s.says(s.get(teacherA, pairsPth), "main", "No two children of this class are kept together or apart.")
	s.must(s.post(teacherA, pairsPth+"/remove", both), http.StatusNotFound)
}

// A child is no pair with itself, and pairs are of children and wishes that the page offers.
func TestPairsThatAreNone(t *testing.T) {
	s := open(t, testkit.SampleNow())
	p := s.must(s.post(teacherA, pairsPth, url.Values{"one": {child1}, "other": {child1}, "wish": {"apart"}}), http.StatusUnprocessableEntity)
	s.says(p, ".field-wrong", "Choose two different children.")
	if p.Find(`input[value="apart"][checked]`).Length() == 0 {
		t.Error("the chosen wish is lost")
	}
	s.must(s.post(teacherA, pairsPth, url.Values{"one": {child1}, "other": {lessonA}, "wish": {"apart"}}), http.StatusNotFound)
	s.must(s.post(teacherA, pairsPth, url.Values{"one": {child1}, "other": {child2}, "wish": {"x"}}), http.StatusNotFound)
	for _, who := range []string{teacherB, helperA, parentA} {
		s.must(s.get(who, pairsPth), http.StatusNotFound)
		s.must(s.post(who, pairsPth, url.Values{"one": {child1}, "other": {child2}, "wish": {"apart"}}), http.StatusNotFound)
		s.must(s.post(who, pairsPth+"/remove", url.Values{"one": {child1}, "other": {child2}}), http.StatusNotFound)
	}
}

// A proposal keeps apart whom it is told to, in the two groups that there are.
func TestProposalKeepsApart(t *testing.T) {
	s := open(t, testkit.SampleNow())
	s.exec(`update class set groups = 2, rotations = 1, turn_floor = 1`)
	s.exec(`update staff_detail set birth_date = '1990-01-01'`)
	s.exec(`update class_pair set wish = 'apart'`)
	s.must(s.post(teacherA, planPart, url.Values{"version": {"1"}}), http.StatusSeeOther)
	p := s.get(teacherA, lessonPth)
	s.says(p, "#plan .table tbody", "Group 1")
	s.says(p, "#plan .table tbody", "Group 2")
}
