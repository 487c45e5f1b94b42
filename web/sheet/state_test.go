package sheet_test

import (
	"encoding/json"
	"net/http"
	"net/http/httptest"
	"net/url"
	"strings"
	"testing"
	"time"
)

// state is what is read of sheet.json here.
type state struct {
	Now   int64
	You   struct{ Teacher, Confirm bool }
	Clock struct {
		Version, Rotation int
		State             string
		Elapsed           int64
	}
	Children []struct {
		ID, Name string
		Present  *bool
		Limits   []string
	}
	Staff []struct{ ID string }
	Cells []struct {
		Yours   bool
		Entries []struct{ Child, Activity string }
	}
	Activities map[string]struct {
		MaySpot bool `json:"may_spot"`
		Faults  []struct{ Key string }
	}
	Marks []struct {
		ID     string
		Mine   bool
		Awaits bool
	}
}

func (h *hall) get(who, path, tag string) *httptest.ResponseRecorder {
	r := httptest.NewRequest("GET", path, nil)
	if tag != "" {
		r.Header.Set("If-None-Match", tag)
	}
	return h.do(who, r)
}

func (h *hall) state(who, lesson string) state {
	h.Helper()
	w := h.get(who, "/lessons/"+lesson+"/sheet.json", "")
	var s state
	if err := json.Unmarshal(w.Body.Bytes(), &s); w.Code != 200 || err != nil {
		h.Fatalf("%d %s", w.Code, w.Body)
	}
	return s
}

func TestStateIsSentAgainOnlyWhenItChanged(t *testing.T) {
	t.Parallel()
	h := open(t)
	path := "/lessons/" + id("1ea0") + "/sheet.json"
	tag := h.get(helperA, path, "").Header().Get("ETag")
	for _, change := range []struct {
		name string
		make func()
	}{
		{"a mark", func() { h.expect("stored", teacherA, mark(1)) }},
		{"attendance", func() { h.expect("stored", teacherA, mark(2).with("kind", "attendance", "present", false)) }},
		{"the clock", func() {
			h.post(teacherA, "/lessons/"+id("1ea0")+"/sheet/clock", url.Values{"do": {"pause"}, "version": {"1"}}, 303)
		}},
		{"a care limit", func() { h.exec(`update care_limit set cleared_at = now() where id = $1`, id("ca01")) }},
		{"the plan", func() { h.exec(`update plan set version = version + 1 where lesson_id = $1`, id("1ea0")) }},
		{"a correction of a limit's place in time", func() { h.later(6 * time.Minute) }}, // what the tag does not look at shows within five minutes
	} {
		if w := h.get(helperA, path, tag); w.Code != http.StatusNotModified || w.Body.Len() > 0 || w.Header().Get("Server-Time") == "" {
			t.Fatalf("before %s: %d", change.name, w.Code)
		}
		change.make()
		w := h.get(helperA, path, tag)
		if w.Code != http.StatusOK || w.Header().Get("ETag") == tag {
			t.Errorf("%s does not show: %d", change.name, w.Code)
		}
		tag = w.Header().Get("ETag")
	}
}

func TestWhoSeesWhatOfTheSheet(t *testing.T) {
	t.Parallel()
	h := open(t)
	helper, teacher := h.state(helperA, id("1ea0")), h.state(teacherA, id("1ea0"))
	if helper.You.Teacher || len(helper.Staff) != 0 || len(helper.Cells) != 1 || !helper.Cells[0].Yours || len(helper.Children) != 2 {
		t.Errorf("the assistant: %+v", helper)
	}
	if !teacher.You.Teacher || len(teacher.Staff) == 0 || len(teacher.Cells) != 1 || teacher.Cells[0].Yours {
		t.Errorf("the teacher: %+v", teacher)
	}
	if len(helper.Activities["rung hs-return"].Faults) != 1 {
		t.Errorf("%+v", helper.Activities)
	}
	h.exec(`delete from plan_staff where staff_id = $1`, id("5f04"))
	h.expect("stored", teacherA, mark(1))
	if s := h.state(helperA, id("1ea0")); len(s.Cells) != 0 || len(s.Activities) != 0 || len(s.Marks) != 1 || !s.Marks[0].Mine {
		t.Errorf("an assistant at no station sees %+v", s)
	}
	body := h.get(helperA, "/lessons/"+id("1ea0")+"/sheet.json", "").Body.String()
	for _, secret := range []string{"Alderleak", "2015-05-17", "reasonleak", "contactleak", "noteleak"} {
		if strings.Contains(body, secret) {
			t.Errorf("the assistant's sheet holds %q", secret)
		}
	}
	for _, c := range []struct {
		name, who, lesson string
		want              int
	}{
		{"an assistant outside of the window", helperB, "1eb0", 404}, {"an assistant of another class", helperB, "1ea0", 404},
		{"the teacher of another class", teacherB, "1ea0", 404}, {"a parent", parentA, "1ea0", 404}, {"nobody", "", "1ea0", 401}, {"a lesson that is not there", owner, "dead", 404},
	} {
		w := h.get(c.who, "/lessons/"+id(c.lesson)+"/sheet.json", "")
		if w.Code != c.want || w.Header().Get("Content-Type") != "application/json" {
			t.Errorf("%s: %d %s", c.name, w.Code, w.Header().Get("Content-Type"))
		}
	}
}

func TestClockIsOneForAll(t *testing.T) {
	t.Parallel()
	h := open(t)
	turn := func(who, do, version string) (int, state) {
		r := httptest.NewRequest("POST", "/lessons/"+id("1ea0")+"/sheet/clock", strings.NewReader(url.Values{"do": {do}, "version": {version}}.Encode()))
		r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
		r.Header.Set("Accept", "application/json")
		w := h.do(who, r)
		var s state
		if err := json.Unmarshal(w.Body.Bytes(), &s); err != nil {
			t.Fatal(err)
		}
		return w.Code, s
	}
	h.later(30 * time.Second)
	if code, s := turn(helperA, "pause", "1"); code != 200 || s.Clock.State != "paused" || s.Clock.Elapsed != 330_000 || s.Clock.Version != 2 {
		t.Errorf("%d %+v", code, s)
	}
	if code, s := turn(teacherA, "next", "1"); code != 409 || s.Clock.Version != 2 { // two devices at once: the second is told
		t.Errorf("%d %+v", code, s)
	}
	if s := h.state(teacherA, id("1ea0")); s.Clock.State != "paused" || s.Clock.Elapsed != 330_000 {
		t.Errorf("%+v", s.Clock)
	}
	if code, _ := turn(helperB, "start", "2"); code != 404 {
		t.Errorf("an assistant of another class turns the clock: %d", code)
	}
	if code, _ := turn(teacherA, "wind", "2"); code != 422 {
		t.Errorf("an unknown order: %d", code)
	}
}
