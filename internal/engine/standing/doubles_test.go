package standing

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"
	"time"
)

func TestPairTurns(t *testing.T) {
	turn := func(second int, rung string, side Side, lesson string) Mark {
		return Mark{RungID: rung, Side: side, Lesson: lesson, At: at(1).Add(time.Duration(second) * time.Second), Outcome: Clean}
	}
	for _, c := range []struct {
		name          string
		first, second []Mark
		want          [][2]int // seconds of each pair
	}{
		{"nobody", nil, nil, nil},
		{"the same turns", []Mark{turn(0, "a", "", "x"), turn(60, "a", "", "x")}, []Mark{turn(5, "a", "", "x"), turn(58, "a", "", "x")}, [][2]int{{0, 5}, {60, 58}}},
		{"one saw more", []Mark{turn(0, "a", "", "x")}, []Mark{turn(5, "a", "", "x"), turn(60, "a", "", "x")}, [][2]int{{0, 5}}},
		{"turn and turn about is no double", []Mark{turn(0, "a", "", "x"), turn(120, "a", "", "x")}, []Mark{turn(60, "a", "", "x"), turn(180, "a", "", "x")}, nil},
		{"the nearest is paired first", []Mark{turn(0, "a", "", "x"), turn(20, "a", "", "x")}, []Mark{turn(18, "a", "", "x")}, [][2]int{{20, 18}}},
		{"another rung", []Mark{turn(0, "a", "", "x")}, []Mark{turn(0, "b", "", "x")}, nil},
		{"another side", []Mark{turn(0, "a", Left, "x")}, []Mark{turn(0, "a", Right, "x")}, nil},
		{"another lesson", []Mark{turn(0, "a", "", "x")}, []Mark{turn(0, "a", "", "y")}, nil},
		{"no lesson", []Mark{turn(0, "a", "", "")}, []Mark{turn(0, "a", "", "")}, nil},
	} {
		var got [][2]int
		for _, p := range PairTurns(c.first, c.second) {
			got = append(got, [2]int{int(p[0].At.Sub(at(1)).Seconds()), int(p[1].At.Sub(at(1)).Seconds())})
		}
		if !slices.Equal(got, c.want) {
			t.Errorf("%s: %v, want %v", c.name, got, c.want)
		}
	}
}

func TestATurnMarkedByTwoCountsOnce(t *testing.T) {
	turn := func(second int, by string, outcome Outcome, side Side) Mark {
		return Mark{RungID: "lunge", Lesson: "x", At: at(1).Add(time.Duration(second) * time.Second), By: by, Outcome: outcome, Side: side}
	}
	hurt := turn(5, "b", Clean, NoSide)
	hurt.SafetyFault = true
	for _, c := range []struct {
		name  string
		marks []Mark
		want  []Outcome
		hurts bool
	}{
		{"none", nil, nil, false},
		{"both alike", []Mark{turn(0, "a", Clean, NoSide), turn(5, "b", Clean, NoSide)}, []Outcome{Clean}, false},
		{"the less good counts", []Mark{turn(0, "a", Clean, NoSide), turn(5, "b", Missed, NoSide)}, []Outcome{Missed}, false},
		{"whoever saw it first", []Mark{turn(0, "a", Supported, NoSide), turn(5, "b", Clean, NoSide)}, []Outcome{Supported}, false},
		{"a fault that can hurt counts", []Mark{turn(0, "a", Missed, NoSide), hurt}, []Outcome{Missed}, true},
		{"one person's own two marks are two turns", []Mark{turn(0, "a", Clean, NoSide), turn(5, "a", Clean, NoSide)}, []Outcome{Clean, Clean}, false},
		{"too far apart", []Mark{turn(0, "a", Clean, NoSide), turn(31, "b", Clean, NoSide)}, []Outcome{Clean, Clean}, false},
		{"two sides", []Mark{turn(0, "a", Clean, Left), turn(5, "b", Clean, Right)}, []Outcome{Clean, Clean}, false},
		{"a third mark is a turn of its own", []Mark{turn(0, "a", Clean, NoSide), turn(5, "b", Clean, NoSide), turn(10, "c", Clean, NoSide)}, []Outcome{Clean, Clean}, false},
		{"two turns, each seen by both", []Mark{turn(0, "a", Clean, NoSide), turn(2, "b", Missed, NoSide), turn(50, "a", Clean, NoSide), turn(52, "b", Clean, NoSide)},
			[]Outcome{Missed, Clean}, false},
	} {
		var got []Outcome
		hurts := false
		for _, m := range OncePerTurn(c.marks) {
			got, hurts = append(got, m.Outcome), hurts || m.SafetyFault
		}
		if !slices.Equal(got, c.want) || hurts != c.hurts {
			t.Errorf("%s: %v, hurts %v, want %v", c.name, got, hurts, c.want)
		}
	}
	if s := on(t, ladder(t), []Mark{turn(0, "a", Clean, NoSide), turn(5, "b", Supported, NoSide)}, 1, "lunge"); s.Marks != 1 || s.Rate != 0 {
		t.Errorf("on the board: %+v", s)
	}
}

