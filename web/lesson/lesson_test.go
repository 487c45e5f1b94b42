package lesson_test

import (
	"net/http"
	"net/url"
	"strings"
	"testing"

	"rungbook/internal/testkit"
)

// The page says who is here, the parts with their times, and the plan with turns, waiting and load for each child.
func TestLessonPage(t *testing.T) {
	s := open(t, testkit.SampleNow())
	p := s.must(s.get(teacherA, lessonPth), http.StatusOK)
	s.says(p, "h1", "Amberclass, Wednesday 4 March")
	s.says(p, ".intro", "16:30 to 17:30, 60 minutes")
	s.says(p, "#here", "2 of 2 children")
	s.says(p, "#here", "limitdo-a1; limitdo-p1")
	s.says(p, "#here .cover, #here .notice", "2 children, the youngest 10: 2 adults are needed who are not spotting")
	s.says(p, "#here", "A planning aid, not a clearance")
	s.says(p, "#blocks", "16:35 to 16:45 Warm-up 10 minutes Circles")
	s.says(p, "#plan .plan-state", "Saved for the assistants at 16:00")
	s.says(p, "#plan .disclosure", "Without Hanne Anvil")
	s.says(p, "#plan .disclosure", "Handstand in rotation 1 cannot run as planned, and 2 children miss it.")
	s.says(p, "#plan .board thead", "Handstand")
	s.says(p, "#plan .board td", "Group 1")
	s.says(p, "#plan .board td", "Hanne Anvil")
	s.says(p, "#plan .board td", "9 turns each")
	s.says(p, "#plan .table tbody tr:first-child", "Aliquot A. Group 1 9 5 min of 10 min (50%) 0 of 24 18 of 48")
	if n := p.Find(`#plan form:not([data-swap="#plan"])`).Length(); n > 0 {
		t.Errorf("%d forms of the plan do not change it in place", n)
	}
	if n := p.Find("h1").Length(); n != 1 {
		t.Errorf("%d first headings", n)
	}
}

// Without a plan the page teaches the next step.
func TestLessonPageWithoutPlan(t *testing.T) {
	s := open(t, testkit.SampleNow())
	s.exec(`delete from plan where lesson_id = $1`, lessonA)
	p := s.must(s.get(teacherA, lessonPth), http.StatusOK)
	s.says(p, "#plan .empty button", "Propose a plan")
	s.must(s.get(teacherA, lessonPth+"/plan.svg"), http.StatusNotFound)
	s.says(s.must(s.get(teacherA, lessonPth+"/print"), http.StatusOK), ".intro", "There is no plan yet")
	s.must(s.post(teacherA, lessonPth+"/present", url.Values{"asked": {child1, child2}}), http.StatusSeeOther)
	s.says(s.get(teacherA, lessonPth), "#plan .empty", "Nobody is marked as here")
}

func (s hall) exec(sql string, args ...any) {
	s.Helper()
	if _, err := s.rows.Exec(s.Context(), sql, args...); err != nil {
		s.Fatal(err)
	}
}

// Who was asked about and not ticked is away; who was not asked about stays as noted.
func TestNotePresent(t *testing.T) {
	s := open(t, testkit.SampleNow())
	p := s.must(s.post(teacherA, lessonPth+"/present", url.Values{"asked": {child1, child2}, "child": {child2}, "expected": {helper}}), http.StatusSeeOther)
	if p.to != lessonPth+"#plan" {
		t.Errorf("leads to %s", p.to)
	}
	p = s.get(teacherA, lessonPth)
	s.says(p, "#here", "1 of 2 children")
	if n := p.Find(`#here input[name="child"]:checked`).Length(); n != 1 {
		t.Errorf("%d children are ticked, want 1", n)
	}
	if n := p.Find(`#here input[value="` + helper + `"]:checked`).Length(); n != 0 {
		t.Error("the helper is still ticked")
	}
	s.must(s.post(teacherA, lessonPth+"/present", url.Values{"asked": {"x"}}), http.StatusUnprocessableEntity)
}

