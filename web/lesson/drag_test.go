package lesson_test

import (
	"net/http"
	"net/url"
	"strings"
	"testing"

	"rungbook/internal/testkit"
)

// The page has what its script needs to move a child by dragging, and the form that the script sends moves it. Paper has none of it.
func TestDragForm(t *testing.T) {
	s := open(t, testkit.SampleNow())
	s.exec(`update class set groups = 2 where name = 'Amberclass'`)
	s.exec(`insert into plan_cell (plan_id, rotation, group_no, ladder_key) select id, 1, 2, 'spare' from plan where lesson_id = $1`, lessonA)
	p := s.must(s.get(teacherA, lessonPth), http.StatusOK)
	if n := p.Find(`#plan .board td[data-group="1"] li[data-child="` + child1 + `"]`).Length(); n != 1 {
		t.Errorf("the child can be taken at %d places, want 1", n)
	}
	if n := p.Find(`script[src*="js/board"]`).Length(); n != 1 {
		t.Errorf("%d scripts for the board", n)
	}
	if n := p.Find(`[draggable], #plan [style]`).Length(); n != 0 {
		t.Errorf("%d parts can be dragged without a script", n)
	}
	form := p.Find(`form#move-by-drag[hidden][method="post"][data-swap="#plan"]`)
	action, _ := form.Attr("action")
	version, _ := form.Find(`[name="version"]`).Attr("value")
	if fields := form.Find(`[name="child"], [name="to"]`).Length(); fields != 2 {
		t.Fatalf("the form has %d of its 2 fields to fill", fields)
	}
	s.must(s.post(teacherA, action, url.Values{"version": {version}, "child": {child1}, "to": {"2"}}), http.StatusSeeOther)
	s.says(s.get(teacherA, lessonPth), "#plan .disclosure", "Aliquot A. changed into group 2.")
	if html, _ := s.get(teacherA, lessonPth+"/print").Html(); strings.Contains(html, "data-child") {
		t.Error("paper can be dragged on")
	}
}
