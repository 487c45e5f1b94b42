package standing

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// simulated are children who learn a rung as the model says.
func simulated(l Learning, children, turnsEach int, dice *rand.Rand) []Turns {
	all := make([]Turns, children)
	for i := range all {
		p := &played{l: l, known: map[Side]bool{NoSide: dice.Float64() < l.Known}, dice: dice}
		all[i].Child = i
		for range turnsEach {
			all[i].Outcomes = append(all[i].Outcomes, p.mark("", NoSide, at(1)).Outcome)
		}
	}
	return all
}

// truths are ways to learn that lie well away from the defaults: slow and quick, known at first or not.
var truths = []Learning{
	{Known: .05, Learn: .03, Not: Looks{.6, .3, .1}, Yes: Looks{.01, .03, .96}},
	{Known: .5, Learn: .1, Not: Looks{.3, .5, .2}, Yes: Looks{.03, .05, .92}},
	{Known: .1, Learn: .25, Not: Looks{.5, .25, .25}, Yes: Looks{.02, .06, .92}},
	{Known: .3, Learn: .15, Not: Looks{.7, .2, .1}, Yes: Looks{.02, .03, .95}},
}

// Known parameters come back from many marks made by them. Source: none needed, the marks were made from the parameters.
func TestFitRecoversWhatMadeTheMarks(t *testing.T) {
	dice := rand.New(rand.NewPCG(3, 1))
	for i, truth := range truths {
		f, err := FitLearning(simulated(truth, 600, 25, dice), DefaultPrior())
		if err != nil {
			t.Fatal(err)
		}
		got := f.Learning
		for _, c := range []struct {
			name      string
			got, want float64
			tolerance float64
		}{
			{"known", got.Known, truth.Known, .05}, {"learn", got.Learn, truth.Learn, .02},
			{"missed while not known", got.Not.Missed, truth.Not.Missed, .03}, {"guess", got.Not.Clean, truth.Not.Clean, .03},
			{"missed while known", got.Yes.Missed, truth.Yes.Missed, .01}, {"clean while known", got.Yes.Clean, truth.Yes.Clean, .01},
		} {
			if math.Abs(c.got-c.want) > c.tolerance {
				t.Errorf("truth %d, %s: %.3f, want %.3f", i, c.name, c.got, c.want)
			}
		}
		if !f.Helps() || f.After <= f.Before {
			t.Errorf("truth %d: fit %+v does not help", i, f)
		}
	}
}

// meanError is how far a forecast of the next turns is off, over what a child can have shown so far: the mean distance between the
// chance of secure within three lessons by l and by the truth.
func meanError(t *testing.T, l, truth Learning, dice *rand.Rand) float64 {
	t.Helper()
	const children = 40
	sum := 0.0
	for _, child := range simulated(truth, children, 6, dice) {
		var seen []Mark
		for i, o := range child.Outcomes {
			seen = append(seen, Mark{RungID: "lunge", At: at(1 + 7*(i/3)), Outcome: o, By: "teacher"})
		}
		b, err := ladder(t).Board(seen, Defaults(), at(20))
		if err != nil {
			t.Fatal(err)
		}
		if s, _ := b.On("lunge"); !s.SecureSince.IsZero() {
			continue
		}
		a := Ahead{Lessons: []float64{1, 1, 1}, Turns: 3}
		by, errBy := b.Forecast("lunge", l, a)
		of, errOf := b.Forecast("lunge", truth, a)
		if errBy != nil || errOf != nil {
			t.Fatal(errBy, errOf)
		}
		sum += math.Abs(by.Secure - of.Secure)
	}
	return sum / children
}