// doublesOf makes turns out of a table, each of a child of its own.
func doublesOf(table [3][3]int) []Double {
	kinds := []Outcome{Missed, Supported, Clean}
	var all []Double
	for i, row := range table {
		for j, n := range row {
			for range n {
				all = append(all, Double{Child: len(all), First: kinds[i], Second: kinds[j]})
			}
		}
	}
	return all
}

func TestAgree(t *testing.T) {
	// SAS, as in the tests of statsmodels: linear kappa .4701. Its interval for plain kappa, by a normal approximation, is .54 wide;
	// no published bootstrap interval was found, so of ours only the order and a like width are held.
	a, err := Agree(doublesOf([3][3]int{{0, 4, 1}, {0, 8, 0}, {0, 1, 5}}), 2000, 1)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "linear kappa", a.Kappa, .4701, 5e-5)
	near(t, "same", a.Same, 13./19, 1e-12)
	if !a.Bounded || a.Low >= a.Kappa || a.High <= a.Kappa || a.High-a.Low < .3 || a.High-a.Low > .8 {
		t.Errorf("interval %+v", a)
	}
	again, _ := Agree(doublesOf([3][3]int{{0, 4, 1}, {0, 8, 0}, {0, 1, 5}}), 2000, 1)
	if again != a {
		t.Error("the same seed gives another interval")
	}
	for _, c := range []struct {
		name             string
		doubles          []Double
		kappa            float64
		defined, bounded bool
	}{
		{"no turns", nil, 0, false, false},
		{"all clean", doublesOf([3][3]int{2: {2: 9}}), 0, false, false},
		{"always the same", doublesOf([3][3]int{{9}, {0, 9}, {0, 0, 9}}), 1, true, true},
		{"one child", []Double{{1, Clean, Clean}, {1, Missed, Missed}}, 1, true, false},
		{"as far apart as can be", doublesOf([3][3]int{{0, 0, 9}, {}, {9}}), -1, true, true},
	} {
		a, err := Agree(c.doubles, 200, 1)
		if err != nil || a.Defined != c.defined || a.Bounded != c.bounded || math.Abs(a.Kappa-c.kappa) > 1e-12 {
			t.Errorf("%s: %+v, %v", c.name, a, err)
		}
	}
	if _, err := Agree([]Double{{1, "perfect", Clean}}, 200, 1); err == nil {
		t.Error("no such outcome: no error")
	}
	if _, err := Agree(nil, 0, 1); err == nil {
		t.Error("no resamples: no error")
	}
}

// crowd draws children who differ, with several turns each, seen by two markers who each err now and then.
func crowd(children, turnsEach int, dice *rand.Rand) []Double {
	kinds := []Outcome{Missed, Supported, Clean}
	var all []Double
	for child := range children {
		level := dice.Float64()
		for range turnsEach {
			is := min(2, int(3*(.7*level+.3*dice.Float64())))
			sees := func() Outcome {
				if dice.Float64() < .25 {
					return kinds[dice.IntN(3)]
				}
				return kinds[is]
			}
			all = append(all, Double{child, sees(), sees()})
		}
	}
	return all
}

// Of 95% intervals over simulated studios, near 95% hold the kappa of very many turns. With 12 children a percentile interval is known
// to be a little short, so 85% is asked for.
func TestTheIntervalHoldsTheTruth(t *testing.T) {
	dice := rand.New(rand.NewPCG(5, 5))
	truth, err := Agree(crowd(40000, 5, dice), 100, 1)
	if err != nil {
		t.Fatal(err)
	}
	const studios = 200
	held := 0
	for n := range studios {
		a, err := Agree(crowd(12, 5, dice), 400, uint64(n))
		if err != nil {
			t.Fatal(err)
		}
		if a.Bounded && a.Low <= truth.Kappa && truth.Kappa <= a.High {
			held++
		}
	}
	t.Logf("%d of %d intervals hold the kappa of %.3f", held, studios, truth.Kappa)
	if held < studios*85/100 {
		t.Errorf("%d of %d intervals hold the truth", held, studios)
	}
}
