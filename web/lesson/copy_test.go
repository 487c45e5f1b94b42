package lesson_test

import (
	"net/http"
	"net/url"
	"testing"

	"rungbook/internal/testkit"
)

const lastWeek = "00000000-0000-4000-8000-000000001ea9"

// The plan of the week before comes forward: the child who is away leaves it, and so does the helper; what is missing is named.
func TestCopyLastPlan(t *testing.T) {
	s := open(t, testkit.SampleNow())
	s.says(s.must(s.post(teacherA, planPart+"/copy", url.Values{"version": {"1"}}), http.StatusUnprocessableEntity), "#plan .notice-error", "No earlier lesson of this class has a plan")
	s.exec(`update plan set lesson_id = $1 where lesson_id = $2`, lastWeek, lessonA)
	s.exec(`update plan_member set pinned = true`)
	s.exec(`update attendance set present = false where child_id = $1`, child1)
	s.exec(`update staff_attendance set present = false where staff_id = $1`, helper)
	s.says(s.get(teacherA, lessonPth), "#plan .empty button", "Copy the plan of 25 February")
	s.must(s.post(teacherA, planPart+"/copy", url.Values{"version": {"1"}}), http.StatusConflict)
	p := s.must(s.post(teacherA, planPart+"/copy", url.Values{"version": {"0"}}), http.StatusSeeOther)
	p = s.must(s.get(teacherA, p.to), http.StatusOK)
	s.says(p, "#plan .board thead", "Handstand")
	s.says(p, "#plan .board td", "Azimuth C. Wall press (drill)")
	s.says(p, "#plan .plan-state", "A draft")
	s.says(p, "#plan .plan-words", "This plan breaks")
	if n := p.Find("#plan .table tbody tr").Length(); n != 1 {
		t.Errorf("%d children in the plan, want the one who is here", n)
	}
	if n := p.Find("#plan .board-pin").Length(); n != 0 {
		t.Error("a pin of last week came along")
	}
	if p.Find("#plan .board td.board-broken .breach").Length() == 0 {
		t.Error("no cell names that nobody runs it")
	}
}

// What is no longer for a child gives way to what matters most to it there: once Small kick and return is secure, it is Hold.
func TestCopyMovesOnWithTheChild(t *testing.T) {
	s := open(t, testkit.SampleNow())
	s.exec(`update plan set lesson_id = $1 where lesson_id = $2`, lastWeek, lessonA)
	s.exec(`delete from mark where child_id = $1`, child2)
	for i := range 10 {
		lesson := []string{lastWeek, lessonA}[i%2]
		s.exec(`insert into mark (id, child_id, rung_key, lesson_id, outcome, marked_by, marked_at, received_at)
			select gen_random_uuid(), $1, 'hs-return', $2, 'clean', id, $3::timestamptz, $3::timestamptz from account where id::text like '%ac02'`,
			child2, lesson, testkit.SampleNow().AddDate(0, 0, -10+i))
	}
	s.must(s.post(teacherA, planPart+"/copy", url.Values{"version": {"0"}}), http.StatusSeeOther)
	s.says(s.get(teacherA, lessonPth), "#plan .board td", "Azimuth C. Open: Hold")
}