// A change by hand that breaks a rule is made, and the rule is named in its cell.
func TestChangeByHandNamesWhatItBreaks(t *testing.T) {
	s := open(t, testkit.SampleNow())
	open := s.must(s.get(teacherA, lessonPth+"?cell=1-1"), http.StatusOK)
	s.says(open, "#change h3", "Change rotation 1, group 1: Handstand")
	p := s.must(s.post(teacherA, planPart+"/staff", url.Values{"version": {"1"}, "cell": {"1-1"}}), http.StatusSeeOther)
	if p.to != lessonPth+"?cell=1-1#change" {
		t.Errorf("leads to %s", p.to)
	}
	p = s.get(teacherA, p.to)
	if p.Find("#plan .board td.board-broken .breach").Length() == 0 {
		t.Error("no cell names that nobody runs it")
	}
	s.says(p, "#plan .plan-words", "This plan breaks")
	s.says(p, "#plan .plan-state", "A draft")
	if _, shared := s.version(lessonA); shared {
		t.Error("a changed plan is still shared")
	}
}

// Each change does what its button says.
func TestChangesByHand(t *testing.T) {
	s := open(t, testkit.SampleNow())
	at := lessonPth + "?cell=1-1"
	s.must(s.post(teacherA, planPart+"/activity", url.Values{"version": {"1"}, "cell": {"1-1"}, "child": {child2}, "activity": {"rung hs-return"}, "stays": {"yes"}}), http.StatusSeeOther)
	p := s.get(teacherA, at)
	if v := p.Find("#activity-"+child2+" option[selected]").AttrOr("value", ""); v != "rung hs-return" {
		t.Errorf("the activity is %q", v)
	}
	if p.Find("#stays-"+child2+"[checked]").Length() == 0 {
		t.Error("the activity is not pinned")
	}
	s.must(s.post(teacherA, planPart+"/pin-cell", url.Values{"version": {"2"}, "cell": {"1-1"}, "pinned": {"yes"}}), http.StatusSeeOther)
	s.must(s.post(teacherA, planPart+"/pin-child", url.Values{"version": {"3"}, "cell": {"1-1"}, "child": {child1}, "pinned": {"yes"}}), http.StatusSeeOther)
	p = s.get(teacherA, at)
	s.says(p, "#plan .board-pin", "pinned")
	s.says(p, "#plan .table tbody", "Group 1, pinned")
	s.must(s.post(teacherA, planPart+"/station", url.Values{"version": {"4"}, "cell": {"1-1"}, "station": {"spare"}}), http.StatusSeeOther)
	s.says(s.get(teacherA, at), "#plan .board thead", "Spare")
	s.must(s.post(teacherA, planPart+"/group", url.Values{"version": {"5"}, "cell": {"1-1"}, "child": {child2}, "to": {"0"}}), http.StatusSeeOther)
	p = s.get(teacherA, at)
	s.says(p, "#plan form label", "Azimuth C. is here and in no group")
	s.must(s.post(teacherA, planPart+"/group", url.Values{"version": {"6"}, "child": {child2}, "to": {"1"}}), http.StatusSeeOther)
	s.says(s.get(teacherA, at), "#plan .board", "Azimuth C.")
}

// Forms that the page did not make are not there.
func TestChangesThatNameNothing(t *testing.T) {
	s := open(t, testkit.SampleNow())
	for path, form := range map[string]url.Values{
		"/group":    {"version": {"1"}, "child": {child1}, "to": {"9"}},
		"/activity": {"version": {"1"}, "cell": {"9-9"}, "child": {child1}, "activity": {"rung hs-hold"}},
		"/station":  {"version": {"1"}, "cell": {"1-1"}, "station": {"nowhere"}},
		"/staff":    {"version": {"1"}, "cell": {"1-1"}, "lead": {"someone"}},
		"/pin-cell": {"version": {"x"}, "cell": {"1-1"}},
		"/share":    {},
	} {
		s.must(s.post(teacherA, planPart+path, form), http.StatusNotFound)
	}
	s.must(s.get(teacherA, lessonPth+"?cell=9-9"), http.StatusOK)
}

// When no plan keeps every rule, the rules in conflict and the ways out stand on the page, and the plan that was there stays.
func TestProposeSaysWhatIsInTheWay(t *testing.T) {
	s := open(t, testkit.SampleNow())
	s.exec(`update staff_detail set birth_date = '2012-01-01'`)
	p := s.must(s.post(teacherA, planPart, url.Values{"version": {"1"}}), http.StatusUnprocessableEntity)
	s.says(p, "#plan .notice-error", "No plan keeps every rule")
	s.says(p, "#plan .notice-error li", "A way out:")
	s.says(p, "#plan .board", "Aliquot A.")
	if version, _ := s.version(lessonA); version != 1 {
		t.Error("a proposal that failed changed the plan")
	}
}

