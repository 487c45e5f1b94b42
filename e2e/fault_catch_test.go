package e2e

import (
	"context"
	"encoding/json"
	"io"
	"net/http"
	"net/http/httptest"
	"strings"
	"sync"
	"testing"
	"time"
)

// double is a program of a few lines in the place of the real one, which can be told to do wrong.
type double struct {
	forgetful, careless bool

	mu   sync.Mutex
	rows []keptItem
	seen map[string]bool
}

func (d *double) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	body, err := io.ReadAll(r.Body)
	if err != nil {
		w.WriteHeader(http.StatusBadRequest)
		return
	}
	d.mu.Lock()
	defer d.mu.Unlock()
	for _, raw := range rawItems(body) {
		var i sent
		if json.Unmarshal(raw, &i) != nil || d.seen[i.ID] && !d.forgetful {
			continue
		}
		d.seen[i.ID] = true
		k := keptItem{ID: i.ID, Content: string(raw), Answer: "stored"}
		if i.Kind == "mark" || i.Kind == "strike" {
			k.Mark = &keptMark{i.Child, i.Rung, i.Lesson, i.Side, i.Outcome, i.Replaces, "", i.Faults}
			if i.Kind == "strike" {
				k.Mark.Outcome = "withdrawn"
			}
			if d.careless && i.Seq%50 == 0 {
				k.Mark.Child = "somebody else"
			}
		}
		d.rows = append(d.rows, k)
	}
	w.Write(yes(body))
}

func rawItems(body []byte) []json.RawMessage {
	var batch struct{ Items []json.RawMessage }
	json.Unmarshal(body, &batch)
	return batch.Items
}

// yes answers for each item that it is stored.
func yes(body []byte) []byte {
	var answers []map[string]string
	for _, raw := range rawItems(body) {
		var i sent
		json.Unmarshal(raw, &i)
		answers = append(answers, map[string]string{"id": i.ID, "answer": "stored"})
	}
	out, _ := json.Marshal(map[string]any{"receipt": "none", "answers": answers})
	return out
}

// The judge of the fault test sees what it is there to see: each wrong is done on purpose, and found; without one nothing is.
func TestFaultsAreCaught(t *testing.T) {
	cases := map[string]struct {
		forgetful, careless bool
		forged              func([]byte) []byte
		seen                func(verdict) int
	}{
		"a program that does right":         {},
		"a program that forgets it had it":  {forgetful: true, seen: func(v verdict) int { return v.doubled }},
		"a program that mixes children up":  {careless: true, seen: func(v verdict) int { return v.altered }},
		"a line that answers by itself":     {forged: yes, seen: func(v verdict) int { return v.absent }},
		"a line that answers, and the rest": {forgetful: true, forged: yes, seen: func(v verdict) int { return min(v.absent, v.doubled) }},
	}
	for name, c := range cases {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			program := &double{forgetful: c.forgetful, careless: c.careless, seen: map[string]bool{}}
			server := httptest.NewServer(program)
			t.Cleanup(server.Close)
			line := newBadLine(t, 7, server.URL)
			line.forged = c.forged
			soaks := doubleTablets(t, line.url)
			ctx, cancel := context.WithTimeout(t.Context(), time.Minute)
			defer cancel()
			for err := range runAll(ctx, soaks) {
				if err != nil {
					t.Fatal(err)
				}
			}
			line.late.Wait()
			v := judge(journals(soaks), program.rows, "stored")
			t.Log(v)
			if all := v.lost + v.doubled + v.altered + v.absent + v.foreign; c.seen == nil && all > 0 || c.seen != nil && c.seen(v) == 0 {
				t.Errorf("the judge says: %v %s", v, strings.Join(v.first, "; "))
			}
		})
	}
}

func doubleTablets(t *testing.T, line string) []*soak {
	room := classroom{Lesson: "lesson", Children: []string{"ada", "bo", "cy"}, Rungs: []roomRung{{Key: "hold", Faults: []string{"arms"}}, {Key: "wheel", Sided: true}}}
	var soaks []*soak
	for n := range 4 {
		s, err := newSoak(7, n, signIn{}, line, room, 300)
		if err != nil {
			t.Fatal(err)
		}
		soaks = append(soaks, s)
	}
	return soaks
}