// TestWhatErrorIsLeft measures why LeastChildren and LeastMarks are what they are: rungs learned in ways well away from the defaults, a
// fit from just that many children and marks, and how far forecasts are off by the fit and by the defaults. The second way to learn
// foretells much as the defaults do, so there a fit gains nothing.
func TestWhatErrorIsLeft(t *testing.T) {
	const studios = 25
	for i, truth := range truths {
		byFit, byDefault, helped := 0.0, 0.0, 0
		for n := range studios {
			dice := rand.New(rand.NewPCG(uint64(i), uint64(n)))
			f, err := FitLearning(simulated(truth, LeastChildren, LeastMarks/LeastChildren, dice), DefaultPrior())
			if err != nil {
				t.Fatal(err)
			}
			l := DefaultLearning()
			if f.Helps() {
				l = f.Learning
				helped++
			}
			byFit += meanError(t, l, truth, rand.New(rand.NewPCG(9, uint64(n)))) / studios
			byDefault += meanError(t, DefaultLearning(), truth, rand.New(rand.NewPCG(9, uint64(n)))) / studios
		}
		t.Logf("truth %d: forecasts off by %.3f as used, by %.3f by the defaults; fits in use %d of %d", i, byFit, byDefault, helped, studios)
		if byFit > .1 || byDefault > .05 && byFit > byDefault/2 {
			t.Errorf("truth %d: off by %.3f, by the defaults %.3f", i, byFit, byDefault)
		}
	}
}

func drawTurns(t *rapid.T, children int) []Turns {
	all := make([]Turns, children)
	for i := range all {
		all[i].Child = i / 2
		all[i].Outcomes = rapid.SliceOfN(rapid.SampledFrom([]Outcome{Missed, Supported, Clean}), 0, 20).Draw(t, "turns")
	}
	return all
}

func drawLooks(t *rapid.T, least, most float64) Looks {
	clean := rapid.Float64Range(least, most).Draw(t, "clean")
	share := rapid.Float64Range(.05, .95).Draw(t, "share")
	return Looks{Missed: (1 - clean) * share, Supported: (1 - clean) * (1 - share), Clean: clean}
}

func drawPrior(t *rapid.T) Prior {
	weight := rapid.Float64Range(1e-6, 50)
	coin := rapid.Float64Range(.01, .9)
	return Prior{At: Learning{Known: coin.Draw(t, "known"), Learn: coin.Draw(t, "learn"), Not: drawLooks(t, .02, MostGuess), Yes: drawLooks(t, 1-MostSlip, .99)},
		Known: weight.Draw(t, "weight of known"), Learn: weight.Draw(t, "of learn"), Not: weight.Draw(t, "of not"), Yes: weight.Draw(t, "of yes")}
}

// No round lowers the posterior (Dempster, Laird and Rubin 1977, J. R. Statist. Soc. B 39:1-38, with a prior), whatever the marks and
// the prior; with next to no prior that is the likelihood. The bounds hold after each round.
func TestARoundNeverLowersThePosterior(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		all, p := drawTurns(t, rapid.IntRange(1, 8).Draw(t, "rows")), drawPrior(t)
		l, last := p.At, math.Inf(-1)
		for range 30 {
			c := count{}
			for _, row := range all {
				c.add(l, row.Outcomes)
			}
			now := c.logLikelihood + p.logDensity(l)
			if now < last-1e-9*math.Abs(last)-1e-9 {
				t.Fatalf("from %.12f down to %.12f", last, now)
			}
			if direct := l.logLikelihood(all); math.Abs(direct-c.logLikelihood) > 1e-9*math.Abs(direct)+1e-9 {
				t.Fatalf("log-likelihood %g, counted %g", direct, c.logLikelihood)
			}
			last, l = now, p.best(c)
			if err := l.Validate(); err != nil || l.Not.Clean > MostGuess+1e-12 || l.Yes.Clean < 1-MostSlip-1e-12 {
				t.Fatalf("out of bounds: %+v, %v", l, err)
			}
		}
	})
}