// A proposal replaces the plan by a draft that keeps the rules and says how good it is.
func TestPropose(t *testing.T) {
	s := open(t, testkit.SampleNow())
	s.exec(`update class set groups = 1, rotations = 2, turn_floor = 1`)
	p := s.must(s.post(teacherA, planPart, url.Values{"version": {"1"}}), http.StatusSeeOther)
	p = s.must(s.get(teacherA, p.to), http.StatusOK)
	s.says(p, "#plan .plan-words", "No better plan exists for who is here")
	s.says(p, "#plan .plan-state", "A draft")
	if n := p.Find("#plan .board tbody tr").Length(); n != 2 {
		t.Errorf("%d rotations, want 2", n)
	}
	if n := p.Find("#plan .breach").Length(); n != 0 {
		t.Errorf("a proposed plan breaks %d rules: %s", n, p.text("#plan .breach"))
	}
}

// The minutes of the parts must come to those of the lesson; what was typed and chosen is kept.
func TestBlocks(t *testing.T) {
	s := open(t, testkit.SampleNow())
	p := s.must(s.get(teacherA, lessonPth+"/blocks"), http.StatusOK)
	if v := p.Find(`input[name="minutes-stations"]`).AttrOr("value", ""); v != "35" {
		t.Errorf("stations have %s minutes", v)
	}
	form := url.Values{"minutes-arrive": {"5"}, "minutes-warm-up": {"10"}, "minutes-conditioning": {"5"}, "minutes-stations": {"40"}, "minutes-cool-down": {"10"}, "drills-conditioning": {"d-dish"}}
	p = s.must(s.post(teacherA, lessonPth+"/blocks", form), http.StatusUnprocessableEntity)
	s.says(p, ".notice-error", "The blocks take 70 minutes; the lesson has 60")
	if p.Find(`input[value="d-dish"][checked]`).Length() != 1 || p.Find(`input[name="minutes-stations"]`).AttrOr("value", "") != "40" {
		t.Error("what was typed is lost")
	}
	form.Set("minutes-stations", "some")
	p = s.must(s.post(teacherA, lessonPth+"/blocks", form), http.StatusUnprocessableEntity)
	s.says(p, ".field-wrong .error", "A whole number from 0 to 120")
	form.Set("minutes-stations", "30")
	s.must(s.post(teacherA, lessonPth+"/blocks", form), http.StatusSeeOther)
	p = s.get(teacherA, lessonPth)
	s.says(p, "#blocks", "16:45 to 16:50 Conditioning 5 minutes Dish hold")
	if n := p.Find("#blocks .blocks > li").Length(); n != 5 {
		t.Errorf("%d parts, want 5", n)
	}
}

// A note is kept; one that is too long comes back as it was typed.
func TestNote(t *testing.T) {
	s := open(t, testkit.SampleNow())
	long := strings.Repeat("é", 4001)
	p := s.must(s.post(teacherA, lessonPth+"/note", url.Values{"note": {long}}), http.StatusUnprocessableEntity)
	if p.Find("textarea").Text() != long {
		t.Error("the long note is lost")
	}
	s.must(s.post(teacherA, lessonPth+"/note", url.Values{"note": {"Azimuth is ready."}}), http.StatusSeeOther)
	s.says(s.get(teacherA, lessonPth), "textarea", "Azimuth is ready.")
}

// Paper carries the plan, who is away and the cautions, and nothing to press but the way back.
func TestPrint(t *testing.T) {
	s := open(t, testkit.SampleNow())
	p := s.must(s.get(teacherA, lessonPth+"/print"), http.StatusOK)
	s.says(p, ".board td", "Aliquot A.")
	s.says(p, ".board .board-limit", "limitdo-a1")
	s.says(p, "main", "A planning aid, not a clearance")
	s.says(p, "main", "stop, lie still and call emergency services")
	if n := p.Find("main form, .board a.button, nav").Length(); n > 0 {
		t.Errorf("%d forms or buttons on paper", n)
	}
}
