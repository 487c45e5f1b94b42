package e2e

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"math/rand/v2"
	"net/http"
	"net/http/httptest"
	"strconv"
	"sync"
	"sync/atomic"
	"testing"
	"time"
)

// tabletHeader names the tablet of a request, so that each has faults of its own, drawn from the seed by the count of its requests.
const tabletHeader = "Fault-Tablet"

// badLine is a network between tablets and the program that loses requests and answers, sends requests twice, holds them back until
// later ones have passed, delays and cuts. Which fault meets the nth request of a tablet follows from the seed alone.
type badLine struct {
	url    string
	to     string
	forged func(body []byte) []byte // answers without asking the program, now and then; nil is honest
	calm   atomic.Bool              // no faults any more
	client http.Client
	late   sync.WaitGroup // requests that are held back

	mu    sync.Mutex
	draws map[string]*rand.Rand
	seed  uint64
	told  map[string]int // faults by name
}

func newBadLine(t *testing.T, seed uint64, to string) *badLine {
	l := &badLine{to: to, seed: seed, draws: map[string]*rand.Rand{}, told: map[string]int{}}
	l.client = http.Client{Timeout: 20 * time.Second, Transport: &http.Transport{MaxIdleConnsPerHost: 32}, CheckRedirect: func(*http.Request, []*http.Request) error {
		return http.ErrUseLastResponse
	}}
	server := httptest.NewServer(l)
	l.url = server.URL
	t.Cleanup(func() {
		server.CloseClientConnections()
		server.Close()
		l.late.Wait()
		l.client.CloseIdleConnections()
	})
	return l
}

// fault is what happens to one request.
type fault struct {
	kind string
	wait time.Duration
}

// draw gives the fault of a tablet's next request: about one in three has one.
func (l *badLine) draw(tablet string) fault {
	l.mu.Lock()
	defer l.mu.Unlock()
	if l.calm.Load() {
		return fault{kind: "none"}
	}
	r := l.draws[tablet]
	if r == nil {
		n, _ := strconv.ParseUint(tablet, 10, 64)
		r = rand.New(rand.NewPCG(l.seed, n))
		l.draws[tablet] = r
	}
	kinds := [...]string{"request lost", "answer lost", "sent twice", "held back", "delayed", "cut short", "forged"}
	pick, wait := r.IntN(20), r.IntN(300)
	f := fault{kind: "none", wait: time.Duration(wait) * time.Millisecond}
	if pick < len(kinds) && (kinds[pick] != "forged" || l.forged != nil) {
		f.kind = kinds[pick]
		l.told[f.kind]++
	}
	return f
}

func (l *badLine) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	body, err := io.ReadAll(r.Body)
	if err != nil {
		panic(http.ErrAbortHandler)
	}
	switch f := l.draw(r.Header.Get(tabletHeader)); f.kind {
	case "request lost":
		panic(http.ErrAbortHandler)
	case "answer lost":
		l.pass(r.Context(), r, body)
		panic(http.ErrAbortHandler)
	case "sent twice":
		l.pass(r.Context(), r, body)
		l.answer(w, l.pass(r.Context(), r, body), 1)
	case "held back":
		l.late.Go(func() {
			time.Sleep(f.wait)
			l.pass(context.WithoutCancel(r.Context()), r, body)
		})
		panic(http.ErrAbortHandler)
	case "delayed":
		time.Sleep(f.wait)
		l.answer(w, l.pass(r.Context(), r, body), 1)
	case "cut short":
		l.answer(w, l.pass(r.Context(), r, body), 2)
	case "forged":
		w.Header().Set("Content-Type", "application/json")
		w.Write(l.forged(body))
	default:
		l.answer(w, l.pass(r.Context(), r, body), 1)
	}
}

// passed is an answer of the program; nil when there was none.
type passed struct {
	status int
	header http.Header
	body   []byte
}

func (l *badLine) pass(ctx context.Context, r *http.Request, body []byte) *passed {
	onward, err := http.NewRequestWithContext(ctx, r.Method, l.to+r.URL.RequestURI(), bytes.NewReader(body))
	if err != nil {
		return nil
	}
	onward.Header = r.Header.Clone()
	onward.Header.Set("X-Forwarded-For", "10.0.0."+r.Header.Get(tabletHeader))
	answer, err := l.client.Do(onward)
	if err != nil {
		return nil
	}
	defer answer.Body.Close()
	got, err := io.ReadAll(answer.Body)
	if err != nil {
		return nil
	}
	return &passed{answer.StatusCode, answer.Header, got}
}

// answer gives the tablet 1/share of an answer; a part breaks off.
func (l *badLine) answer(w http.ResponseWriter, p *passed, share int) {
	if p == nil {
		panic(http.ErrAbortHandler)
	}
	for name, values := range p.header {
		w.Header()[name] = values
	}
	w.Header().Set("Content-Length", strconv.Itoa(len(p.body)))
	w.WriteHeader(p.status)
	w.Write(p.body[:len(p.body)/share])
	if share > 1 {
		panic(http.ErrAbortHandler)
	}
}

func (l *badLine) String() string {
	l.mu.Lock()
	defer l.mu.Unlock()
	return fmt.Sprint(l.told)
}
