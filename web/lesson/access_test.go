package lesson_test

import (
	"net/http"
	"net/url"
	"strings"
	"testing"
	"time"

	"rungbook/internal/testkit"
)

// Whoever does not take the class is told the same of its lesson as of one that is not there, and nothing changes.
func TestLessonIsForWhoTakesTheClass(t *testing.T) {
	s := open(t, testkit.SampleNow())
	gets := []string{lessonPth, lessonPth + "/print", lessonPth + "/plan.svg", lessonPth + "/compare", lessonPth + "/blocks"}
	posts := changes()
	posts[lessonPth+"/present"] = url.Values{"asked": {child1}}
	posts[lessonPth+"/note"] = url.Values{"note": {"x"}}
	posts[lessonPth+"/blocks"] = url.Values{"minutes-arrive": {"5"}, "minutes-warm-up": {"10"}, "minutes-conditioning": {"0"}, "minutes-stations": {"35"}, "minutes-cool-down": {"10"}}
	for _, who := range []string{teacherB, helperA, helperB, parentA} {
		for _, path := range gets {
			s.must(s.get(who, path), http.StatusNotFound)
		}
		for path, form := range posts {
			s.must(s.post(who, path, with(form, "1")), http.StatusNotFound)
		}
	}
	for _, path := range gets {
		s.must(s.get(teacherA, path), http.StatusOK)
		s.must(s.get(owner, path), http.StatusOK)
		s.must(s.get(teacherA, strings.Replace(path, lessonA, noLesson, 1)), http.StatusNotFound)
		s.must(s.get(owner, strings.Replace(path, lessonA, noLesson, 1)), http.StatusNotFound)
	}
	if version, _ := s.version(lessonA); version != 1 {
		t.Errorf("the plan is at version %d: somebody changed it who may not", version)
	}
}

// A plan that somebody else saved meanwhile is not written over: the page answers 409, shows theirs, and nothing changed.
func TestStaleChangeIsRefused(t *testing.T) {
	s := open(t, testkit.SampleNow())
	s.must(s.post(teacherA, planPart+"/share", with(nil, "1")), http.StatusSeeOther)
	for path, form := range changes() {
		p := s.must(s.post(teacherA, path, with(form, "1")), http.StatusConflict)
		s.says(p, "#plan .notice-error", "Somebody else saved this plan meanwhile")
		s.says(p, "#plan .board", "Aliquot A.")
		if p.Find(`#plan input[name="version"][value="2"]`).Length() == 0 {
			t.Errorf("%s: the page does not carry the version that it shows", path)
		}
	}
	if version, _ := s.version(lessonA); version != 2 {
		t.Errorf("the plan is at version %d, want 2", version)
	}
}

// An assistant sees own stations only, once the plan is shared, from 15 minutes before to 15 after.
func TestStationsOnceSharedAndInTheWindow(t *testing.T) {
	s := open(t, testkit.SampleNow())
	p := s.must(s.get(helperA, "/tonight/"+lessonA), http.StatusOK)
	s.says(p, ".turn h2", "Rotation 1")
	s.says(p, ".turn", "You run this station.")
	s.says(p, ".turn .turn-child", "Aliquot A.")
	s.says(p, ".turn .sheet-limit", "limitdo-a1")
	s.says(p, ".work", "Push tall")
	s.says(p, ".cautions", "A planning aid, not a clearance")
	for _, secret := range []string{"Alderleak", "reasonleak", "contactleak", "noteleak", "2015"} {
		if strings.Contains(p.text("body"), secret) {
			t.Errorf("the assistant's page says %q", secret)
		}
	}
	for _, who := range []string{helperB, teacherB, parentA} {
		s.must(s.get(who, "/tonight/"+lessonA), http.StatusNotFound)
	}
	s.must(s.get(helperB, "/tonight/"+lessonB), http.StatusNotFound) // hours too early
	s.must(s.get(helperA, "/tonight/"+lessonB), http.StatusNotFound)

	s.must(s.post(teacherA, planPart+"/pin-child", with(url.Values{"child": {child1}, "pinned": {"yes"}}, "1")), http.StatusSeeOther)
	p = s.must(s.get(helperA, "/tonight/"+lessonA), http.StatusOK)
	s.says(p, ".empty", "The plan is not out yet")
	if strings.Contains(p.text("body"), "Aliquot") {
		t.Error("a draft is shown to an assistant")
	}
	s.must(s.post(teacherA, planPart+"/share", with(nil, "2")), http.StatusSeeOther)
	s.says(s.get(helperA, "/tonight/"+lessonA), ".turn .turn-child", "Aliquot A.")
}

// An assistant of a lesson whose plan was never shared is told so, in the window.
func TestStationsNotSharedYet(t *testing.T) {
	s := open(t, time.Date(2026, 3, 4, 19, 50, 0, 0, time.UTC))
	s.says(s.must(s.get(helperB, "/tonight/"+lessonB), http.StatusOK), ".empty", "The plan is not out yet")
	s.must(s.get(helperA, "/tonight/"+lessonA), http.StatusNotFound) // long over
}

// Somebody who is at no station of a shared plan learns that and no child's name.
func TestStationsOfNobody(t *testing.T) {
	s := open(t, testkit.SampleNow())
	if _, err := s.rows.Exec(t.Context(), `delete from plan_staff where staff_id = $1`, helper); err != nil {
		t.Fatal(err)
	}
	p := s.must(s.get(helperA, "/tonight/"+lessonA), http.StatusOK)
	s.says(p, ".notice", "You are at no station in this plan")
	if strings.Contains(p.text("body"), "Aliquot") {
		t.Error("an assistant without a station reads a child's name")
	}
}
