package standing

import (
	"errors"
	"math"
	"testing"

	"gonum.org/v1/gonum/stat/distuv"
)

func near(t *testing.T, name string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance) {
		t.Errorf("%s: %.7f, want %.7f", name, got, want)
	}
}

func TestWilson(t *testing.T) {
	for _, c := range []struct {
		x, n      int
		low, high float64
		tolerance float64
		source    string
	}{
		{81, 263, .2553, .3662, 5e-5, "Newcombe 1998, Table I"},
		{15, 148, .0624, .1605, 5e-5, "Newcombe 1998, Table I, from memory, recomputed"},
		{0, 20, 0, .1611, 5e-5, "Newcombe 1998, Table I, from memory, recomputed"},
		{1, 29, .0061, .1718, 5e-5, "Newcombe 1998, Table I, from memory, recomputed"},
		{3, 10, .1077913, .6032219, 1e-6, "R 3.6.2, as in the tests of scipy"},
		{0, 10, 0, .2775328, 1e-6, "R 3.6.2, as in the tests of scipy"},
		{10, 10, .7224672, 1, 1e-6, "R 3.6.2, as in the tests of scipy"},
		{18, 20, .6989664, .9721335, 1e-6, "R binom, as in the tests of statsmodels"},
		{4, 20, .0806577, .4160174, 1e-6, "R binom, as in the tests of statsmodels"},
		{8, 10, .4901625, .9433178, 1e-6, "computed from the formula"},
		{9, 10, .5958500, .9821238, 1e-6, "computed from the formula"},
		{5, 5, .5655175, 1, 1e-6, "computed from the formula"},
		{0, 0, 0, 1, 0, "nothing is known without tries"},
	} {
		low, high, err := Wilson(c.x, c.n)
		if err != nil {
			t.Fatal(err)
		}
		near(t, c.source+", low", low, c.low, c.tolerance)
		near(t, c.source+", high", high, c.high, c.tolerance)
	}
	near(t, "z against gonum", z95, distuv.UnitNormal.Quantile(0.975), 1e-12)
}

func TestJeffreys(t *testing.T) {
	for _, c := range []struct {
		x, n      int
		low, high float64
		source    string
	}{
		{100, 200, .4311217, .5688783, "R DescTools"},
		{18, 20, .7161467, .9786275, "R binom, as in the tests of statsmodels"},
		{4, 20, .0715201, .4082258, "R binom, as in the tests of statsmodels"},
		{18, 65, .1795455, .3936667, "computed; R's highest-density interval differs"},
		{1, 30, .0036205, .1454178, "computed; R's highest-density interval differs"},
		{0, 10, 0, .2171963, "computed"},
		{8, 10, .4972255, .9559406, "computed"},
		{9, 10, .6186852, .9889883, "computed"},
		{10, 10, .7828037, 1, "computed"},
		{3, 5, .2094167, .9056097, "computed"},
		{5, 5, .6206229, 1, "computed"},
	} {
		low, high, err := Jeffreys(c.x, c.n)
		if err != nil {
			t.Fatal(err)
		}
		near(t, c.source+", low", low, c.low, 1e-6)
		near(t, c.source+", high", high, c.high, 1e-6)
	}
}

func TestIntervalsRefuseImpossibleCounts(t *testing.T) {
	for _, c := range [][2]int{{-1, 5}, {6, 5}, {0, -1}} {
		_, _, w := Wilson(c[0], c[1])
		_, _, j := Jeffreys(c[0], c[1])
		if w == nil || j == nil {
			t.Errorf("%d of %d: no error", c[0], c[1])
		}
	}
}

func TestCohenKappa(t *testing.T) {
	square := [][]float64{{0, 4, 1}, {0, 8, 0}, {0, 1, 5}}
	cohen := [][]float64{{.44, .07, .09}, {.05, .20, .05}, {.01, .03, .06}}
	for _, c := range []struct {
		source  string
		table   [][]float64
		weights [][]float64
		want    float64
	}{
		{"common teaching example, from memory", [][]float64{{20, 5}, {10, 15}}, Plain(2), .40},
		{"SAS, as in the tests of statsmodels", square, Plain(3), .4842},
		{"SAS, as in the tests of statsmodels, linear", square, Linear(3), .4701},
		{"computed, quadratic", square, Quadratic(3), .4502},
		{"Cohen 1968, as in the R psych documentation, plain", cohen, Plain(3), .4915},
		{"Cohen 1968, as in the R psych documentation", cohen, [][]float64{{0, 1, 3}, {1, 0, 6}, {3, 6, 0}}, .3478},
		{"R psych documentation, weights that differ by direction", cohen, [][]float64{{0, 1, 4}, {1, 0, 6}, {2, 2, 0}}, .3534},
	} {
		got, err := CohenKappa(c.table, c.weights)
		if err != nil {
			t.Errorf("%s: %v", c.source, err)
		}
		near(t, c.source, got, c.want, 5e-5)
	}
}

