package sheet_test

import (
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"net/http"
	"net/url"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"
)

const ofLesson = `mark where lesson_id = $1 and received_at >= '2026-03-04 17:00+00'`

func TestSameBatchThreeTimesAndReorderedCountsOnce(t *testing.T) {
	t.Parallel()
	h := open(t)
	items := []item{mark(1), mark(2).with("outcome", "missed", "faults", []string{"arms-bend"}), mark(3).with("kind", "attendance", "present", true),
		mark(4).with("kind", "note", "text", "Looked tired.")}
	h.expect("stored stored stored stored", helperA, items...)
	h.expect("duplicate duplicate duplicate duplicate", helperA, items...)
	slices.Reverse(items)
	a := h.expect("duplicate duplicate duplicate duplicate", helperA, items...)
	if a.Answers[0].Was != "stored" {
		t.Errorf("a duplicate was %q at first", a.Answers[0].Was)
	}
	h.expect("stored duplicate", helperA, mark(5).with("id", items[0]["id"].(string)[:35]+"f"), items[0])
	if n := h.count(ofLesson, id("1ea0")); n != 3 {
		t.Errorf("%d marks", n)
	}
	if n := h.count(`mark_fault f join mark m on m.id = f.mark_id where m.id = $1`, items[2]["id"]); n != 1 {
		t.Errorf("%d faults", n)
	}
	if n := h.count(`sheet_note where note = 'Looked tired.'`); n != 1 {
		t.Errorf("%d notes", n)
	}
	if n := h.count(`sheet_receipt where received_at >= '2026-03-04 17:00+00'`); n != 4 {
		t.Errorf("%d receipts: every answer needs a commit of its own", n)
	}
}

func TestSameIDWithOtherContentKeepsBoth(t *testing.T) {
	t.Parallel()
	h := open(t)
	first := mark(1)
	other := first.with("outcome", "missed")
	h.expect("stored conflict duplicate conflict", teacherA, first, other, first, other)
	h.expect("conflict", teacherA, other)
	if kept, counted := h.count(`sheet_item where id = $1`, first["id"]), h.count(`mark where id = $1 and outcome = 'clean'`, first["id"]); kept != 2 || counted != 1 {
		t.Errorf("%d kept, %d counted", kept, counted)
	}
	// Accepted, it counts under a number of its own.
	page := h.page(teacherA, "/lessons/"+id("1ea0")+"/review", 200)
	form := page.Find("#kept form").Last()
	digest, _ := form.Find("input[name=digest]").Attr("value")
	h.post(teacherA, "/lessons/"+id("1ea0")+"/review/item", url.Values{"item": {first["id"].(string)}, "digest": {digest}, "what": {"accept"}}, 303)
	if n := h.count(ofLesson, id("1ea0")); n != 2 {
		t.Errorf("%d marks", n)
	}
	h.post(teacherA, "/lessons/"+id("1ea0")+"/review/item", url.Values{"item": {first["id"].(string)}, "digest": {digest}, "what": {"accept"}}, 404)
}

// Bad items are answered one by one and kept; the good ones beside them count.
func TestBadItemsAreKeptAndTheOthersCount(t *testing.T) {
	t.Parallel()
	h := open(t)
	bad := []item{
		mark(1).with("rung", "no-such-rung"),
		mark(2).with("side", "left"),
		mark(3).with("outcome", "withdrawn"),
		mark(4).with("outcome", "splendid"),
		mark(5).with("faults", []string{"no-such-fault"}),
		mark(6).with("faults", "arms-bend"),
		mark(7).with("child", id("c1b1")), // of another class
		mark(8).with("child", id("dead")), // of none
		mark(9).with("kind", "dance"),
		mark(10).with("kind", "note", "text", strings.Repeat("é", 501)),
		mark(11).with("kind", "note", "text", "  "),
		mark(12).with("kind", "attendance"),
		mark(13).with("kind", "strike"),
		mark(14).with("kind", "strike", "replaces", id("a0b1")), // of another child
		mark(15).with("rung", "hs\u0000return"),
		mark(16).with("kind", "attendance", "present", true, "child", "", "staff", id("5f05")),
	}
	for i, b := range bad {
		a := h.expect("stored invalid stored", teacherA, mark(100+i), b, mark(200+i))
		if a.Answers[1].Words == "" {
			t.Errorf("no words for %v", b)
		}
		if n := h.count(`sheet_item where id = $1 and answer = 'invalid'`, b["id"]); n != 1 {
			t.Errorf("%d kept of %v", n, b)
		}
	}
	if n := h.count(ofLesson, id("1ea0")); n != 2*len(bad) {
		t.Errorf("%d marks, want %d", n, 2*len(bad))
	}
	same := h.send(teacherA, mark(1).with("child", id("c1b1")), mark(2).with("child", id("dead")))
	if same.Answers[0].Words != same.Answers[1].Words {
		t.Errorf("a child of another class is told from one that does not exist: %+v", same.Answers)
	}
	h.expect("invalid", teacherA, item{"id": "not-an-id", "kind": "mark"})
}

