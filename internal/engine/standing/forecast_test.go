package standing

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"
	"time"

	"pgregory.net/rapid"
)

// played is a child's marks of one rung and lesson, drawn from the model.
type played struct {
	l     Learning
	known map[Side]bool
	dice  *rand.Rand
}

func (p *played) mark(rung string, side Side, when time.Time) Mark {
	looks := p.l.Not
	if p.known[side] {
		looks = p.l.Yes
	}
	outcome := Missed
	switch luck := p.dice.Float64(); {
	case luck < looks.Clean:
		outcome = Clean
	case luck < looks.Clean+looks.Supported:
		outcome = Supported
	}
	p.known[side] = p.known[side] || p.dice.Float64() < p.l.Learn
	return Mark{RungID: rung, At: when, Side: side, Outcome: outcome, By: "teacher"}
}

// TestForecastAgainstPlayingItOut draws what may follow from the model, turn by turn, and lets the board judge each: the share of
// futures in which the rung was once secure is the forecast, within 4 standard errors. The forecast shares only the board's rule.
func TestForecastAgainstPlayingItOut(t *testing.T) {
	const futures = 3000
	for _, c := range []struct {
		name    string
		marks   []Mark
		rung    string
		lessons []float64
		turns   int
	}{
		{"nothing seen yet", nil, "lunge", []float64{1, 1, 1, 1}, 3},
		{"begun", marks("lunge", NoSide, "msc cs"), "lunge", []float64{.9, .5, .9}, 3},
		{"one clean mark short", marks("lunge", NoSide, "ccc"), "lunge", []float64{.5, .5}, 1},
		{"all clean in one lesson", marks("lunge", NoSide, "ccccc"), "lunge", []float64{.8}, 1},
		{"a fault that can hurt still in the window", marks("lunge", NoSide, "ccc c!"), "lunge", []float64{1, .7, .6}, 2},
		{"two-sided, one side behind", slices.Concat(marks("wheel", Left, "ccs cc"), marks("wheel", Right, "ms ms")), "wheel", []float64{.9, .8, .7, .6}, 5},
		{"two-sided, nothing seen yet", nil, "wheel", []float64{.9, .9, .9, .9}, 6},
	} {
		g := ladder(t)
		b, err := g.Board(c.marks, Defaults(), at(30))
		if err != nil {
			t.Fatal(err)
		}
		got, err := b.Forecast(c.rung, DefaultLearning(), Ahead{Lessons: c.lessons, Turns: c.turns})
		if err != nil {
			t.Fatal(err)
		}
		st, _ := b.On(c.rung)
		met, dice := 0, rand.New(rand.NewPCG(7, 7))
		for range futures {
			if future(t, g, c.marks, c.rung, st, c.lessons, c.turns, dice) {
				met++
			}
		}
		share := float64(met) / futures
		if slack := 4 * math.Sqrt(got.Secure*(1-got.Secure)/futures); math.Abs(share-got.Secure) > slack {
			t.Errorf("%s: forecast %.4f, played out %.4f, more than %.4f apart", c.name, got.Secure, share, slack)
		}
	}
}

func future(t *testing.T, g *Graph, past []Mark, rung string, st Standing, lessons []float64, turns int, dice *rand.Rand) bool {
	p := &played{l: DefaultLearning(), known: map[Side]bool{}, dice: dice}
	sides := []Side{NoSide}
	if len(st.Sides) == 2 {
		sides = []Side{Left, Right}
		if st.Weaker == Right {
			slices.Reverse(sides)
		}
	}
	for _, side := range sides {
		known := p.l.Known
		for _, m := range past {
			if m.Side == side {
				known = p.l.next(p.l.after(known, m.Look()))
			}
		}
		p.known[side] = dice.Float64() < known
	}
	all := slices.Clone(past)
	for n, chance := range lessons {
		if dice.Float64() >= chance {
			continue
		}
		for turn := range turns {
			all = append(all, p.mark(rung, sides[turn%len(sides)], at(31+n).Add(time.Duration(turn)*time.Minute)))
		}
	}
	b, err := g.Board(all, Defaults(), at(60))
	if err != nil {
		t.Fatal(err)
	}
	s, _ := b.On(rung)
	return !s.SecureSince.IsZero()
}

