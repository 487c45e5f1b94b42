package app

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"github.com/google/uuid"
	"rungbook/internal/engine/lesson"
	"rungbook/internal/engine/standing"
	"rungbook/internal/postgres"
	"rungbook/internal/studio"
)

// fiveOfAKind is an evening of five children who stand alike, in two groups of which half work at once: two children never wait, three
// do. Four adults who run stations are more than enough.
func fiveOfAKind(t *testing.T) *evening {
	t.Helper()
	l, err := newLadders(smallLibrary())
	if err != nil {
		t.Fatal(err)
	}
	l.Ladders[0].Rungs = l.Ladders[0].Rungs[:1]
	l.Ladders[1].Rungs[0].Needs = nil // a rung of each ladder is open to all
	for i := range l.Ladders {
		l.Ladders[i].Rungs[0].TurnSeconds = 120 // so few turns that each one counts
	}
	if l, err = newLadders(l.Library); err != nil {
		t.Fatal(err)
	}
	e := &evening{ladders: l, boards: map[uuid.UUID]standing.Board{}, day: date("2026-03-04")}
	e.Lesson = studio.Lesson{ID: uuid.New(), StartsAt: e.day.Add(16 * time.Hour)}
	e.Class = studio.Class{Groups: 2, Rotations: 1, MaxActivities: 2, TimeZone: "UTC"}
	e.Blocks = []studio.Block{{Kind: studio.StationsBlock, Minutes: 11}}
	for i := range 5 {
		c := postgres.EveningChild{Child: studio.Child{ID: numbered(i), GivenName: fmt.Sprint("Child ", i)}, BirthDate: date("2016-01-01")}
		board, err := l.graph.Board(nil, standing.Defaults(), e.day)
		if err != nil {
			t.Fatal(err)
		}
		e.Children, e.boards[c.ID] = append(e.Children, c), board
	}
	for i := range 4 {
		e.Staff = append(e.Staff, postgres.EveningStaff{Staff: studio.Staff{ID: numbered(10 + i), Name: fmt.Sprint("Adult ", i), CanLead: true}, BirthDate: date("1990-01-01")})
	}
	return e
}

func numbered(n int) uuid.UUID { return uuid.UUID{6: 0x40, 8: 0x80, 15: byte(n + 1)} }

func proposed(t *testing.T, e *evening) studio.Plan {
	t.Helper()
	result, err := lesson.Propose(t.Context(), e.input(nil))
	if err != nil {
		t.Fatal(err)
	}
	return e.planOf(result.Plan, nil)
}

// Three of five wait each week, and only two places are free of it: without a memory the same three wait again, as groups stay together
// among equals; with it the two places go to those who waited, so one waits twice at the least (counted by hand).
func TestWhoWaitedMostIsSpared(t *testing.T) {
	e := fiveOfAKind(t)
	first := proposed(t, e)
	again := func(last studio.Plan) int {
		e.last = &lastPlan{Plan: last}
		second := proposed(t, e)
		twice := 0
		for _, c := range e.Children {
			if first.Entry(1, c.ID).WaitShare > 0.1 && second.Entry(1, c.ID).WaitShare > 0.1 {
				twice++
			}
		}
		return twice
	}
	groupsOnly := first
	groupsOnly.Entries = nil
	if n := again(groupsOnly); n != 3 {
		t.Errorf("without a memory %d wait twice, want all 3", n)
	}
	if n := again(first); n != 1 {
		t.Errorf("with a memory %d wait twice, want 1", n)
	}
}

// The factor is the share above the mean, at most 15%: of 0.7, 0.2 and 0.3, which are 0.4 on average, it is 1.15, 1 and 1; of 0.5, 0.4
// and 0.45 it is 1.05, 1 and 1 (by hand).
func TestFavour(t *testing.T) {
	e := fiveOfAKind(t)
	for _, c := range []struct{ waits, want []float64 }{{[]float64{0.7, 0.2, 0.3}, []float64{1.15, 1, 1}}, {[]float64{0.5, 0.4, 0.45}, []float64{1.05, 1, 1}}} {
		var p studio.Plan
		for i, w := range c.waits {
			p.Members = append(p.Members, studio.PlanMember{ChildID: numbered(i), GroupNo: 1})
			p.Entries = append(p.Entries, studio.PlanEntry{Rotation: 1, ChildID: numbered(i), WaitShare: w})
		}
		e.last = &lastPlan{Plan: p}
		for i, want := range c.want {
			if got := e.favour(numbered(i)); got < want-1e-9 || got > want+1e-9 {
				t.Errorf("waits %v: factor %d is %v, want %v", c.waits, i, got, want)
			}
		}
	}
	if words := e.favourWords(numbered(0)); !strings.Contains(words, "waited 50% of the stations, the class 45% on average") || !strings.Contains(words, "5% more") {
		t.Errorf("the reason says %q", words)
	}
	if words := e.favourWords(numbered(4)); words != "" {
		t.Errorf("a child who was not there is favoured: %q", words)
	}
}