// Two tablets send overlapping batches at once, shuffled, each batch several times: every item is stored by exactly one answer.
func TestTwoDevicesAtOnceLoseAndDoubleNothing(t *testing.T) {
	t.Parallel()
	h := open(t)
	const seed = 20260304
	var all []item
	for i := range 60 {
		all = append(all, mark(i).with("device", fmt.Sprintf("tablet-%d", i%2)))
	}
	stored := map[string]int{}
	var lock sync.Mutex
	var wait sync.WaitGroup
	for device := range 4 {
		wait.Go(func() {
			random := rand.New(rand.NewPCG(seed, uint64(device)))
			for range 6 {
				part := slices.Clone(all)
				random.Shuffle(len(part), func(i, j int) { part[i], part[j] = part[j], part[i] })
				a := h.send([]string{helperA, teacherA}[device%2], part[:40]...)
				lock.Lock()
				for _, x := range a.Answers {
					if x.Answer == "stored" {
						stored[x.ID]++
					} else if x.Answer != "duplicate" {
						t.Errorf("%+v", x)
					}
				}
				lock.Unlock()
			}
		})
	}
	wait.Wait()
	for name, times := range stored {
		if times != 1 {
			t.Errorf("%s was stored %d times", name, times)
		}
	}
	if n := h.count(ofLesson, id("1ea0")); n != len(stored) {
		t.Errorf("%d marks for %d answers (seed %d)", n, len(stored), seed)
	}
}

func TestOrderOfABatchCounts(t *testing.T) {
	t.Parallel()
	h := open(t)
	first, second := mark(1).with("client_at", "2026-03-04T16:59:00Z"), mark(2).with("client_at", "2026-03-04T16:40:00Z")
	h.expect("stored stored", teacherA, first, second)
	if n := h.count(`mark a join mark b on b.id = $2 where a.id = $1 and a.received_at < b.received_at`, first["id"], second["id"]); n != 1 {
		t.Error("the device's clock was believed over the order of arrival")
	}
}

func TestClockWrongByYearsBreaksNothing(t *testing.T) {
	t.Parallel()
	h := open(t)
	for _, at := range []string{"1970-01-01T00:00:00Z", "2099-12-31T23:59:59Z", "9999-12-31T23:59:59.999999999Z", "0000-01-01T00:00:00Z", "294277-01-01T00:00:00Z", "soon", ""} {
		h.expect("stored", helperA, mark(1).with("client_at", at))
	}
	if n := h.count(`mark where received_at >= '2026-03-04 17:00+00' and marked_at not between '2026-03-04 16:15+00' and '2026-03-04 17:45+00'`); n != 0 {
		t.Errorf("%d marks are shown outside of the lesson", n)
	}
}

func TestSessionLostKeepsNothingAndSaysSo(t *testing.T) {
	t.Parallel()
	h := open(t)
	m := mark(1)
	h.exec(`delete from session where account_id = $1`, id(helperA))
	body, _ := json.Marshal(map[string]any{"items": []item{m}})
	w := h.do(helperA, batch(string(body)))
	if w.Code != http.StatusUnauthorized || !strings.Contains(w.Body.String(), `"code":"signed-out"`) || w.Header().Get("Content-Type") != "application/json" {
		t.Errorf("%d %s", w.Code, w.Body)
	}
	h.expect("stored", teacherA, m)
}