// TestForecastAgainstEveryRowOfOutcomes lets the board judge every row of clean and missed turns that may follow, each with its chance,
// under any rule and after any marks.
func TestForecastAgainstEveryRowOfOutcomes(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g := drawLadder(t)
		past, s := drawMarks(t, g, 12), drawRule(t, 6)
		a := Ahead{Lessons: []float64{1, 1}, Turns: rapid.IntRange(1, 4).Draw(t, "turns")}
		b, err := g.Board(past, s, at(61))
		if err != nil {
			t.Fatal(err)
		}
		got, err := b.Forecast("a", DefaultLearning(), a)
		if err != nil {
			t.Fatal(err)
		}
		want := 0.0
		for row := range 1 << (2 * a.Turns) {
			want += rowChance(t, g, past, s, b, a.Turns, row)
		}
		if math.Abs(got.Secure-want) > 1e-9 {
			t.Fatalf("forecast %.12f, over every row %.12f", got.Secure, want)
		}
	})
}

// rowChance is the chance of one row of outcomes, a bit a turn, if with it the rung is once secure; else 0.
func rowChance(t *rapid.T, g *Graph, past []Mark, s Settings, now Board, turns, row int) float64 {
	l, p := DefaultLearning(), 1.0
	var known []float64
	var order []Side
	for _, lane := range newLanes(now.marks[0], g.rungs[0].TwoSided, now.Rungs[0].Weaker, l, s) {
		known = append(known, lane.known)
	}
	switch {
	case len(known) == 1:
		order = []Side{NoSide}
	case now.Rungs[0].Weaker == Right:
		order = []Side{Right, Left}
	default:
		order = []Side{Left, Right}
	}
	all := slices.Clone(past)
	for i := range 2 * turns {
		side := i % turns % len(order)
		m := Mark{RungID: "a", Side: order[side], Outcome: Missed, At: at(62 + i/turns).Add(time.Duration(i) * time.Minute)}
		clean := known[side]*l.Yes.Clean + (1-known[side])*l.Not.Clean
		yes := known[side] * (1 - l.Yes.Clean) / (1 - clean)
		if row&(1<<i) != 0 {
			m.Outcome, p, yes = Clean, p*clean, known[side]*l.Yes.Clean/clean
		} else {
			p *= 1 - clean
		}
		known[side] = l.next(yes)
		all = append(all, m)
	}
	b, err := g.Board(all, s, at(64))
	if err != nil {
		t.Fatal(err)
	}
	if b.Rungs[0].SecureSince.IsZero() {
		return 0
	}
	return p
}

func drawRule(t *rapid.T, widest int) Settings {
	s := Defaults()
	s.Rule = Rule{Window: rapid.IntRange(1, widest).Draw(t, "window")}
	s.Rule.Clean = rapid.IntRange(1, s.Rule.Window).Draw(t, "clean")
	s.Rule.Lessons = rapid.IntRange(1, s.Rule.Clean).Draw(t, "lessons")
	return s
}

// A wider window is simulated; for one as wide as the exact forecast still takes, the two agree.
func TestSimulatedForecastAgreesWithTheExactOne(t *testing.T) {
	lanes := newLanes(slices.Concat(marks("wheel", Left, "ccs"), marks("wheel", Right, "ms")), true, Right, DefaultLearning(), Defaults())
	chances, err := Ahead{Lessons: []float64{.9, .8, .9, .9}, Turns: 6}.chances()
	if err != nil {
		t.Fatal(err)
	}
	simulated, standardError := simulate(lanes, DefaultLearning(), chances, 6)
	near(t, "simulated", simulated, exact(lanes, DefaultLearning(), chances, 6), 4*standardError)
	r, left := newRace(lanes, DefaultLearning()), 0.0
	r.lesson(1, 6, 2)
	r.lesson(2, 6, 2)
	for _, p := range r.p {
		left += p
	}
	near(t, "nothing is lost", r.done+left, 1, 1e-12)
}

