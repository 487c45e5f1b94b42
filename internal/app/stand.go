package app

import (
	"fmt"
	"strings"

	"rungbook/internal/engine/standing"
	"rungbook/internal/words"
)

// RungStand is where a child is on one rung, in words. Clean is the clean share of the last marks, below zero without marks.
type RungStand struct {
	Key, Name, State string
	Clean            float64
	Evidence         string // "4 of the last 5 clean, in 2 lessons"; "" without marks
	Reason           string // why the rung is in its state
	Numbers          string // the clean rate with its uncertainty; "" without marks
	Next             bool   // the lowest rung of its ladder to take next
	Corrections      []Correction
}

// LadderStand is one ladder with where a child is on each rung, bottom first.
type LadderStand struct {
	Key, Name string
	Rungs     []RungStand
}

// Secure counts the rungs that count as done.
func (l LadderStand) Secure() int { return l.count("secure") + l.count("recheck") }

// Begun reports whether anything on the ladder was marked.
func (l LadderStand) Begun() bool {
	for _, r := range l.Rungs {
		if r.Evidence != "" {
			return true
		}
	}
	return false
}

// Next is the rung to take next, nil when every rung is done or waits.
func (l LadderStand) Next() *RungStand {
	for i := range l.Rungs {
		if l.Rungs[i].Next {
			return &l.Rungs[i]
		}
	}
	return nil
}

// ChooseLadder is the ladder of a key, else the one that is furthest on and has a rung to work at or to recheck, else the first; ok is
// false when there is none at all.
func ChooseLadder(all []LadderStand, key string) (chosen LadderStand, ok bool) {
	for i, l := range all {
		if l.Key == key {
			return l, true
		}
		busy := l.count("working")+l.count("recheck") > 0
		if i == 0 || busy && (chosen.count("working")+chosen.count("recheck") == 0 || l.Secure() > chosen.Secure()) {
			chosen = l
		}
	}
	return chosen, len(all) > 0
}

func (l LadderStand) count(state string) int {
	n := 0
	for _, r := range l.Rungs {
		if r.State == state {
			n++
		}
	}
	return n
}

// stands puts a board into words, ladder by ladder in reading order.
func (l *ladders) stands(board standing.Board) []LadderStand {
	var all []LadderStand
	for _, ladder := range l.Ladders {
		stand := LadderStand{Key: ladder.Key, Name: ladder.Name}
		next := false
		for _, r := range ladder.Rungs {
			s, _ := board.On(r.Key) // the graph is made of these rungs
			rung := rungStand(r.Name, s)
			rung.Next = !next && (s.State == standing.Open || s.State == standing.Working || s.State == standing.Recheck)
			next = next || rung.Next
			stand.Rungs = append(stand.Rungs, rung)
		}
		all = append(all, stand)
	}
	return all
}

func rungStand(name string, s standing.Standing) RungStand {
	rung := RungStand{Key: s.RungID, Name: name, State: string(s.State), Clean: -1, Reason: s.Reason}
	if s.Marks == 0 {
		return rung
	}
	rung.Clean, rung.Evidence = s.Rate, tallyWords(s.Sides)
	rung.Numbers = fmt.Sprintf("Clean %.0f%% of the last %s; with so many marks it may be anything from %.0f%% to %.0f%%.",
		100*s.Rate, countOf(s.Recent, "mark"), 100*s.Low, 100*s.High)
	if s.Few {
		rung.Numbers += " That is few marks: mind it."
	}
	return rung
}

// tallyWords reads "4 of the last 5 clean, in 2 lessons", or "left 4 of 5, right 2 of 5 clean".
func tallyWords(sides []standing.Tally) string { return tallyIn(nil, sides) }

// tallyIn is tallyWords in the language of a Book.
func tallyIn(b *words.Book, sides []standing.Tally) string {
	if len(sides) == 1 {
		t := sides[0]
		return b.Count("tally.whole", t.Lessons, "Clean", t.Clean, "Of", t.Of)
	}
	var parts []string
	for _, t := range sides {
		parts = append(parts, b.Say("tally.side", "Side", b.Say("side."+string(t.Side)), "Clean", t.Clean, "Of", t.Of))
	}
	return b.Say("tally.sides", "Sides", strings.Join(parts, ", "))
}

// countOf is "1 lesson" or "3 lessons".
func countOf(n int, noun string) string {
	if n == 1 {
		return "1 " + noun
	}
	return fmt.Sprintf("%d %ss", n, noun)
}
