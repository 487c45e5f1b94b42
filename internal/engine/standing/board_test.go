package standing

import (
	"reflect"
	"runtime"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"pgregory.net/rapid"
)

// at is the nth day of a made-up year, at lesson time.
func at(n int) time.Time { return time.Date(2030, 1, n, 17, 0, 0, 0, time.UTC) }

// marks of one rung and side: a letter a turn (c clean, s supported, m missed, ! clean with a safety fault), a space to
// the next lesson a week later, beginning on day 1.
func marks(rung string, side Side, letters string) []Mark {
	var out []Mark
	day := 1
	for i, l := range letters {
		m := Mark{RungID: rung, At: at(day).Add(time.Duration(i) * time.Minute), Side: side, Outcome: Clean, By: "teacher"}
		switch l {
		case ' ':
			day += 7
			continue
		case 's':
			m.Outcome = Supported
		case 'm':
			m.Outcome = Missed
		case '!':
			m.SafetyFault = true
		}
		out = append(out, m)
	}
	return out
}

func ladder(t interface{ Fatal(...any) }) *Graph {
	return mustNew(t, []Rung{
		{ID: "lunge", Name: "Lunge", Ladder: "wheels", Position: 1},
		{ID: "wheel", Name: "Wheel", Ladder: "wheels", Position: 2, Needs: []string{"lunge"}, TwoSided: true},
		{ID: "one-hand", Name: "One-hand wheel", Ladder: "wheels", Position: 3, Needs: []string{"wheel"}},
	})
}

func on(t *testing.T, g *Graph, all []Mark, today int, rung string) Standing {
	t.Helper()
	b, err := g.Board(all, Defaults(), at(today))
	if err != nil {
		t.Fatal(err)
	}
	s, ok := b.On(rung)
	if !ok {
		t.Fatalf("no rung %s", rung)
	}
	return s
}

func TestStates(t *testing.T) {
	lunge := marks("lunge", NoSide, "mcc cc") // secure from day 8
	for _, c := range []struct {
		name   string
		marks  []Mark
		today  int
		rung   string
		state  State
		reason string
	}{
		{"no marks, no needs", nil, 1, "lunge", Open, "No marks yet; it needs no other rung."},
		{"no marks, needs open", nil, 1, "one-hand", Waiting, "Needs first: Lunge, Wheel."},
		{"four of five in two lessons", lunge, 8, "lunge", Secure, "4 of the last 5 clean, in 2 lessons."},
		{"four of four in two lessons", marks("lunge", NoSide, "cc cc"), 8, "lunge", Secure, "4 of the last 4 clean, in 2 lessons."},
		{"four of five in one lesson", marks("lunge", NoSide, "ccccc"), 1, "lunge", Working,
			"5 of the last 5 clean, in 1 lesson. Secure takes 4 of the last 5 clean, in 2 lessons."},
		{"three of five", marks("lunge", NoSide, "msc cc"), 8, "lunge", Working, "3 of the last 5 clean, in 2 lessons."},
		{"needs met", lunge, 8, "wheel", Open, "No marks yet; all it needs has been secure."},
		{"needs due a recheck count and are named", lunge, 80, "wheel", Open, "Due a recheck first: Lunge."},
		{"long unseen", lunge, 80, "lunge", Recheck, "Was secure from 8 January 2030; last seen 72 days ago"},
		{"seen again", append(lunge, Mark{RungID: "lunge", At: at(80), Outcome: Clean}), 80, "lunge", Secure, "5 of the last 5"},
		{"missed since", marks("lunge", NoSide, "cc cc mm"), 15, "lunge", Recheck, "not by the marks since. 3 of the last 5 clean"},
		{"unsafe since", marks("lunge", NoSide, "cc cc !"), 15, "lunge", Recheck, "A fault that can hurt"},
		{"unsafe within the window", marks("lunge", NoSide, "!cc cc"), 8, "lunge", Working, "not yet followed by 5 marks without it"},
		{"unsafe, then a whole window without", marks("lunge", NoSide, "!cc ccc"), 8, "lunge", Secure, "5 of the last 5"},
		{"one side only", slices.Concat(lunge, marks("wheel", Left, "ccc cc")), 8, "wheel", Working,
			"Left 5 of the last 5 clean, in 2 lessons; right no marks yet."},
		{"both sides", slices.Concat(lunge, marks("wheel", Left, "ccc cc"), marks("wheel", Right, "cc cc")), 8, "wheel", Secure, "right 4 of the last 4"},
		{"no side named", slices.Concat(lunge, marks("wheel", NoSide, "ccc cc")), 8, "wheel", Working, "5 marks without a side not counted."},
		{"unsafe, no side named, keeps both", slices.Concat(lunge, marks("wheel", Left, "ccc cc"), marks("wheel", Right, "ccc cc"),
			marks("wheel", NoSide, "  !")), 15, "wheel", Recheck, "A fault that can hurt"},
		{"tried before its needs", marks("one-hand", NoSide, "cs"), 1, "one-hand", Waiting, "Needs first: Lunge, Wheel. 1 of the last 2 clean"},
		{"secure before its needs", marks("one-hand", NoSide, "cc cc"), 8, "one-hand", Secure, "Not secure below it: Lunge, Wheel."},
		{"as of an earlier day", lunge, 7, "lunge", Working, "2 of the last 3 clean"},
	} {
		s := on(t, ladder(t), c.marks, c.today, c.rung)
		if s.State != c.state || !strings.Contains(s.Reason, c.reason) {
			t.Errorf("%s: %s %q, want %s %q", c.name, s.State, s.Reason, c.state, c.reason)
		}
	}
}

