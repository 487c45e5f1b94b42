package load

import (
	"math"
	"slices"
	"strings"
	"testing"
	"time"

	"gonum.org/v1/gonum/floats/scalar"
	"gonum.org/v1/gonum/stat"
	"pgregory.net/rapid"
)

// at is the nth day after Monday 3 June 2030.
func at(n int) time.Time { return time.Date(2030, 6, 3+n, 18, 30, 0, 0, time.UTC) }

func near(t *testing.T, name string, got, want, tolerance float64) {
	t.Helper()
	if math.Abs(got-want) > tolerance {
		t.Errorf("%s: %v, want %v", name, got, want)
	}
}

func TestWeekSumsEveryClass(t *testing.T) {
	w := WeekOf([]Entry{
		turns(-1, Load{3, 3, 3}, 9), // the Sunday before
		{Day: at(0), Load: Load{2, 1, 0}, Turns: 3, Sides: Balance{Left: 3}},
		{Day: at(2), Load: Load{0, 2, 1}, Turns: 4, Sides: Balance{1, 3}},
		{Day: at(6), Load: Load{1, 0, 0}, Turns: 2, Ahead: true},
		turns(7, Load{3, 3, 3}, 9), // the Monday after
	}, at(4))
	if want := (Load{8, 11, 4}); w.Load != want || w.Ahead != (Load{Back: 2}) || w.Turns != 9 || w.Sides != (Balance{4, 3}) {
		t.Errorf("got %+v, want load %+v", w, want)
	}
	near(t, "share of wrists", w.Share(Wrists), 11.0/23, 1e-12)
	share, ok := w.Sides.Share()
	near(t, "left share", share, 4.0/7, 1e-12)
	if _, none := (Balance{}).Share(); !ok || none {
		t.Error("left share: want one for sided turns and none without")
	}
}

func turns(day int, l Load, n int) Entry { return Entry{Day: at(day), Load: l, Turns: n} }

// The rule is ours: common practice, no source. Values worked by hand.
func TestCountedSides(t *testing.T) {
	for _, c := range []struct {
		name    string
		planned int
		marked  Balance
		weaker  Side
		want    Balance
	}{
		{"half each", 6, Balance{}, NoSide, Balance{3, 3}},
		{"the odd one to the weaker", 7, Balance{}, Right, Balance{3, 4}},
		{"the odd one to the left when neither is", 7, Balance{}, NoSide, Balance{4, 3}},
		{"marks stay, the rest levels out", 7, Balance{5, 0}, Right, Balance{5, 2}},
		{"marks stay, then half each", 9, Balance{1, 3}, Left, Balance{5, 4}},
		{"more marked than planned", 2, Balance{4, 1}, Right, Balance{4, 1}},
		{"marked and not planned", 0, Balance{0, 2}, Left, Balance{0, 2}},
	} {
		if got := CountedSides(c.planned, c.marked, c.weaker); got != c.want {
			t.Errorf("%s: %+v, want %+v", c.name, got, c.want)
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(0, 20)
		planned, marked := n.Draw(t, "planned"), Balance{n.Draw(t, "left"), n.Draw(t, "right")}
		got := CountedSides(planned, marked, rapid.SampledFrom([]Side{NoSide, Left, Right}).Draw(t, "weaker"))
		if got.Left+got.Right != Counted(planned, marked.Left+marked.Right) {
			t.Fatalf("%+v are not as many as are counted", got)
		}
		if got.Left < marked.Left || got.Right < marked.Right {
			t.Fatalf("%+v lost a turn that was marked", got)
		}
		apart := func(b Balance) int { return max(b.Left-b.Right, b.Right-b.Left) }
		if apart(got) > max(1, apart(marked)) {
			t.Fatalf("%+v are further apart than those marked", got)
		}
	})
}

func TestBalanceWords(t *testing.T) {
	for b, want := range map[Balance]string{
		{}:      "No turn of a rung with two sides.",
		{4, 4}:  "Left and right led 4 turns each.",
		{4, 9}:  "Left led 4 turns, right 9: 5 fewer on the left.",
		{12, 9}: "Left led 12 turns, right 9: 3 fewer on the right.",
	} {
		if got := b.Words(); got != want {
			t.Errorf("%+v: %q, want %q", b, got, want)
		}
	}
}