func TestFleissKappa(t *testing.T) {
	for _, c := range []struct {
		source string
		counts [][]int
		want   float64
	}{
		{"common worked example, ten turns and 14 markers, recomputed", [][]int{
			{0, 0, 0, 0, 14}, {0, 2, 6, 4, 2}, {0, 0, 3, 5, 6}, {0, 3, 9, 2, 0}, {2, 2, 8, 1, 1},
			{7, 7, 0, 0, 0}, {3, 2, 6, 3, 0}, {2, 5, 3, 2, 2}, {6, 5, 2, 1, 0}, {0, 2, 2, 3, 7}}, .2099307},
		{"two turns and 8 markers, recomputed", [][]int{{7, 1}, {3, 5}}, .161905},
		{"two turns and 7 markers, recomputed", [][]int{{6, 1, 0}, {0, 7, 0}}, .708333},
	} {
		got, err := FleissKappa(c.counts)
		if err != nil {
			t.Errorf("%s: %v", c.source, err)
		}
		near(t, c.source, got, c.want, 1e-6)
	}
}

func TestAgreementRefuses(t *testing.T) {
	if _, err := CohenKappa([][]float64{{5, 0}, {0, 0}}, Plain(2)); !errors.Is(err, ErrNoChance) {
		t.Errorf("one category: %v", err)
	}
	if _, err := FleissKappa([][]int{{3, 0}, {3, 0}}); !errors.Is(err, ErrNoChance) {
		t.Errorf("one category: %v", err)
	}
	for name, table := range map[string][][]float64{
		"empty": nil, "ragged": {{1, 2}, {1}}, "negative": {{1, -1}, {0, 1}}, "no turns": {{0, 0}, {0, 0}}, "no number": {{math.NaN(), 0}, {0, 1}},
	} {
		if _, err := CohenKappa(table, Plain(2)); err == nil {
			t.Errorf("%s: no error", name)
		}
	}
	for name, counts := range map[string][][]int{
		"empty": nil, "one marker": {{1, 0}}, "uneven": {{2, 1}, {2, 2}}, "ragged": {{2, 1}, {3}}, "negative": {{3, 0}, {4, -1}},
	} {
		if _, err := FleissKappa(counts); err == nil {
			t.Errorf("%s: no error", name)
		}
	}
}

// twoOutcomes is the model with right and wrong, as it was published.
func twoOutcomes(known, learn, slip, guess float64) Learning {
	return Learning{Known: known, Learn: learn, Not: Looks{Missed: 1 - guess, Clean: guess}, Yes: Looks{Missed: slip, Clean: 1 - slip}}
}

func turns(bits string) []Outcome {
	out := make([]Outcome, len(bits))
	for i, b := range bits {
		out[i] = Missed
		if b == '1' {
			out[i] = Clean
		}
	}
	return out
}

func TestTrace(t *testing.T) {
	// Equations: Corbett and Anderson 1995. Inputs of the first: course slides; all values computed from the equations.
	l := twoOutcomes(.4, .1, .3, .2)
	known := l.Known
	wants := [][2]float64{{.2, .28}, {.5765, .6188}, {.8503, .8653}, {.7067, .7360}, {.5111, .5600}}
	for i, o := range turns("01100") {
		after := l.after(known, o)
		known = l.next(after)
		near(t, "after", after, wants[i][0], 5e-5)
		near(t, "next", known, wants[i][1], 5e-5)
	}
	l = twoOutcomes(.5, .4, .2, .2)
	known = l.Known
	for i, want := range []float64{.52, .5279, .8904, .9821, .9973, .9935, .9990, .9999, .9996, .9999} {
		known = l.next(l.after(known, turns("0011101101")[i]))
		near(t, "next", known, want, 5e-5)
	}
	near(t, "impossible turn", twoOutcomes(0, 0, 0, 0).after(0, Clean), 0, 0)
	for name, l := range map[string]Learning{"slip above 1": twoOutcomes(.1, .1, 1.2, .2), "known below 0": twoOutcomes(-.1, .1, .1, .2),
		"sums to less than 1": {Not: Looks{Missed: .5}, Yes: Looks{Clean: 1}}} {
		if l.Validate() == nil {
			t.Errorf("%s: no error", name)
		}
	}
}

func TestRecall(t *testing.T) {
	// Half-life regression, Settles and Meeder 2016: the shape p = 2^(-days/h).
	near(t, "7 days, half-life 14", Recall(7, 14), .70711, 5e-6)
	near(t, "14 days, half-life 7", Recall(14, 7), .25, 0)
}