func TestNumbersOfAStanding(t *testing.T) {
	all := slices.Concat(marks("wheel", Left, "cc cc"), marks("wheel", Right, "cm ms"))
	all[0].By = "assistant"
	s := on(t, ladder(t), all, 18, "wheel")
	// 5 of 8, Wilson: computed from the formula.
	near(t, "rate", s.Rate, 0.625, 0)
	near(t, "low", s.Low, .3057424, 1e-6)
	near(t, "high", s.High, .8631557, 1e-6)
	if s.Weaker != Right || s.Few || s.Recent != 8 || s.Markers != 2 || s.DaysUnseen != 10 || s.Near != 0.625 {
		t.Errorf("got %+v", s)
	}
	// The right's only success was on day 1, the left's second grew its half-life.
	near(t, "half-life", s.HalfLife, 21, 0)
	near(t, "recall", s.Recall, Recall(17, 21), 0)
	if s := on(t, ladder(t), marks("wheel", Left, "c"), 1, "wheel"); s.Weaker != Right || !s.Few {
		t.Errorf("one side tried: %+v", s)
	}
}

func TestHalfLifeGrowsWithSpacedSuccessOnly(t *testing.T) {
	half := func(letters string) float64 {
		return on(t, ladder(t), marks("lunge", NoSide, letters), 30, "lunge").HalfLife
	}
	near(t, "never clean", half("ms m"), 0, 0)
	near(t, "many in one lesson", half("cccc"), 21, 0)
	near(t, "in a second lesson", half("cc c"), 21*1.7, 1e-9)
	near(t, "in a third", half("c c cc"), 21*1.7*1.7, 1e-9)
}

func TestBoardRefuses(t *testing.T) {
	g := ladder(t)
	for name, m := range map[string]Mark{"outcome": {RungID: "lunge", Outcome: "perfect"}, "side": {RungID: "lunge", Outcome: Clean, Side: "up"}} {
		if _, err := g.Board([]Mark{m}, Defaults(), at(1)); err == nil {
			t.Errorf("%s: no error", name)
		}
	}
	for name, change := range map[string]func(*Settings){
		"more clean than marks":   func(s *Settings) { s.Rule.Clean = 6 },
		"more lessons than clean": func(s *Settings) { s.Rule.Lessons = 5 },
		"no half-life":            func(s *Settings) { s.Memory.First = 0 },
		"shrinking":               func(s *Settings) { s.Memory.Growth = 0.5 },
		"no gap":                  func(s *Settings) { s.Memory.Gap = 0 },
		"never secure":            func(s *Settings) { s.Memory.Recheck = 1 },
		"no recent marks":         func(s *Settings) { s.Recent = 0 },
	} {
		s := Defaults()
		change(&s)
		if _, err := g.Board(nil, s, at(1)); err == nil {
			t.Errorf("%s: no error", name)
		}
	}
}

func drawMarks(t *rapid.T, g *Graph, most int) []Mark {
	out := make([]Mark, rapid.IntRange(0, most).Draw(t, "marks"))
	for i := range out {
		out[i] = Mark{
			RungID:      rapid.SampledFrom(g.rungs).Draw(t, "rung").ID,
			At:          at(1 + rapid.IntRange(0, 60).Draw(t, "day")).Add(time.Duration(i) * time.Second),
			Outcome:     rapid.SampledFrom([]Outcome{Clean, Clean, Clean, Supported, Missed}).Draw(t, "outcome"),
			Side:        rapid.SampledFrom([]Side{Left, Right, NoSide}).Draw(t, "side"),
			SafetyFault: rapid.IntRange(0, 15).Draw(t, "fault") == 0,
		}
	}
	return out
}

// metBefore is the rule read word for word, over all marks up to n of a one-sided rung.
func metBefore(all []Mark, n int) bool {
	last := all[max(0, n-5):n]
	clean, days := 0, map[int]bool{}
	for _, m := range last {
		if m.SafetyFault {
			return false
		}
		if m.Outcome == Clean {
			clean++
			days[dayNumber(m.At)] = true
		}
	}
	return clean >= 4 && len(days) >= 2
}

