package e2e

import (
	"encoding/json"
	"fmt"
	"io"
	"net/http"
	"net/http/httptest"
	"os"
	"slices"
	"testing"

	"github.com/google/uuid"
)

// openScripts serves the scripts of the site alone, to be asked for what they compute.
func openScripts(t testing.TB) string {
	t.Helper()
	scripts := http.FileServerFS(os.DirFS("../web/static"))
	site := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if r.URL.Path == "/" {
			w.Header().Set("Content-Type", "text/html; charset=utf-8")
			io.WriteString(w, `<!DOCTYPE html><title>scripts</title><link rel="icon" href="data:,">`)
			return
		}
		scripts.ServeHTTP(w, r)
	}))
	t.Cleanup(site.Close)
	return site.URL
}

// The ids that a device makes are those of RFC 9562: version 7, variant 10, the moment in the first 48 bits (section 5.7), in the text
// form of section 4. The example moment is that of the RFC's appendix A.6 (from
// memory): 0x017F22E279B0 is 22 February 2022, 19:22:22 UTC.
func TestIdsOfADevice(t *testing.T) {
	b := newTab(t, openBrowser(t), openScripts(t), "")
	b.open("/")
	ids := js[[]string](b, `import("/js/outbox.js").then(m => [...Array(2000).keys()].map(() => m.newId(0x017F22E279B0)))`)
	for _, text := range ids {
		id, err := uuid.Parse(text)
		if err != nil || id.Version() != 7 || id.Variant() != uuid.RFC4122 || text[:13] != "017f22e2-79b0" {
			t.Fatalf("%q is no UUID of version 7 for that moment: %v", text, err)
		}
	}
	slices.Sort(ids)
	if len(slices.Compact(ids)) != 2000 {
		t.Error("an id came twice")
	}
	for _, now := range []string{"-1", "0", "281474976710655"} { // a clock may say anything: before 1970, and the end of 48 bits
		text := js[string](b, `import("/js/outbox.js").then(m => m.newId(`+now+`))`)
		if id, err := uuid.Parse(text); err != nil || id.Version() != 7 {
			t.Errorf("at %s the id is %q", now, text)
		}
	}
}

// The clock is plain arithmetic on moments; the values are worked by hand.
func TestClockOfTheSheet(t *testing.T) {
	b := newTab(t, openBrowser(t), openScripts(t), "")
	b.open("/")
	for _, c := range []struct {
		name, clock string
		now         int
		face        string
	}{
		{"ready", `{state: "ready", started: null, elapsed: 0}`, 5_000, "10:00"},
		{"just begun", `{state: "running", started: 1000, elapsed: 0}`, 1_000, "10:00"},
		{"a second is over when it is over", `{state: "running", started: 0, elapsed: 0}`, 1, "10:00"},
		{"and then the next shows", `{state: "running", started: 0, elapsed: 0}`, 1_000, "9:59"},
		{"after a pause", `{state: "running", started: 100000, elapsed: 400000}`, 100_000, "3:20"},
		{"paused", `{state: "paused", started: null, elapsed: 400000}`, 9_999_999, "3:20"},
		{"an hour in a sleeping tab", `{state: "running", started: 0, elapsed: 0}`, 3_600_000, "+50:00"},
		{"up", `{state: "running", started: 0, elapsed: 0}`, 600_000, "0:00"},
		{"over", `{state: "running", started: 0, elapsed: 0}`, 615_900, "+0:15"},
		{"a start in the future counts nothing", `{state: "running", started: 9000, elapsed: 0}`, 1_000, "10:00"},
	} {
		got := js[string](b, fmt.Sprintf(`import("/js/clock.js").then(m => m.face(m.left(%s, 600, %d)))`, c.clock, c.now))
		if got != c.face {
			t.Errorf("%s: %s, want %s", c.name, got, c.face)
		}
	}
	// Of two answers that agree the quicker one counts; one that cannot agree with it is believed. Worked by hand: the first says
	// 1e12+50 give or take 50, the second 1e12+2000 give or take 2000, the third a minute later.
	late := js[[]float64](b, `import("/js/clock.js").then(m => {
		const t = new m.ServerTime();
		t.heard(1e12, 100);
		t.heard(1e12, 4000);
		const first = t.now() - 1e12;
		t.heard(1e12 + 60000, 200);
		return [first, t.now() - 1e12];
	})`)
	if late[0] < 50 || late[0] >= 2000 || late[1] < 60100 {
		t.Errorf("the server's time is taken as %v after 1e12", late)
	}
	// A device that goes on alone does what the server does with the same buttons.
	for _, c := range []struct{ button, want string }{
		{"start", `{"state":"running","started":5000,"elapsed":2000,"rotation":2}`},
		{"pause", `{"state":"paused","started":null,"elapsed":2000,"rotation":2}`},
		{"next", `{"state":"paused","started":null,"elapsed":0,"rotation":3}`},
		{"back", `{"state":"paused","started":null,"elapsed":0,"rotation":1}`},
		{"restart", `{"state":"paused","started":null,"elapsed":0,"rotation":2}`},
	} {
		got := js[string](b, fmt.Sprintf(`import("/js/clock.js").then(m => JSON.stringify(m.after({state: "paused", started: null, elapsed: 2000, rotation: 2}, %q, 3, 5000)))`, c.button))
		var have, want map[string]any
		json.Unmarshal([]byte(got), &have)
		json.Unmarshal([]byte(c.want), &want)
		if fmt.Sprint(have) != fmt.Sprint(want) {
			t.Errorf("%s gives %s, want %s", c.button, got, c.want)
		}
	}
}

// What two tabs put in at once gets one number each, without gap.
func TestOutboxCountsWithoutGap(t *testing.T) {
	b := newTab(t, openBrowser(t), openScripts(t), "")
	b.open("/")
	const both = `import("/js/outbox.js").then(async m => {
		const one = new m.Outbox(), two = new m.Outbox();
		await Promise.all([...Array(100).keys()].map(i => (i % 2 ? one : two).put("me", { id: m.newId(), kind: "mark" })));
		const all = await one.waiting();
		return JSON.stringify([all.map(e => e.item.seq), new Set(all.map(e => e.item.device)).size]);
	})`
	var got []any
	if err := json.Unmarshal([]byte(js[string](b, both)), &got); err != nil {
		t.Fatal(err)
	}
	for i, n := range got[0].([]any) {
		if n != float64(i+1) {
			t.Fatalf("item %d has number %v", i, n)
		}
	}
	if got[1] != float64(1) {
		t.Errorf("%v devices", got[1])
	}
}
