package app

import (
	"testing"

	"rungbook/internal/engine/standing"
)

// A high rung rests on others that wait themselves: the answer names what can be begun now and counts the rest (by hand: Low three needs
// Low two, which needs Low one).
func TestWaitsNamesWhatCanBeBegun(t *testing.T) {
	e := fiveOfAKind(t)
	l, err := newLadders(smallLibrary())
	if err != nil {
		t.Fatal(err)
	}
	e.ladders = l
	c := e.Children[0]
	if e.boards[c.ID], err = l.graph.Board(nil, standing.Defaults(), e.day); err != nil {
		t.Fatal(err)
	}
	id := rungActivity("lo-three")
	want := "Low three is not open for Child 0 yet. Needs first: Low one (No marks yet; it needs no other rung); and 1 more rung after that."
	if got := e.waits(c, id, e.rungsFor(id)); got != want {
		t.Errorf("says %q, want %q", got, want)
	}
	if got := e.waits(c, drillActivity("d-push"), e.rungsFor(drillActivity("d-push"))); got != "" {
		t.Errorf("a drill for an open rung waits: %q", got)
	}
}