func TestSumsDoNotDependOnOrder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		entries := rapid.SliceOf(rapid.Custom(func(t *rapid.T) Entry {
			n := rapid.IntRange(0, 3)
			return turns(rapid.IntRange(-30, 30).Draw(t, "day"), Load{n.Draw(t, "b"), n.Draw(t, "w"), n.Draw(t, "l")}, rapid.IntRange(0, 12).Draw(t, "turns"))
		})).Draw(t, "entries")
		other := rapid.Permutation(entries).Draw(t, "other")
		if WeekOf(entries, at(0)) != WeekOf(other, at(0)) || Against(entries, at(0)) != Against(other, at(0)) {
			t.Fatal("another order gives another answer")
		}
		cut := rapid.IntRange(0, len(entries)).Draw(t, "cut")
		if WeekOf(entries[:cut], at(0)).Load.Plus(WeekOf(entries[cut:], at(0)).Load) != WeekOf(entries, at(0)).Load {
			t.Fatal("two classes do not add up to their sum")
		}
		var all, weeks Load
		for _, e := range entries {
			all = all.Plus(e.Load.Times(e.Turns))
		}
		for _, w := range WeeksTo(entries, at(35), 12) { // every day of the entries
			weeks = weeks.Plus(w.Load)
		}
		if all != weeks {
			t.Fatalf("the weeks hold %+v, the entries %+v", weeks, all)
		}
	})
}

func TestTrendAgainstFourWeeksBefore(t *testing.T) {
	daily := func(from, to, n int) (out []Entry) {
		for d := from; d < to; d++ {
			out = append(out, turns(d, Load{Back: 1}, n))
		}
		return out
	}
	// 21 days of 100, then 7 of 200: the uncoupled ratio is 2.000 (arithmetic; coupling criticised by
	// Lolli et al., Br J Sports Med 53:921, which is why this week is not in its own mean).
	tr := Against(append(daily(-21, 0, 100), daily(0, 7, 200)...), at(0))
	if tr.Weeks != 3 || !tr.Defined || tr.Ratio != 2 || tr.Words != "Load 1400, well above the mean of the 3 weeks before (700)." {
		t.Errorf("got %+v", tr)
	}
	// A week off counts as zero once the child has started.
	tr = AgainstOf(append(daily(-28, -21, 10), daily(0, 7, 10)...), at(3), Back)
	if tr.Weeks != 4 || tr.Mean != 17.5 || tr.This != 70 {
		t.Errorf("got %+v", tr)
	}
	// A first week that was begun on its Friday is a week before all the same.
	if tr := Against(append(daily(-3, 0, 10), daily(0, 7, 10)...), at(0)); tr.Weeks != 1 || tr.Mean != 30 {
		t.Errorf("short first week: %+v", tr)
	}
	if tr := Against(daily(0, 7, 5), at(0)); tr.Weeks != 0 || tr.Defined || tr.Ratio != 0 || strings.Contains(tr.Words, "safe") {
		t.Errorf("first week: %+v", tr)
	}
}

func TestFoster(t *testing.T) {
	if got, err := SessionLoad(6, 45); err != nil || got != 270 {
		t.Errorf("session load %v, %v", got, err)
	}
	for _, bad := range [][2]float64{{11, 30}, {-1, 30}, {5, -1}, {math.NaN(), 30}, {5, math.NaN()}} {
		if _, err := SessionLoad(bad[0], bad[1]); err == nil {
			t.Errorf("effort %v, minutes %v: no error", bad[0], bad[1])
		}
	}
	// Foster 2001, Table 5: load 3400, monotony 1.26, strain 4284. Its daily sums do not give 1.26: the product only.
	near(t, "strain, Foster 2001", strain(3400, 1.26), 4284, 0.5)
	// BMJ Military Health, Table 1: simple monotony 790/897 is 0.88.
	near(t, "monotony, BMJ Military Health", monotony(790, 897), 0.88, 0.005)
	// Arithmetic from the formula with the sample standard deviation.
	s := SpreadOf([]float64{300, 0, 400, 0, 300, 500, 0})
	near(t, "sum", s.Load, 1500, 0)
	near(t, "sample SD", s.SD, 211.570, 5e-4)
	near(t, "monotony", s.Monotony, 1.01284, 5e-6)
	near(t, "strain", s.Strain, 1519.25, 0.01)
	for _, flat := range [][]float64{nil, {5}, {0, 0, 0, 0, 0, 0, 0}, {40, 40, 40, 40, 40, 40, 40}} {
		if SpreadOf(flat).Defined {
			t.Errorf("%v: monotony is undefined without spread", flat)
		}
	}
}

