package e2e

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"io"
	"math/rand/v2"
	"net/http"
	"net/http/cookiejar"
	"net/url"
	"slices"
	"strconv"
	"sync"
	"time"

	"github.com/google/uuid"
)

// sent is an item as the sheet of a tablet sends it; see studio.SheetItem.
type sent struct {
	ID       string   `json:"id"`
	Device   string   `json:"device"`
	Seq      int      `json:"seq"`
	Lesson   string   `json:"lesson"`
	Kind     string   `json:"kind"`
	Child    string   `json:"child,omitempty"`
	Rung     string   `json:"rung,omitempty"`
	Side     string   `json:"side,omitempty"`
	Outcome  string   `json:"outcome,omitempty"`
	Faults   []string `json:"faults,omitempty"`
	Text     string   `json:"text,omitempty"`
	Present  *bool    `json:"present,omitempty"`
	Replaces string   `json:"replaces,omitempty"`
	ClientAt string   `json:"client_at"`
}

// entry is a line of a tablet's journal: the item, its bytes as sent, and the last word of the server about it ("" while none came).
type entry struct {
	sent
	raw      json.RawMessage
	answered string
	as       string // who it was tapped by
}

// classroom is what tablets choose from.
type classroom struct {
	Lesson   string
	Children []string
	Rungs    []roomRung
}

type roomRung struct {
	Key    string
	Sided  bool
	Faults []string
}

// soak is a simulated tablet: it notes, keeps, sends in order one batch at a time, and lets go only of what was answered.
type soak struct {
	no      int
	who     signIn
	line    string
	room    classroom
	random  *rand.Rand
	ids     io.Reader
	client  *http.Client
	marks   int // still to make
	retries int

	mu       sync.Mutex
	journal  []*entry
	pending  []*entry
	receipts []string
}

func newSoak(seed uint64, no int, who signIn, line string, room classroom, marks int) (*soak, error) {
	jar, err := cookiejar.New(nil)
	if err != nil {
		return nil, err
	}
	var key [32]byte
	copy(key[:], fmt.Sprintf("%d tablet %d", seed, no))
	return &soak{no: no, who: who, line: line, room: room, marks: marks, random: rand.New(rand.NewPCG(seed, uint64(1000+no))), ids: rand.NewChaCha8(key),
		client: &http.Client{Jar: jar, Timeout: 5 * time.Second, CheckRedirect: func(*http.Request, []*http.Request) error { return http.ErrUseLastResponse }}}, nil
}

// run notes everything and sends it. It ends when the outbox is empty or the context ends.
func (s *soak) run(ctx context.Context) error {
	for s.marks > 0 {
		for range min(s.marks, 1+s.random.IntN(60)) {
			if err := s.note(); err != nil {
				return err
			}
		}
		if s.random.IntN(3) > 0 { // else there is no network just now
			if err := s.send(ctx, 1+s.random.IntN(5)); err != nil {
				return err
			}
		}
	}
	return s.send(ctx, -1)
}

// note makes one item: mostly a mark, now and then one taken back or corrected, who is here, or a quick note.
func (s *soak) note() error {
	id, err := uuid.NewV7FromReader(s.ids)
	if err != nil {
		return err
	}
	i := sent{ID: id.String(), Device: fmt.Sprintf("tablet-%d", s.no), Seq: len(s.journal) + 1, Lesson: s.room.Lesson, Kind: "mark",
		Child: pick(s.random, s.room.Children), ClientAt: time.Now().Add(s.clockFault()).UTC().Format(time.RFC3339Nano)}
	old := s.lastMark()
	switch n := s.random.IntN(100); {
	case n < 4:
		i.Kind, i.Present = "attendance", new(s.random.IntN(4) > 0)
	case n < 6:
		i.Kind, i.Text = "note", fmt.Sprintf("Note %d of tablet %d: naïve ⟨%c⟩ \"quoted\"", i.Seq, s.no, 'a'+rune(s.random.IntN(26)))
	case n < 12 && old != nil:
		i.Kind, i.Child, i.Rung, i.Side, i.Replaces = "strike", old.Child, old.Rung, old.Side, old.ID
	default:
		rung := pick(s.random, s.room.Rungs)
		if n < 18 && old != nil {
			i.Child, i.Replaces = old.Child, old.ID
			rung = s.room.Rungs[slices.IndexFunc(s.room.Rungs, func(r roomRung) bool { return r.Key == old.Rung })]
		}
		i.Rung, i.Outcome, i.Side = rung.Key, pick(s.random, []string{"missed", "supported", "clean"}), "none"
		if rung.Sided {
			i.Side = pick(s.random, []string{"left", "right"})
		}
		if len(rung.Faults) > 0 && s.random.IntN(3) == 0 {
			i.Faults = []string{pick(s.random, rung.Faults)}
		}
		s.marks--
	}
	raw, err := json.Marshal(i)
	if err != nil {
		return err
	}
	e := &entry{sent: i, raw: raw, as: s.who.email}
	s.mu.Lock()
	defer s.mu.Unlock()
	s.journal, s.pending = append(s.journal, e), append(s.pending, e)
	return nil
}

