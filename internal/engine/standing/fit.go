package standing

import (
	"errors"
	"math"
)

// Turns are the turns of one child at one side of a rung, in order of time. The two sides of a child are two Turns of one Child.
type Turns struct {
	Child    int
	Outcomes []Outcome
}

// Prior is what a fit holds to while marks are few: it counts like so many turns that look like At (children for Known).
type Prior struct {
	At                     Learning
	Known, Learn, Not, Yes float64
}

// DefaultPrior leans on the defaults like 4 children and 30 turns each way. Ours; what is left of the error with it is in the tests.
func DefaultPrior() Prior {
	return Prior{At: DefaultLearning(), Known: 4, Learn: 30, Not: 30, Yes: 30}
}

// The least that a rung is fitted from. Simulated studios of that size, whose children learn unlike the defaults, leave a forecast of
// three lessons off by .03 to .07 on average, where the defaults are off by .09 to .20; a rung that is learned as the defaults say is
// off by .04 instead of .03. Half as much leaves .03 to .07 as well, on too few children to speak of a rung; twice as much .02 to .05.
// TestWhatErrorIsLeft measures it.
const (
	LeastChildren = 10
	LeastMarks    = 150
)

// folds is in how many parts the children are split to see how a fit does on children that it has not seen.
const folds = 5

// maxRounds bounds the rounds of a fit; it ends earlier once a round gains less than leastGain.
const (
	maxRounds = 500
	leastGain = 1e-8
)

// Fit is what the marks of a rung say about how it is learned. Before and After are the log-likelihoods of all marks by the prior's
// own parameters and by the fitted; HeldBefore and HeldAfter the same of children left out of the fit, each once.
type Fit struct {
	Learning              Learning
	Children, Marks       int
	Rounds                int
	Before, After         float64
	HeldBefore, HeldAfter float64
}

// Enough reports whether a rung has the children and marks to be fitted from.
func (f Fit) Enough() bool { return f.Children >= LeastChildren && f.Marks >= LeastMarks }

// Helps reports whether there are enough and the fit foretells children that it has not seen better than the prior does.
func (f Fit) Helps() bool { return f.Enough() && f.HeldAfter > f.HeldBefore }

// Likely is the mean chance (geometric) that a log-likelihood gave to each of n marks; 0 without marks.
func Likely(logLikelihood float64, n int) float64 {
	if n == 0 {
		return 0
	}
	return math.Exp(logLikelihood / float64(n))
}

// FitLearning fits the parameters of a rung by expectation maximisation (Baum-Welch of a two-state chain that forgets nothing), to
// the largest posterior under the prior and the bounds on guess and slip. No round lowers it. Below the least children and marks the
// prior's own parameters come back. It fails on a prior without weight on every outcome.
func FitLearning(all []Turns, p Prior) (Fit, error) {
	if err := p.validate(); err != nil {
		return Fit{}, err
	}
	f := Fit{Learning: p.At}
	f.Children, f.Marks = size(all)
	f.Before = p.At.logLikelihood(all)
	f.After, f.HeldBefore, f.HeldAfter = f.Before, f.Before, f.Before
	if !f.Enough() {
		return f, nil
	}
	f.Learning, f.Rounds = p.fit(all)
	f.After = f.Learning.logLikelihood(all)
	f.HeldAfter = p.held(all)
	return f, nil
}

func (p Prior) validate() error {
	if err := p.At.Validate(); err != nil {
		return err
	}
	for _, v := range []float64{p.At.Known, 1 - p.At.Known, p.At.Learn, 1 - p.At.Learn, p.At.Not.Missed, p.At.Not.Supported, p.At.Not.Clean,
		p.At.Yes.Missed, p.At.Yes.Supported, p.At.Yes.Clean, p.Known, p.Learn, p.Not, p.Yes} {
		if !(v > 0) {
			return errors.New("standing: a prior needs some weight on everything that can happen")
		}
	}
	if p.At.Not.Clean > MostGuess || p.At.Yes.Clean < 1-MostSlip {
		return errors.New("standing: the prior's own guess or slip is out of bounds")
	}
	return nil
}

func size(all []Turns) (children, marks int) {
	seen := map[int]bool{}
	for _, t := range all {
		if len(t.Outcomes) > 0 {
			seen[t.Child] = true
		}
		marks += len(t.Outcomes)
	}
	return len(seen), marks
}

func (p Prior) fit(all []Turns) (Learning, int) {
	l := p.At
	last := math.Inf(-1)
	for round := 1; ; round++ {
		c := count{}
		for _, t := range all {
			c.add(l, t.Outcomes)
		}
		if now := c.logLikelihood + p.logDensity(l); now-last < leastGain || round == maxRounds {
			return l, round
		} else {
			last = now
		}
		l = p.best(c)
	}
}

// logDensity is the log of the prior's density, but for a constant.
func (p Prior) logDensity(l Learning) float64 {
	looks := func(at, now Looks) float64 {
		return at.Missed*math.Log(now.Missed) + at.Supported*math.Log(now.Supported) + at.Clean*math.Log(now.Clean)
	}
	coin := func(at, now float64) float64 { return at*math.Log(now) + (1-at)*math.Log(1-now) }
	return p.Known*coin(p.At.Known, l.Known) + p.Learn*coin(p.At.Learn, l.Learn) + p.Not*looks(p.At.Not, l.Not) + p.Yes*looks(p.At.Yes, l.Yes)
}

// best are the parameters of the largest posterior, given what was expected to have happened. Where a bound binds, the other two
// outcomes keep their proportion: the largest there, since the logarithm is concave.
func (p Prior) best(c count) Learning {
	return Learning{
		Known: (c.known + p.Known*p.At.Known) / (c.firsts + p.Known),
		Learn: (c.learned + p.Learn*p.At.Learn) / (c.tried + p.Learn),
		Not:   weigh(c.not, p.At.Not, p.Not, 0, MostGuess),
		Yes:   weigh(c.yes, p.At.Yes, p.Yes, 1-MostSlip, 1),
	}
}

func weigh(c, at Looks, weight, least, most float64) Looks {
	l := Looks{c.Missed + weight*at.Missed, c.Supported + weight*at.Supported, c.Clean + weight*at.Clean}
	sum, rest := l.Missed+l.Supported+l.Clean, l.Missed+l.Supported
	clean := min(max(l.Clean/sum, least), most)
	return Looks{(1 - clean) * l.Missed / rest, (1 - clean) * l.Supported / rest, clean}
}

// held is the log-likelihood of each fifth of the children by the fit of the others.
func (p Prior) held(all []Turns) float64 {
	part, next := map[int]int{}, 0
	for _, t := range all {
		if _, known := part[t.Child]; !known {
			part[t.Child] = next % folds
			next++
		}
	}
	sum := 0.0
	for out := range folds {
		var rest, left []Turns
		for _, t := range all {
			if part[t.Child] == out {
				left = append(left, t)
			} else {
				rest = append(rest, t)
			}
		}
		l, _ := p.fit(rest)
		sum += l.logLikelihood(left)
	}
	return sum
}