func TestMeanAgainstGonum(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		daily := rapid.SliceOfN(rapid.Float64Range(0, 1000), 2, 14).Draw(t, "daily")
		if s := SpreadOf(daily); !scalar.EqualWithinAbsOrRel(s.Mean, stat.Mean(daily, nil), 1e-9, 1e-9) {
			t.Fatalf("mean %v, gonum %v", s.Mean, stat.Mean(daily, nil))
		}
	})
}

func TestEffortWeek(t *testing.T) {
	week := func(sessions ...Session) EffortWeek {
		w, err := EffortWeekOf(sessions, at(3))
		if err != nil {
			t.Fatal(err)
		}
		return w
	}
	// Foster 2001: load is effort times minutes; two sessions on one day add up; days of rest are zeros. Daily loads are those of the
	// worked vector: 300, 0, 400, 0, 300, 500, 0 (arithmetic from the formula with the sample standard deviation).
	w := week(Session{at(0), 60, 5, true}, Session{at(2), 50, 6, true}, Session{at(2), 100, 1, true}, Session{at(4), 60, 5, true},
		Session{at(5), 50, 10, true}, Session{at(7), 60, 9, true})
	if w.Sessions != 5 || w.Missing != 0 || w.Load != 1500 || !w.Defined {
		t.Errorf("got %+v", w)
	}
	near(t, "monotony", w.Monotony, 1.01284, 5e-6)
	near(t, "strain", w.Strain, 1519.25, 0.01)
	// One lesson in a week: mean L/7, SD L/sqrt(7), so monotony is 1/sqrt(7) whatever the load (arithmetic).
	near(t, "one lesson", week(Session{at(1), 45, 4, true}).Monotony, 1/math.Sqrt(7), 1e-12)
	if w := week(Session{at(0), 60, 5, true}, Session{at(2), 60, 0, false}); w.Missing != 1 || w.Load != 300 || w.Defined {
		t.Errorf("an effort that nobody noted counts as rest: %+v", w)
	}
	if w := week(); w.Sessions != 0 || w.Defined {
		t.Errorf("a week off: %+v", w)
	}
	if w := week(Session{at(0), 60, 0, true}); w.Load != 0 || w.Defined {
		t.Errorf("effort 0 is an answer, and gives no spread: %+v", w)
	}
	if _, err := EffortWeekOf([]Session{{at(0), 60, 11, true}}, at(0)); err == nil {
		t.Error("effort 11: no error")
	}
}

func TestSpreadScales(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		daily := rapid.SliceOfN(rapid.Float64Range(0, 1000), 7, 7).Draw(t, "daily")
		k := rapid.Float64Range(0.5, 4).Draw(t, "k")
		times := make([]float64, 7)
		for i, d := range daily {
			times[i] = k * d
		}
		one, many := SpreadOf(daily), SpreadOf(times)
		if one.SD < 1e-6 || many.SD < 1e-6 {
			return // rounding decides whether such days are all the same
		}
		if !scalar.EqualWithinRel(one.Monotony, many.Monotony, 1e-9) || !scalar.EqualWithinRel(k*one.Strain, many.Strain, 1e-9) {
			t.Fatalf("%+v times %g is %+v", one, k, many)
		}
	})
}

func TestCaps(t *testing.T) {
	if got, want := Remaining(Load{9, 18, 18}, Load{10, 6, 18}), (Load{0, 12, 0}); got != want {
		t.Errorf("remaining %+v, want %+v", got, want)
	}
	caps := Caps{Lesson: Load{9, 18, 18}, Week: Load{18, 36, 36}}
	week := Load{14, 30, 0}
	if got, want := caps.Left(week), (Load{4, 6, 18}); got != want {
		t.Errorf("left %+v, want %+v", got, want)
	}
	if got := caps.HeldByWeek(week); !slices.Equal(got, []Kind{Back, Wrists}) {
		t.Errorf("held by the week: %v", got)
	}
	if got := Words((Load{10, 20, 1}).Over(Load{9, 18, 18})); got != "back and wrists" {
		t.Errorf("over: %q", got)
	}
}

func BenchmarkAgainst(b *testing.B) {
	var entries []Entry
	for i := range 500 {
		entries = append(entries, turns(-i%60, Load{1, 2, 0}, 6))
	}
	for b.Loop() {
		Against(entries, at(0))
	}
}