func TestForecastByHand(t *testing.T) {
	// Known for sure, never slips: five of five, so the fourth clean mark of a second lesson decides. Worked by hand.
	sure := Learning{Known: 1, Learn: 0, Not: Looks{Missed: 1}, Yes: Looks{Clean: 1}}
	never := Learning{Known: 0, Learn: 0, Not: Looks{Missed: 1}, Yes: Looks{Clean: 1}}
	half := Learning{Known: 1, Learn: 0, Not: Looks{Missed: 1}, Yes: Looks{Missed: .5, Clean: .5}}
	for _, c := range []struct {
		name  string
		l     Learning
		marks []Mark
		a     Ahead
		want  float64
	}{
		{"no lessons left", sure, nil, Ahead{Turns: 3}, 0},
		{"one lesson is not two", sure, nil, Ahead{Lessons: []float64{1}, Turns: 10}, 0},
		{"two lessons", sure, nil, Ahead{Lessons: []float64{1, 1}, Turns: 3}, 1},
		{"two lessons at even chances", sure, nil, Ahead{Lessons: []float64{.5, .5}, Turns: 3}, .25},
		{"never learned", never, nil, Ahead{Lessons: []float64{1, 1, 1}, Turns: 9}, 0},
		{"one toss decides", half, marks("lunge", NoSide, "ccc"), Ahead{Lessons: []float64{1}, Turns: 1}, .5},
		{"the first or the second of two tosses", half, marks("lunge", NoSide, "ccc"), Ahead{Lessons: []float64{1}, Turns: 2}, .75},
	} {
		b, err := ladder(t).Board(c.marks, Defaults(), at(30))
		if err != nil {
			t.Fatal(err)
		}
		f, err := b.Forecast("lunge", c.l, c.a)
		if err != nil {
			t.Fatal(err)
		}
		near(t, c.name, f.Secure, c.want, 1e-12)
	}
}

func TestForecastIsAProbabilityAndMoreLessonsNeverLowerIt(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g := drawLadder(t)
		all, s := drawMarks(t, g, 30), drawRule(t, 8)
		b, err := g.Board(all, s, at(61))
		if err != nil {
			t.Fatal(err)
		}
		a := Ahead{Turns: rapid.IntRange(1, 6).Draw(t, "turns")}
		before := 0.0
		for range 4 {
			f, err := b.Forecast("a", DefaultLearning(), a)
			if err != nil || f.Secure < before-1e-12 || f.Secure > 1 || f.Known < 0 || f.Known > 1 {
				t.Fatalf("forecast %+v after %g: %v", f, before, err)
			}
			before = f.Secure
			a.Lessons = append(a.Lessons, rapid.Float64Range(0, 1).Draw(t, "chance"))
		}
	})
}

func drawLadder(t *rapid.T) *Graph {
	return mustNew(t, []Rung{{ID: "a", TwoSided: rapid.Bool().Draw(t, "two-sided")}})
}

func TestForecastRefuses(t *testing.T) {
	b, err := ladder(t).Board(nil, Defaults(), at(1))
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		name, rung string
		l          Learning
		a          Ahead
	}{
		{"no such rung", "flag", DefaultLearning(), Ahead{Turns: 3}},
		{"no turns", "lunge", DefaultLearning(), Ahead{}},
		{"no chance", "lunge", DefaultLearning(), Ahead{Lessons: []float64{1.5}, Turns: 3}},
		{"too many lessons", "lunge", DefaultLearning(), Ahead{Lessons: make([]float64, 401), Turns: 3}},
		{"no parameters", "lunge", Learning{}, Ahead{Turns: 3}},
	} {
		if _, err := b.Forecast(c.rung, c.l, c.a); err == nil {
			t.Errorf("%s: no error", c.name)
		}
	}
	if f, err := b.Forecast("lunge", DefaultLearning(), Ahead{Turns: 3}); err != nil || f.Secure != 0 || f.Known != DefaultLearning().Known {
		t.Errorf("no marks, no lessons: %+v, %v", f, err)
	}
}