func TestDenials(t *testing.T) {
	t.Parallel()
	h := open(t)
	post := func(who, body string, change func(*http.Request)) int {
		r := batch(body)
		if change != nil {
			change(r)
		}
		return h.do(who, r).Code
	}
	whole, _ := json.Marshal(map[string]any{"items": []item{mark(1)}})
	for _, c := range []struct {
		name, who, body string
		change          func(*http.Request)
		want            int
	}{
		{"a parent may not send marks", parentA, string(whole), nil, 404},
		{"a locked account may not send marks", "ac09", string(whole), nil, 401},
		{"nobody may send what somebody else tapped", teacherA, string(whole), func(r *http.Request) { r.Header.Set("Tapped-By", id(helperA)) }, 409},
		{"another site may not send", teacherA, string(whole), func(r *http.Request) { r.Header.Set("Sec-Fetch-Site", "cross-site") }, 403},
		{"broken JSON", teacherA, `{"items": [`, nil, 400},
		{"no list", teacherA, `{"items": 7}`, nil, 400},
		{"a form", teacherA, string(whole), func(r *http.Request) { r.Header.Set("Content-Type", "text/plain") }, 415},
		{"too many items", teacherA, `{"items": [` + strings.Repeat(`{},`, 200) + `{}]}`, nil, 413},
		{"too many bytes", teacherA, `{"items": ["` + strings.Repeat("x", 256<<10) + `"]}`, nil, 413},
	} {
		if got := post(c.who, c.body, c.change); got != c.want {
			t.Errorf("%s: %d, want %d", c.name, got, c.want)
		}
	}
	if n := h.count(`sheet_receipt where received_at >= '2026-03-04 17:00+00'`); n != 0 {
		t.Errorf("%d receipts for what was refused", n)
	}
}

// Rights that are lost meanwhile lose no mark: a teacher decides.
func TestRightsLostWaitForATeacher(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name, who string
		before    func(*hall)
	}{
		{"an assistant of another lesson", helperB, func(*hall) {}},
		{"an assistant a quarter of an hour after the end", helperA, func(h *hall) { h.later(46 * time.Minute) }},
		{"an assistant taken off the roster", helperA, func(h *hall) { h.exec(`delete from class_staff where staff_id = $1`, id("5f04")) }},
		{"the teacher of another class", teacherB, func(*hall) {}},
		{"the teacher four days later", teacherA, func(h *hall) {
			h.exec(`update session set expires_at = expires_at + interval '5 days'`)
			h.later(4 * 24 * time.Hour)
		}},
		{"a lesson that was called off", teacherA, func(h *hall) { h.exec(`update lesson set cancelled_at = now() where id = $1`, id("1ea0")) }},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			h := open(t)
			c.before(h)
			accepted, aside := mark(1), mark(2)
			h.expect("quarantined quarantined", c.who, accepted, aside)
			a := h.expect("duplicate", c.who, accepted)
			if a.Answers[0].Was != "quarantined" || a.Answers[0].Words == "" {
				t.Errorf("%+v", a.Answers[0])
			}
			if n := h.count(`mark where id = any($1)`, []string{accepted["id"].(string), aside["id"].(string)}); n != 0 {
				t.Errorf("%d count already", n)
			}
			for what, i := range map[string]item{"accept": accepted, "aside": aside} {
				var digest string
				if err := h.rows.QueryRow(t.Context(), `select digest from sheet_item where id = $1`, i["id"]).Scan(&digest); err != nil {
					t.Fatal(err)
				}
				form := url.Values{"item": {i["id"].(string)}, "digest": {digest}, "what": {what}}
				h.post(teacherB, "/lessons/"+id("1eb0")+"/review/item", form, 404)
				h.post(helperA, "/lessons/"+id("1ea0")+"/review/item", form, 404)
				h.post(owner, "/lessons/"+id("1ea0")+"/review/item", form, 303)
			}
			if n := h.count(`mark where id = $1 and marked_by = $2`, accepted["id"], id(c.who)); n != 1 {
				t.Error("the accepted mark does not count as the work of whoever made it")
			}
			if n := h.count(`mark where id = $1`, aside["id"]); n != 0 {
				t.Error("the mark that was set aside counts")
			}
		})
	}
}

func TestLessonThatIsNotThereLooksLikeOneThatIsNotYours(t *testing.T) {
	t.Parallel()
	h := open(t)
	a := h.expect("quarantined quarantined", teacherB, mark(1), mark(2).with("lesson", id("dead")))
	if a.Answers[0].Words != a.Answers[1].Words {
		t.Errorf("%+v", a.Answers)
	}
}

// A strike and its mark end the same in both orders: neither counts.
func TestStrikeBeforeAndAfterItsMark(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name  string
		order func(m, s item) [][]item
	}{
		{"after", func(m, s item) [][]item { return [][]item{{m}, {s}} }},
		{"in one batch", func(m, s item) [][]item { return [][]item{{m, s}} }},
		{"in one batch, before", func(m, s item) [][]item { return [][]item{{s, m}} }},
		{"before", func(m, s item) [][]item { return [][]item{{s}, {m}} }},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			h := open(t)
			m := mark(1)
			s := mark(2).with("kind", "strike", "replaces", m["id"], "outcome", "")
			kept := mark(3)
			before := h.inForce()
			for _, part := range c.order(m, s) {
				h.send(helperA, part...)
			}
			h.expect("stored", helperA, kept)
			if got := h.inForce(); got != before+1 {
				t.Errorf("%d marks in force, want %d", got, before+1)
			}
		})
	}
}

