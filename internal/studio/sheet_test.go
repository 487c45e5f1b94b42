package studio_test

import (
	"encoding/json"
	"strings"
	"testing"
	"time"

	"rungbook/internal/studio"
)

func TestDigestLooksAtContentNotAtSpelling(t *testing.T) {
	one := studio.ReadItem(json.RawMessage(`{"id":"0195617c-0000-7000-8000-000000000001","rung":"hs-hold","faults":["a","b"],"seq":3}`))
	same := studio.ReadItem(json.RawMessage(`{ "seq": 3, "faults": ["a", "b"], "rung": "hs-hold", "id": "0195617c-0000-7000-8000-000000000001" }`))
	other := studio.ReadItem(json.RawMessage(`{"id":"0195617c-0000-7000-8000-000000000001","rung":"hs-hold","faults":["a"],"seq":3}`))
	if one.Digest() != same.Digest() || one.Digest() == other.Digest() {
		t.Errorf("digests %s, %s (same), %s (other)", one.Digest(), same.Digest(), other.Digest())
	}
}

// A device's clock only advises: whatever it says, the turn is shown within the lesson.
func TestSeenAtStaysInTheLesson(t *testing.T) {
	start := time.Date(2026, 3, 4, 16, 30, 0, 0, time.UTC)
	lesson := studio.Lesson{StartsAt: start, Minutes: 60}
	during, dayAfter := start.Add(20*time.Minute), start.AddDate(0, 0, 1)
	for _, c := range []struct {
		name, clientAt string
		received, want time.Time
	}{
		{"a clock that is right", "2026-03-04T16:40:00Z", during, start.Add(10 * time.Minute)},
		{"a clock that is right, in another zone", "2026-03-04T18:40:00+02:00", during, start.Add(10 * time.Minute)},
		{"a clock thirty years slow", "1996-03-04T16:40:00Z", during, during},
		{"a clock years fast", "2031-01-01T00:00:00Z", during, during},
		{"a little ahead of the server", "2026-03-04T16:55:00Z", during, during},
		{"no time at all", "half past four", during, during},
		{"sent the next day", "2026-03-04T16:40:00Z", dayAfter, start.Add(10 * time.Minute)},
		{"sent the next day by a wrong clock", "1970-01-01T00:00:00Z", dayAfter, start},
	} {
		raw, _ := json.Marshal(map[string]string{"client_at": c.clientAt})
		if got := studio.ReadItem(raw).SeenAt(lesson, c.received); !got.Equal(c.want) {
			t.Errorf("%s: seen at %s, want %s", c.name, got, c.want)
		}
	}
}

func TestWhatCannotBeReadIsSaid(t *testing.T) {
	for _, raw := range []string{`7`, `null`, `[]`, `"x"`, `{"id":7}`, `{"id":"x"}`, `{"id":"0195617c000070008000000000000001"}`, `{"faults":"a"}`, `{"present":"yes"}`, `{"kind":{}}`,
		`{"rung":"` + strings.Repeat("x", 81) + `"}`, `{"rung":"a\u0000b"}`, `{"child":"urn:uuid:0195617c-0000-7000-8000-000000000001"}`} {
		if item := studio.ReadItem(json.RawMessage(raw)); item.Problem == "" {
			t.Errorf("%s is read without a word", raw)
		}
	}
}

func FuzzReadItem(f *testing.F) {
	for _, seed := range []string{`{"id":"0195617c-0000-7000-8000-000000000001","kind":"mark","faults":["a"],"present":null,"client_at":"2026-03-04T16:40:00Z"}`, `{"id":1e999999}`,
		`{"text":"\ud800"}`, "\xff\xfe", `{"a":{"b":[[[[]]]]}}`, ``} {
		f.Add([]byte(seed))
	}
	f.Fuzz(func(t *testing.T, raw []byte) {
		item := studio.ReadItem(raw)
		if strings.ContainsRune(item.Content, 0) || strings.ContainsRune(item.Text+item.Rung, 0) || len(item.Digest()) != 64 {
			t.Errorf("%q gives %+v", raw, item)
		}
	})
}
