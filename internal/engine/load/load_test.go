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
		{at(-1), Load{3, 3, 3}, 9, NoSide}, // the Sunday before
		{at(0), Load{2, 1, 0}, 3, Left},
		{at(2), Load{0, 2, 1}, 4, Right},
		{at(6), Load{1, 0, 0}, 2, NoSide},
		{at(7), Load{3, 3, 3}, 9, NoSide}, // the Monday after
	}, at(4))
	if want := (Load{8, 11, 4}); w.Load != want || w.Turns != 9 || w.Left != 3 || w.Right != 4 {
		t.Errorf("got %+v, want load %+v", w, want)
	}
	near(t, "share of wrists", w.Share(Wrists), 11.0/23, 1e-12)
	share, ok := w.LeftShare()
	near(t, "left share", share, 3.0/7, 1e-12)
	if _, none := (Week{}).LeftShare(); !ok || none {
		t.Error("left share: want one for sided turns and none for an empty week")
	}
	if got, want := DayLoad([]Entry{{at(0), Load{1, 1, 1}, 2, NoSide}}, at(0)), (Load{2, 2, 2}); got != want {
		t.Errorf("day: %+v, want %+v", got, want)
	}
}

func TestSumsDoNotDependOnOrder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		entries := rapid.SliceOf(rapid.Custom(func(t *rapid.T) Entry {
			n := rapid.IntRange(0, 3)
			return Entry{at(rapid.IntRange(-30, 30).Draw(t, "day")), Load{n.Draw(t, "b"), n.Draw(t, "w"), n.Draw(t, "l")},
				rapid.IntRange(0, 12).Draw(t, "turns"), rapid.SampledFrom([]Side{NoSide, Left, Right}).Draw(t, "side")}
		})).Draw(t, "entries")
		other := rapid.Permutation(entries).Draw(t, "other")
		if WeekOf(entries, at(0)) != WeekOf(other, at(0)) || Against(entries, at(0)) != Against(other, at(0)) {
			t.Fatal("another order gives another answer")
		}
	})
}

func TestTrendAgainstFourWeeksBefore(t *testing.T) {
	daily := func(from, to, turns int) (out []Entry) {
		for d := from; d < to; d++ {
			out = append(out, Entry{at(d), Load{Back: 1}, turns, NoSide})
		}
		return out
	}
	// 21 days of 100, then 7 of 200: the uncoupled ratio is 2.000 (arithmetic; coupling criticised by
	// Lolli et al., Br J Sports Med 53:921, which is why this week is not in its own mean).
	tr := Against(append(daily(-21, 0, 100), daily(0, 7, 200)...), at(0))
	if tr.Weeks != 3 || tr.Ratio != 2 || tr.Words != "Load 1400, well above the mean of the 3 weeks before (700)." {
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
	if tr := Against(daily(0, 7, 5), at(0)); tr.Weeks != 0 || tr.Ratio != 0 || strings.Contains(tr.Words, "safe") {
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

func TestEWMA(t *testing.T) {
	// Formula: Williams et al. 2017, Br J Sports Med 51:209. Values: arithmetic from it, the first day as seed.
	for _, c := range []struct {
		name                string
		daily               []float64
		acute, chronic, cut float64
	}{
		{"27 of 100, one of 200", append(slices.Repeat([]float64{100}, 27), 200), 125, 106.897, 1.16935},
		{"21 of 100, seven of 200", append(slices.Repeat([]float64{100}, 21), slices.Repeat([]float64{200}, 7)...), 186.6517, 139.3598, 1.33935},
	} {
		acute, err := EWMA(c.daily, 7)
		if err != nil {
			t.Fatal(err)
		}
		chronic, _ := EWMA(c.daily, 28)
		a, b := acute[27], chronic[27]
		near(t, c.name+", 7 days", a, c.acute, 5e-4)
		near(t, c.name+", 28 days", b, c.chronic, 5e-4)
		near(t, c.name+", ratio", a/b, c.cut, 5e-6)
	}
	if _, err := EWMA(nil, 0); err == nil {
		t.Error("mean over 0 days: no error")
	}
}

func TestCaps(t *testing.T) {
	// No published cap was found: only that younger children never get more, and that a week holds a lesson.
	for age := 3; age < 18; age++ {
		c, older := DefaultCaps(age), DefaultCaps(age+1)
		if !c.Lesson.Fits(older.Lesson) || !c.Week.Fits(older.Week) || !c.Lesson.Fits(c.Week) {
			t.Errorf("age %d: caps %+v, a year older %+v", age, c, older)
		}
	}
	if got, want := Remaining(Load{9, 18, 18}, Load{10, 6, 18}), (Load{0, 12, 0}); got != want {
		t.Errorf("remaining %+v, want %+v", got, want)
	}
	caps := Caps{Lesson: Load{9, 18, 18}, Week: Load{18, 36, 36}}
	if got, want := caps.Left(Load{3, 0, 0}, Load{14, 30, 0}), (Load{4, 6, 18}); got != want {
		t.Errorf("left %+v, want %+v", got, want)
	}
	if got := Words((Load{10, 20, 1}).Over(Load{9, 18, 18})); got != "back and wrists" {
		t.Errorf("over: %q", got)
	}
}

func BenchmarkAgainst(b *testing.B) {
	var entries []Entry
	for i := range 500 {
		entries = append(entries, Entry{at(-i % 60), Load{1, 2, 0}, 6, NoSide})
	}
	for b.Loop() {
		Against(entries, at(0))
	}
}
