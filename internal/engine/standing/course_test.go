package standing

import (
	"slices"
	"testing"
	"time"

	"gonum.org/v1/gonum/stat"
	"pgregory.net/rapid"
)

// The course of a child says what boards of each day say.
func TestCourseIsTheBoardOfEachDay(t *testing.T) {
	g := ladder(t)
	days := []time.Time{at(10), at(31), at(200)}
	rapid.Check(t, func(t *rapid.T) {
		all := drawMarks(t, g, 60)
		came, err := g.Course(all, Defaults(), days)
		if err != nil {
			t.Fatal(err)
		}
		for i, day := range days {
			board, err := g.Board(all, Defaults(), day)
			if err != nil {
				t.Fatal(err)
			}
			for _, s := range board.Rungs {
				at := slices.IndexFunc(came, func(c Came) bool { return c.RungID == s.RungID })
				switch {
				case s.Met() != (at >= 0 && dayNumber(came[at].Since) <= dayNumber(day)):
					t.Fatalf("%s on day %d: met is %v", s.RungID, i, s.Met())
				case at >= 0 && came[at].Due[i] != (s.State == Recheck):
					t.Fatalf("%s on day %d: due is %v, but it is %s", s.RungID, i, came[at].Due[i], s.State)
				case s.Met() && !came[at].Since.Equal(s.SecureSince):
					t.Fatalf("%s secure since %v, want %v", s.RungID, came[at].Since, s.SecureSince)
				}
			}
		}
	})
}

// By hand: the fourth clean mark of the lunge, in the second lesson, is that of day 8. With a half-life of 21 x 1.7 = 35.7 days it is due
// once 2^(-days/35.7) is below one half, 36 days later.
func TestCourseByHand(t *testing.T) {
	came, err := ladder(t).Course(marks("lunge", NoSide, "mcc cc"), Defaults(), []time.Time{at(7), at(43), at(44)})
	if err != nil || len(came) != 1 || came[0].RungID != "lunge" || dayNumber(came[0].Since) != dayNumber(at(8)) || !slices.Equal(came[0].Due, []bool{false, false, true}) {
		t.Errorf("%+v, %v", came, err)
	}
	if came, err := ladder(t).Course(nil, Defaults(), nil); err != nil || came != nil {
		t.Errorf("without days: %v, %v", came, err)
	}
}

// Against gonum's stat.Quantile of the kind Empirical.
func TestQuartilesAgainstGonum(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		counts := rapid.SliceOfN(rapid.IntRange(0, 9), 1, 25).Draw(t, "counts")
		sorted := make([]float64, len(counts))
		for i, n := range slices.Sorted(slices.Values(counts)) {
			sorted[i] = float64(n)
		}
		lower, median, upper := Quartiles(counts)
		for i, got := range []int{lower, median, upper} {
			if want := stat.Quantile(float64(i+1)/4, stat.Empirical, sorted, nil); float64(got) != want {
				t.Fatalf("quartile %d of %v: %d, want %v", i+1, sorted, got, want)
			}
		}
	})
	if a, b, c := Quartiles(nil); a+b+c != 0 {
		t.Error("quartiles of nothing")
	}
}

func BenchmarkCourse(b *testing.B) {
	g := ladder(b)
	all := slices.Concat(marks("lunge", NoSide, "mcc cc ccs cc"), marks("wheel", Left, "mms csc ccc cc"), marks("wheel", Right, "mms csc ccc cc"))
	for b.Loop() {
		if _, err := g.Course(all, Defaults(), []time.Time{at(20), at(40), at(90)}); err != nil {
			b.Fatal(err)
		}
	}
}
