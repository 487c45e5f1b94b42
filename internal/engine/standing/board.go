package standing

import (
	"fmt"
	"time"
)

// State is where a child stands on a rung.
type State string

// The states. Waiting: needs are open. Open: may be begun. Working: begun. Secure: the rule is met. Recheck: was secure,
// but long unseen, or missed or unsafe since.
const (
	Waiting State = "waiting"
	Open    State = "open"
	Working State = "working"
	Secure  State = "secure"
	Recheck State = "recheck"
)

// Tally is the last marks of one side against the rule: Clean of Of, in Lessons lessons. SafetyFault means that one was
// seen within the rule's window. Met is the rule for this side.
type Tally struct {
	Side        Side
	Clean       int
	Of          int
	Lessons     int
	SafetyFault bool
	Met         bool
}

// Standing is one child on one rung.
type Standing struct {
	RungID string
	State  State
	Reason string
	// Sides has one tally, or the left's and the right's of a two-sided rung. Weaker is the side with the lower share of
	// clean marks, a side without marks being the weaker one; NoSide when they are level.
	Sides  []Tally
	Weaker Side
	// Sideless counts the marks of a two-sided rung that name no side: they count for neither, their safety faults for both.
	Sideless int
	// Near is how much (0 to 1) of the clean marks the rule asks for is there, the mean of the sides.
	Near float64
	// Marks is how many there are in all. Rate is the clean share of the Recent last ones, with its Wilson 95% interval;
	// Few warns of a rate from few marks. Markers is how many people gave those marks.
	Marks     int
	Recent    int
	Rate      float64
	Low, High float64
	Few       bool
	Markers   int
	// DaysUnseen counts from the last mark to today, -1 without marks.
	DaysUnseen int
	// Recall is the chance that it is still there by the studio's memory settings, and HalfLife (days) that of the side
	// more likely lost; both 0 before the first clean mark.
	Recall   float64
	HalfLife float64
	// SecureSince is the day the rule was first met, zero if never.
	SecureSince time.Time
	// Missing are the rungs to make secure before this one is open, in order; Begin those of them that may be begun now.
	// NeedsRecheck are the direct needs due a recheck.
	Missing      []string
	Begin        []string
	NeedsRecheck []string
}

// Met reports whether the rung counts as done for what needs it.
func (s Standing) Met() bool { return s.State == Secure || s.State == Recheck }

// Board is where one child stands on every rung, in topological order.
type Board struct {
	Rungs    []Standing
	graph    *Graph
	marks    [][]Mark // by rung, in order of time
	settings Settings
}

// Board judges all rungs of one child as of today. Marks after today and marks of rungs outside of the graph are left
// out; the order of marks matters only between marks of the same instant. It fails on settings or marks that make no sense.
func (g *Graph) Board(marks []Mark, s Settings, today time.Time) (Board, error) {
	if err := s.Validate(); err != nil {
		return Board{}, err
	}
	byRung, err := g.deal(marks, today)
	if err != nil {
		return Board{}, fmt.Errorf("judge a child's marks: %w", err)
	}
	b := Board{Rungs: make([]Standing, len(g.rungs)), graph: g, marks: byRung, settings: s}
	for i := range g.rungs {
		b.Rungs[i] = b.judge(i, byRung[i], s, today)
	}
	return b, nil
}

// On is the standing on one rung; ok is false when the graph has no such rung.
func (b Board) On(id string) (s Standing, ok bool) {
	if b.graph == nil {
		return Standing{}, false
	}
	i, ok := b.graph.index[id]
	if !ok {
		return Standing{}, false
	}
	return b.Rungs[i], true
}

// Met is the set of rungs that count as done.
func (b Board) Met() Met {
	met := Met{}
	for _, s := range b.Rungs {
		if s.Met() {
			met[s.RungID] = true
		}
	}
	return met
}

// judge needs the standings of all rungs before i.
func (b Board) judge(i int, marks []Mark, s Settings, today time.Time) Standing {
	st := Standing{RungID: b.graph.rungs[i].ID, Marks: len(marks), DaysUnseen: -1}
	for _, j := range b.graph.needs[i] {
		if b.Rungs[j].State == Recheck {
			st.NeedsRecheck = append(st.NeedsRecheck, b.Rungs[j].RungID)
		}
	}
	st.Missing = b.graph.names(b.graph.missing(i, func(j int) bool { return b.Rungs[j].Met() }))
	for _, id := range st.Missing {
		if s, _ := b.On(id); len(s.Missing) == 0 {
			st.Begin = append(st.Begin, id)
		}
	}
	st.read(marks, b.graph.rungs[i].TwoSided, s, today)
	st.State = st.state(s)
	st.Reason = b.reason(i, st, s)
	return st
}

func (st Standing) state(s Settings) State {
	switch {
	case !st.SecureSince.IsZero() && (!st.ruleMet() || st.Recall < s.Memory.Recheck):
		return Recheck
	case !st.SecureSince.IsZero():
		return Secure
	case len(st.Missing) > 0:
		return Waiting
	case st.Marks > 0:
		return Working
	}
	return Open
}

func (st Standing) ruleMet() bool {
	for _, t := range st.Sides {
		if !t.Met {
			return false
		}
	}
	return true
}