// clockFault sets the clock of every fifth tablet wrong by years.
func (s *soak) clockFault() time.Duration {
	if s.no%5 != 0 {
		return 0
	}
	return time.Duration(s.random.IntN(7)-3) * 365 * 24 * time.Hour
}

// lastMark is a mark of this tablet's own that may be corrected, the newest.
func (s *soak) lastMark() *entry {
	for _, e := range slices.Backward(s.journal) {
		if e.Kind == "mark" {
			return e
		}
	}
	return nil
}

func pick[T any](r *rand.Rand, from []T) T { return from[r.IntN(len(from))] }

// send tries to send what is pending: at most so many times, or until nothing is left when tries is negative.
func (s *soak) send(ctx context.Context, tries int) error {
	for ; tries != 0 && len(s.pending) > 0; tries-- {
		if err := ctx.Err(); err != nil {
			return fmt.Errorf("tablet %d still holds %d items: %w", s.no, len(s.pending), err)
		}
		status, err := s.sendBatch(ctx, s.pending[:min(len(s.pending), 1+s.random.IntN(100))])
		switch {
		case err == nil && status == http.StatusOK:
			continue
		case err == nil && status == http.StatusUnauthorized:
			s.signIn(ctx)
		case err == nil && status < 500 && status != http.StatusTooManyRequests:
			return fmt.Errorf("tablet %d: a batch was answered %d", s.no, status)
		default:
			s.retries++
		}
		time.Sleep(time.Duration(10+s.random.IntN(40)) * time.Millisecond)
	}
	return nil
}

// sendBatch sends items as one batch and lets go of those that were answered. An error is a line that failed.
func (s *soak) sendBatch(ctx context.Context, batch []*entry) (int, error) {
	var items []json.RawMessage
	for _, e := range batch {
		items = append(items, e.raw)
	}
	body, err := json.Marshal(map[string]any{"items": items})
	if err != nil {
		return 0, err
	}
	status, got, err := s.post(ctx, "/sheet/items", "application/json", body)
	if err != nil || status != http.StatusOK {
		return status, err
	}
	var answer struct {
		Receipt string
		Answers []struct{ ID, Answer, Was string }
	}
	if err := json.Unmarshal(got, &answer); err != nil {
		return 0, err
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	s.receipts = append(s.receipts, answer.Receipt)
	gone := map[string]bool{}
	for _, a := range answer.Answers {
		for _, e := range batch {
			if e.ID == a.ID {
				e.answered, gone[e.ID] = a.Answer, true
				if a.Answer == "duplicate" && a.Was != "" {
					e.answered = a.Was
				}
			}
		}
	}
	s.pending = slices.DeleteFunc(s.pending, func(e *entry) bool { return gone[e.ID] })
	return status, nil
}

// signIn opens a session; the next batch shows whether it worked.
func (s *soak) signIn(ctx context.Context) {
	form := url.Values{"email": {s.who.email}, "passphrase": {s.who.passphrase}}
	if _, _, err := s.post(ctx, "/sign-in", "application/x-www-form-urlencoded", []byte(form.Encode())); err != nil {
		s.retries++
	}
}

func (s *soak) post(ctx context.Context, path, kind string, body []byte) (int, []byte, error) {
	r, err := http.NewRequestWithContext(ctx, http.MethodPost, s.line+path, bytes.NewReader(body))
	if err != nil {
		return 0, nil, err
	}
	r.Header.Set("Content-Type", kind)
	r.Header.Set(tabletHeader, strconv.Itoa(s.no))
	answer, err := s.client.Do(r)
	if err != nil {
		return 0, nil, err
	}
	defer answer.Body.Close()
	got, err := io.ReadAll(answer.Body)
	return answer.StatusCode, got, err
}

// acknowledged are the ids that the server has answered for so far.
func (s *soak) acknowledged() []string {
	s.mu.Lock()
	defer s.mu.Unlock()
	var ids []string
	for _, e := range s.journal {
		if e.answered != "" {
			ids = append(ids, e.ID)
		}
	}
	return ids
}