// inForce counts the marks of the sheet's state.
func (h *hall) inForce() int {
	h.Helper()
	return len(h.state(teacherA, id("1ea0")).Marks)
}

func TestAnAssistantTakesBackOwnMarksOnly(t *testing.T) {
	t.Parallel()
	h := open(t)
	teachers, own := mark(1), mark(2)
	h.expect("stored", teacherA, teachers)
	h.expect("stored quarantined stored", helperA, own, mark(3).with("kind", "strike", "replaces", teachers["id"]), mark(4).with("kind", "strike", "replaces", own["id"]))
	h.expect("stored", teacherA, mark(5).with("kind", "strike", "replaces", teachers["id"]))
}

// Marks of assistants wait where the studio wants it so.
func TestAssistantsMarksWaitForATeacher(t *testing.T) {
	t.Parallel()
	h := open(t)
	h.exec(`insert into studio_settings (chosen, changed_at) values ('{"confirm": true}', now()) on conflict (one) do update set chosen = '{"confirm": true}'`)
	counted := func() int {
		return h.page(owner, "/children/"+id("c1a1")+"/marks", 200).Find(`a[href*="?correct="]`).Length()
	}
	before := counted()
	helpers, aside, teachers := mark(1), mark(2), mark(3)
	h.expect("stored stored", helperA, helpers, aside)
	if n := counted(); n != before {
		t.Errorf("%d marks count before anybody looked, want %d", n, before)
	}
	h.expect("stored", teacherA, teachers)
	if n := counted(); n != before+1 {
		t.Errorf("the teacher's own mark waits: %d, want %d", n, before+1)
	}
	review := "/lessons/" + id("1ea0") + "/review"
	if n := h.page(teacherA, review, 200).Find("#waiting input[name=mark]").Length(); n != 2 {
		t.Errorf("%d wait", n)
	}
	h.post(helperA, review+"/confirm", url.Values{"mark": {helpers["id"].(string)}, "what": {"count"}}, 404)
	h.post(teacherB, review+"/confirm", url.Values{"mark": {helpers["id"].(string)}, "what": {"count"}}, 404)
	h.post(teacherA, review+"/confirm", url.Values{"mark": {helpers["id"].(string)}, "what": {"count"}}, 303)
	h.post(teacherA, review+"/confirm", url.Values{"mark": {aside["id"].(string)}, "what": {"aside"}}, 303)
	if n := counted(); n != before+2 {
		t.Errorf("%d marks count at the end, want %d", n, before+2)
	}
	if n := h.page(teacherA, review, 200).Find("#waiting").Length(); n != 0 {
		t.Error("something still waits")
	}
}

// Whatever bytes arrive, the endpoint answers in its own words.
func TestNoBodyBreaksTheEndpoint(t *testing.T) {
	t.Parallel()
	h := open(t)
	const seed = 7
	random := rand.New(rand.NewPCG(seed, seed))
	whole, _ := json.Marshal(map[string]any{"items": []item{mark(1), mark(2).with("kind", "note", "text", "a"), mark(3).with("kind", "attendance", "present", true), mark(4).with("kind", "strike", "replaces", newID())}})
	values := []string{`null`, `[]`, `{}`, `1e999999`, `-1`, `true`, `"\u0000"`, `"\ud800"`, `""`, `"` + strings.Repeat("é", 5000) + `"`, `"00000000-0000-0000-0000-000000000000"`, `[[[[]]]]`}
	for range 400 {
		body := []byte(string(whole))
		for range 1 + random.IntN(4) {
			switch at := random.IntN(len(body)); random.IntN(3) {
			case 0:
				body[at] ^= byte(1 << random.IntN(8))
			case 1:
				body = slices.Delete(body, at, min(len(body), at+random.IntN(20)))
			default: // another value for a field
				if colon := strings.IndexByte(string(body[at:]), ':'); colon >= 0 {
					from := at + colon + 1
					to := from
					for to < len(body) && body[to] != ',' && body[to] != '}' {
						to++
					}
					body = slices.Concat(body[:from], []byte(values[random.IntN(len(values))]), body[to:])
				}
			}
			if len(body) == 0 {
				body = []byte(`{}`)
			}
		}
		if w := h.do(teacherA, batch(string(body))); w.Code != 200 && w.Code != 400 {
			t.Fatalf("%d for %q (seed %d): %s", w.Code, body, seed, w.Body)
		}
	}
}
