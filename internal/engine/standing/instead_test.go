package standing

import (
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// fiveRungs is a ladder of four, each needing the one before, and a rung of another ladder that the third needs.
func fiveRungs(t *testing.T) *Graph {
	return mustNew(t, []Rung{
		{ID: "a1", Ladder: "a", Position: 1}, {ID: "a2", Ladder: "a", Position: 2, Needs: []string{"a1"}},
		{ID: "b1", Ladder: "b", Position: 1}, {ID: "a3", Ladder: "a", Position: 3, Needs: []string{"a2", "b1"}},
		{ID: "a4", Ladder: "a", Position: 4, Needs: []string{"a3"}}})
}

// By hand: which rung stands in for the fourth, as the child has more or fewer of those below it.
func TestInsteadByHand(t *testing.T) {
	none := func(string) bool { return true }
	light := func(string) Asks { return Asks{Back: 1, Spotters: 1} }
	for _, c := range []struct {
		name    string
		have    []string
		asks    func(string) Asks
		allowed func(string) bool
		want    string
		lost    []string
	}{
		{"the nearest", []string{"a1", "a2", "a3"}, light, none, "a3", []string{"a4"}},
		{"one that is not secure is passed over", []string{"a1", "a2"}, light, none, "a2", []string{"a3", "a4"}},
		{"a care limit on the nearest", []string{"a1", "a2", "a3"}, light, func(r string) bool { return r != "a3" }, "a2", []string{"a3", "a4"}},
		{"more load on the back", []string{"a1", "a2", "a3"}, func(r string) Asks { return Asks{Back: map[string]int{"a3": 2}[r]} }, none, "a2", []string{"a3", "a4"}},
		{"more spotters", []string{"a1", "a2", "a3"}, func(r string) Asks { return Asks{Spotters: map[string]int{"a3": 1}[r]} }, none, "a2", []string{"a3", "a4"}},
		{"upside down where the rung is not", []string{"a1", "a2", "a3"}, func(r string) Asks { return Asks{Inverted: r == "a3"} }, none, "a2", []string{"a3", "a4"}},
		{"what it needs on another ladder", []string{"b1"}, light, none, "b1", []string{"a1", "a2", "a3", "a4"}},
		{"nothing is secure", nil, light, none, "", []string{"b1", "a1", "a2", "a3", "a4"}},
		{"everything is forbidden", []string{"a1", "a2", "a3", "b1"}, light, func(string) bool { return false }, "", []string{"b1", "a1", "a2", "a3", "a4"}},
	} {
		var seen []Mark
		for _, rung := range c.have {
			seen = append(seen, marks(rung, NoSide, "cc ccc")...)
		}
		board, err := fiveRungs(t).Board(seen, Defaults(), at(9))
		if err != nil {
			t.Fatal(err)
		}
		got := board.Instead("a4", c.asks, c.allowed)
		if got.RungID != c.want || !slices.Equal(got.Lost, c.lost) {
			t.Errorf("%s: %s, lost %v; want %s and %v", c.name, got.RungID, got.Lost, c.want, c.lost)
		}
	}
}

// Whatever the library and the marks: what is offered is below, secure, allowed and asks for no more, and nothing nearer is all of that.
func TestInsteadKeepsItsRules(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g := mustNew(t, drawRungs(t, 12))
		board, err := g.Board(drawMarks(t, g, 60), Defaults(), at(28))
		if err != nil {
			t.Fatal(err)
		}
		asks, allowed := map[string]Asks{}, map[string]bool{}
		for _, r := range g.Rungs() {
			small := rapid.IntRange(0, 2)
			asks[r.ID] = Asks{Back: small.Draw(t, "back"), Wrists: small.Draw(t, "wrists"), Landing: small.Draw(t, "landing"), Spotters: small.Draw(t, "spotters"), Inverted: rapid.Bool().Draw(t, "inverted")}
			allowed[r.ID] = rapid.Bool().Draw(t, "allowed")
		}
		good := func(rung, of string) bool {
			s, _ := board.On(rung)
			a, b := asks[rung], asks[of]
			return s.State == Secure && allowed[rung] && a.Back <= b.Back && a.Wrists <= b.Wrists && a.Landing <= b.Landing && a.Spotters <= b.Spotters && (!a.Inverted || b.Inverted)
		}
		for _, r := range g.Rungs() {
			got := board.Instead(r.ID, func(k string) Asks { return asks[k] }, func(k string) bool { return allowed[k] })
			if got.RungID != "" && !good(got.RungID, r.ID) {
				t.Fatalf("%s in place of %s breaks a rule", got.RungID, r.ID)
			}
			for _, need := range g.Before(r.ID) {
				if got.RungID == "" && good(need, r.ID) {
					t.Fatalf("nothing for %s, though %s will do", r.ID, need)
				}
			}
			for _, p := range got.Passed {
				if good(p.RungID, r.ID) {
					t.Fatalf("%s is passed over for %s", p.RungID, r.ID)
				}
			}
		}
	})
}

// A rung that was secure and is due a recheck: certain to the forecast, but to be met again it takes turns. By hand: after the usual
// rule's four of five clean, known for certain and never slipping, one more turn keeps four of five clean.
func TestRegain(t *testing.T) {
	sure := Learning{Known: 1, Learn: 1, Not: Looks{Missed: 1}, Yes: Looks{Clean: 1}}
	board, err := ladder(t).Board(marks("lunge", NoSide, "cc ccc mmm"), Defaults(), at(16))
	if err != nil {
		t.Fatal(err)
	}
	if s, _ := board.On("lunge"); s.State != Recheck {
		t.Fatalf("the rung is %s", s.State)
	}
	for lessons, want := range []float64{0, 0, 1} { // the last five are ccmmm; two turns a lesson make mmmcc, then mcccc
		a := Ahead{Turns: 2, Lessons: make([]float64, lessons)}
		for i := range a.Lessons {
			a.Lessons[i] = 1
		}
		got, err := board.Regain("lunge", sure, a)
		if err != nil || math.Abs(got.Secure-want) > 1e-12 {
			t.Errorf("%d lessons: %+v, %v; want %v", lessons, got, err, want)
		}
	}
	if f, err := board.Forecast("lunge", sure, Ahead{Turns: 2}); err != nil || f.Secure != 1 {
		t.Errorf("the forecast for a rung that was secure: %+v, %v", f, err)
	}
}