// TestExpectationAgainstEveryPath adds up every way in which a child may have come to know the rung, or not: at turn k, or never.
func TestExpectationAgainstEveryPath(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		row := drawTurns(t, 1)[0].Outcomes
		l := drawPrior(t).At
		var got, want count
		got.add(l, row)
		sum := 0.0
		for from := range len(row) + 1 { // known from turn number from on
			p := pathChance(l, row, from)
			sum += p
			for i, o := range row {
				if i >= from {
					want.yes.add(o, p)
				} else {
					want.not.add(o, p)
				}
			}
			if from == 0 {
				want.known += p
			}
			if from > 0 && from < len(row) {
				want.learned += p
			}
			want.tried += p * float64(min(from, max(0, len(row)-1)))
		}
		if len(row) == 0 {
			return
		}
		for _, c := range [][2]float64{{got.known, want.known}, {got.learned, want.learned}, {got.tried, want.tried}, {got.yes.Clean, want.yes.Clean},
			{got.yes.Missed, want.yes.Missed}, {got.not.Supported, want.not.Supported}, {got.not.Clean, want.not.Clean}} {
			if math.Abs(c[0]-c[1]/sum) > 1e-9 {
				t.Fatalf("counted %+v, by every path %+v over %g", got, want, sum)
			}
		}
		if math.Abs(got.logLikelihood-math.Log(sum)) > 1e-9 {
			t.Fatalf("log-likelihood %g, by every path %g", got.logLikelihood, math.Log(sum))
		}
	})
}

// pathChance is the chance of the turns together with the rung being known from one of them on.
func pathChance(l Learning, row []Outcome, from int) float64 {
	p := 1.0
	switch {
	case from == 0:
		p = l.Known
	case from == len(row):
		p = (1 - l.Known) * math.Pow(1-l.Learn, float64(from-1))
	default:
		p = (1 - l.Known) * math.Pow(1-l.Learn, float64(from-1)) * l.Learn
	}
	for i, o := range row {
		if i >= from {
			p *= l.Yes.of(o)
		} else {
			p *= l.Not.of(o)
		}
	}
	return p
}

func TestFitOfThinMarks(t *testing.T) {
	same := func(o Outcome, children, turnsEach int) []Turns {
		all := make([]Turns, children)
		for i := range all {
			all[i] = Turns{Child: i, Outcomes: slices.Repeat([]Outcome{o}, turnsEach)}
		}
		return all
	}
	few, many := LeastMarks/LeastChildren-1, LeastMarks/LeastChildren+1
	for _, c := range []struct {
		name   string
		all    []Turns
		fitted bool
	}{
		{"no marks", nil, false},
		{"rows without marks", []Turns{{Child: 1}, {Child: 2}}, false},
		{"too few marks", same(Clean, LeastChildren, few), false},
		{"too few children", same(Clean, LeastChildren-1, 10*many), false},
		{"all clean", same(Clean, LeastChildren, many), true},
		{"all missed", same(Missed, LeastChildren, many), true},
		{"all supported", same(Supported, LeastChildren, many), true},
	} {
		f, err := FitLearning(c.all, DefaultPrior())
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
		}
		if err := f.Learning.Validate(); err != nil {
			t.Errorf("%s: %v", c.name, err)
		}
		if fitted := f.Learning != DefaultLearning(); fitted != c.fitted || f.Helps() != c.fitted {
			t.Errorf("%s: fitted %v, helps %v: %+v", c.name, fitted, f.Helps(), f)
		}
	}
	if _, err := FitLearning(nil, Prior{At: twoOutcomes(.5, .1, .05, .2), Known: 1, Learn: 1, Not: 1, Yes: 1}); err == nil {
		t.Error("a prior without weight on supported: no error")
	}
	if _, err := FitLearning(nil, Prior{At: Learning{.5, .1, Looks{.3, .2, .5}, Looks{.05, .05, .9}}, Known: 1, Learn: 1, Not: 1, Yes: 1}); err == nil {
		t.Error("a prior beyond the bounds: no error")
	}
	near(t, "mean chance", Likely(math.Log(.25)*3, 3), .25, 1e-12)
	near(t, "mean chance of nothing", Likely(0, 0), 0, 0)
}

// BenchmarkFit fits one rung from 48 children with 25 marks each, with the five fits that judge it.
func BenchmarkFit(b *testing.B) {
	all := simulated(truths[3], 48, 25, rand.New(rand.NewPCG(1, 1)))
	for b.Loop() {
		if _, err := FitLearning(all, DefaultPrior()); err != nil {
			b.Fatal(err)
		}
	}
}