func TestRuleAgainstItsPlainReading(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g := mustNew(t, []Rung{{ID: "a"}})
		all := drawMarks(t, g, 25)
		slices.SortFunc(all, func(a, b Mark) int { return a.At.Compare(b.At) })
		ever := false
		for n := range len(all) + 1 {
			ever = ever || metBefore(all, n)
		}
		b, err := g.Board(all, Defaults(), at(61))
		if err != nil {
			t.Fatal(err)
		}
		s := b.Rungs[0]
		secure := ever && metBefore(all, len(all)) && s.Recall >= Defaults().Memory.Recheck
		if s.Met() != ever || (s.State == Secure) != secure {
			t.Fatalf("%s, read plainly: ever %v, now %v", s.State, ever, secure)
		}
	})
}

func TestBoardHoldsTogether(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g := mustNew(t, drawRungs(t, 8))
		all := drawMarks(t, g, 60)
		b, err := g.Board(all, Defaults(), at(50))
		if err != nil {
			t.Fatal(err)
		}
		met := b.Met()
		for _, s := range b.Rungs {
			begun := s.State == Open || s.State == Working
			if begun != slices.Contains(g.Frontier(met), s.RungID) {
				t.Fatalf("%s is %s, frontier %v", s.RungID, s.State, g.Frontier(met))
			}
			if !slices.Equal(s.Missing, g.Missing(s.RungID, met)) {
				t.Fatalf("%s misses %v, graph says %v", s.RungID, s.Missing, g.Missing(s.RungID, met))
			}
			front := g.Frontier(met)
			begin := slices.DeleteFunc(slices.Clone(s.Missing), func(id string) bool { return !slices.Contains(front, id) })
			if !slices.Equal(s.Begin, begin) || len(s.Missing) > 0 && len(begin) == 0 {
				t.Fatalf("%s misses %v and begins with %v, frontier %v", s.RungID, s.Missing, s.Begin, front)
			}
			if s.Reason == "" || s.Low > s.Rate || s.High < s.Rate {
				t.Fatalf("standing %+v", s)
			}
		}
		again, err := g.Board(rapid.Permutation(all).Draw(t, "again"), Defaults(), at(50))
		if err != nil || !reflect.DeepEqual(b.Rungs, again.Rungs) {
			t.Fatal("another order of marks gives another board")
		}
	})
}

// studioOf is 100 rungs, every third of them two-sided, and a child's 200 marks on 40 of them.
func studioOf(b *testing.B) (*Graph, []Mark) {
	var rungs []Rung
	for i := range 100 {
		r := Rung{ID: string(rune('a'+i/10)) + string(rune('0'+i%10)), Ladder: string(rune('a' + i/10)), Position: i % 10, TwoSided: i%3 == 0}
		if i%10 > 0 {
			r.Needs = []string{rungs[i-1].ID}
		}
		rungs = append(rungs, r)
	}
	outcomes, sides := []Outcome{Clean, Clean, Supported, Missed}, []Side{Left, Right}
	all := make([]Mark, 200)
	for i := range all {
		all[i] = Mark{RungID: rungs[i*7%40].ID, At: at(1 + i/5), Outcome: outcomes[i*i%4], Side: sides[i/40%2], By: "teacher"}
	}
	return mustNew(b, rungs), all
}

// BenchmarkStudio is a whole studio: the boards of 300 children, 100 rungs, 200 marks each, on one core.
func BenchmarkStudio(b *testing.B) {
	g, all := studioOf(b)
	b.ReportAllocs()
	for b.Loop() {
		for range 300 {
			if _, err := g.Board(all, Defaults(), at(60)); err != nil {
				b.Fatal(err)
			}
		}
	}
}

// BenchmarkStudioAhead adds to each board the forecast of every rung that is open or begun, over ten lessons of four turns, on as many
// cores as there are. The goal is 500 ms on two.
func BenchmarkStudioAhead(b *testing.B) {
	g, all := studioOf(b)
	a := Ahead{Lessons: slices.Repeat([]float64{.6}, 10), Turns: 4}
	b.ReportAllocs()
	for b.Loop() {
		var group sync.WaitGroup
		cores := runtime.GOMAXPROCS(0)
		for core := range cores {
			group.Go(func() {
				for child := core; child < 300; child += cores {
					if n := aheadOf(b, g, all, a); n == 0 {
						b.Error("nothing to forecast")
					}
				}
			})
		}
		group.Wait()
	}
}

func aheadOf(b *testing.B, g *Graph, all []Mark, a Ahead) int {
	board, err := g.Board(all, Defaults(), at(60))
	if err != nil {
		b.Error(err)
	}
	n := 0
	for _, s := range board.Rungs {
		if s.State == Open || s.State == Working {
			n++
			if _, err := board.Forecast(s.RungID, DefaultLearning(), a); err != nil {
				b.Error(err)
			}
		}
	}
	return n
}
