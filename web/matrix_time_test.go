package web_test

import (
	"net/http"
	"testing"
	"time"

	"rungbook/internal/app"
	"rungbook/internal/testkit"
)

// An assistant reads a lesson from 15 minutes before its start to 15 after its end, to the second, and so by each line alone.
func TestWindowOfAssistants(t *testing.T) {
	t.Parallel()
	start, end := time.Date(2026, 3, 4, 16, 30, 0, 0, time.UTC), time.Date(2026, 3, 4, 17, 30, 0, 0, time.UTC)
	for name, policy := range map[string]app.Policy{"both lines": app.StudioPolicy(), "row-level security alone": everythingToEverybody()} {
		t.Run(name, func(t *testing.T) {
			w := openWorld(t, line{policy: policy})
			for _, c := range []struct {
				at   time.Time
				want int
			}{
				{start.Add(-15*time.Minute - time.Second), http.StatusNotFound},
				{start.Add(-15 * time.Minute), http.StatusOK},
				{end.Add(15 * time.Minute), http.StatusOK},
				{end.Add(15*time.Minute + time.Second), http.StatusNotFound},
			} {
				w.now = c.at
				if got := w.ask(helperNow, http.MethodGet, "/tonight/"+id("1ea0"), nil); got.status != c.want {
					t.Errorf("at %s: %d, want %d", c.at.Format(time.TimeOnly), got.status, c.want)
				}
			}
		})
	}
}

// Who loses a right has lost it at the next request.
func TestRightsEndAtOnce(t *testing.T) {
	t.Parallel()
	w := openWorld(t, line{policy: app.StudioPolicy()})
	child := "/children/" + id("c1a1")
	for _, c := range []struct {
		name, path, sql, end string
		as                   who
		want                 int
	}{
		{"a teacher taken off the class", child, `delete from class_staff where staff_id = $1`, "5f02", teacherA, http.StatusNotFound},
		{"a teacher without the role", child, `delete from account_role where account_id = $1`, "ac02", teacherA, http.StatusNotFound},
		{"a teacher who left", child, `update staff set left_on = '2026-03-04' where id = $1`, "5f02", teacherA, http.StatusNotFound},
		{"a teacher whose time at the class is over", child, `update class_staff set until_on = '2026-03-03' where staff_id = $1`, "5f02", teacherA, http.StatusNotFound},
		{"an assistant taken off the class", "/tonight/" + id("1ea0"), `delete from class_staff where staff_id = $1`, "5f04", helperNow, http.StatusNotFound},
		{"a removed guardian", "/home/" + id("c1a1"), `update guardian set removed_at = '2026-03-04' where account_id = $1`, "ac06", parentA, http.StatusNotFound},
		{"a locked account", child, `update account set disabled_at = '2026-03-04' where id = $1`, "ac02", teacherA, http.StatusSeeOther},
		{"an ended session", child, `delete from session where account_id = $1`, "ac02", teacherA, http.StatusSeeOther},
	} {
		if got := w.ask(c.as, http.MethodGet, c.path, nil); got.status != http.StatusOK {
			t.Errorf("%s, before: %d", c.name, got.status)
		}
		w.exec(t, c.sql, testkit.SampleID(c.end))
		if got := w.ask(c.as, http.MethodGet, c.path, nil); got.status != c.want {
			t.Errorf("%s: %d, want %d", c.name, got.status, c.want)
		}
		w.changed(t)
	}
}
