package standing

import (
	"cmp"
	"errors"
	"fmt"
	"math/rand/v2"
	"slices"
	"time"
)

// SameTurn is how near in time two people's marks must be to be of the same turn: a turn and the walk back take longer. Ours; no
// published figure for this.
const SameTurn = 30 * time.Second

// OncePerTurn counts a turn that two people marked once, as the less good of the two saw it, so that marking together makes nobody
// secure sooner. Marks are of one child and rung, in order of time; a mark is of the same turn as another's when side and lesson are the
// same and the two are within SameTurn.
func OncePerTurn(marks []Mark) []Mark {
	out := make([]Mark, 0, len(marks))
	doubled := -1 // the last place in out that stands for two marks
	for _, m := range marks {
		at := len(out) - 1
		for at > doubled && m.At.Sub(out[at].At) <= SameTurn && !m.sameTurn(out[at]) {
			at--
		}
		if at <= doubled || m.At.Sub(out[at].At) > SameTurn {
			out = append(out, m)
			continue
		}
		out[at], doubled = worse(out[at], m), at
	}
	return out
}

// worse is the less good of two marks of one turn; a fault that can hurt counts whoever saw it.
func worse(a, b Mark) Mark {
	hurts := a.SafetyFault || b.SafetyFault
	if rank(b.Outcome) < rank(a.Outcome) {
		a = b
	}
	a.SafetyFault = hurts
	return a
}

// sameTurn reports whether two marks may be of one turn, but for the time.
func (m Mark) sameTurn(n Mark) bool {
	return m.By != n.By && m.Lesson != "" && m.Lesson == n.Lesson && m.Side == n.Side
}

// Double is one turn that two people marked. Child numbers the child.
type Double struct {
	Child         int
	First, Second Outcome
}

// PairTurns finds the turns of one child that two people both marked: same rung, side and lesson, and marked within SameTurn of each
// other, since no turn carries a number. The two marks nearest in time are paired first and each mark is used once, so a turn that
// only one of the two saw pairs with nothing. Marks without a lesson are left out.
func PairTurns(first, second []Mark) [][2]Mark {
	type near struct {
		a, b  int
		apart time.Duration
	}
	var all []near
	for i, a := range first {
		for j, b := range second {
			if apart := a.At.Sub(b.At).Abs(); a.RungID == b.RungID && a.Side == b.Side && a.Lesson != "" && a.Lesson == b.Lesson && apart <= SameTurn {
				all = append(all, near{i, j, apart})
			}
		}
	}
	slices.SortFunc(all, func(x, y near) int {
		return cmp.Or(cmp.Compare(x.apart, y.apart), cmp.Compare(x.a, y.a), cmp.Compare(x.b, y.b))
	})
	usedA, usedB := make([]bool, len(first)), make([]bool, len(second))
	var pairs [][2]Mark
	for _, n := range all {
		if !usedA[n.a] && !usedB[n.b] {
			usedA[n.a], usedB[n.b] = true, true
			pairs = append(pairs, [2]Mark{first[n.a], second[n.b]})
		}
	}
	slices.SortStableFunc(pairs, func(x, y [2]Mark) int { return x[0].At.Compare(y[0].At) })
	return pairs
}

// Agreement is how two people's marks of the same turns go together.
type Agreement struct {
	Turns, Children int
	// Table counts turns by the first's outcome, then the second's: missed, supported, clean.
	Table [3][3]float64
	// Same is the share of turns that both marked alike.
	Same float64
	// Kappa is Cohen's with linear weights: to be apart by two outcomes counts twice. Defined is false where both gave but one outcome.
	Kappa   float64
	Defined bool
	// Low and High bound Kappa in 95 of 100 resamples; Bounded is false with fewer than 2 children or where too many resamples of
	// the children have no kappa.
	Low, High float64
	Bounded   bool
}

// Agree works out the agreement with a percentile bootstrap interval (Efron 1979, Annals of Statistics 7:1-26, from memory) from so many resamples.
// Whole children are resampled, not turns: turns of one child are alike (Field and Welsh 2007, J. R. Statist. Soc. B 69:369-390, from
// memory). The seed makes it repeatable.
func Agree(doubles []Double, resamples int, seed uint64) (Agreement, error) {
	if resamples < 100 {
		return Agreement{}, fmt.Errorf("standing: %d resamples, want at least 100", resamples)
	}
	a := Agreement{Turns: len(doubles)}
	byChild, err := tables(doubles)
	if err != nil || len(byChild) == 0 {
		return a, err
	}
	a.Children = len(byChild)
	for _, t := range byChild {
		addTable(&a.Table, t)
	}
	a.Same = (a.Table[0][0] + a.Table[1][1] + a.Table[2][2]) / float64(a.Turns)
	if a.Kappa, a.Defined, err = kappaOf(a.Table); err != nil {
		return a, err
	}
	return a, a.resample(byChild, resamples, rand.New(rand.NewPCG(seed, 1968)))
}

// resample fills in the interval.
func (a *Agreement) resample(byChild [][3][3]float64, resamples int, dice *rand.Rand) error {
	var kappas []float64
	for range resamples {
		var t [3][3]float64
		for range byChild {
			addTable(&t, byChild[dice.IntN(len(byChild))])
		}
		kappa, defined, err := kappaOf(t)
		if err != nil {
			return err
		}
		if defined {
			kappas = append(kappas, kappa)
		}
	}
	if a.Children < 2 || !a.Defined || len(kappas)*20 < resamples*19 {
		return nil
	}
	slices.Sort(kappas)
	at := func(share float64) float64 { return kappas[int(share*float64(len(kappas)-1)+.5)] }
	a.Low, a.High, a.Bounded = at(.025), at(.975), true
	return nil
}

func kappaOf(t [3][3]float64) (kappa float64, defined bool, err error) {
	kappa, err = CohenKappa([][]float64{t[0][:], t[1][:], t[2][:]}, Linear(3))
	if errors.Is(err, ErrNoChance) {
		return 0, false, nil
	}
	return kappa, err == nil, err
}

// tables counts each child's turns, children in order of their first turn.
func tables(doubles []Double) ([][3][3]float64, error) {
	var all [][3][3]float64
	at := map[int]int{}
	for _, d := range doubles {
		first, second := rank(d.First), rank(d.Second)
		if first < 0 || second < 0 {
			return nil, fmt.Errorf("standing: outcomes %q and %q of one turn, want missed, supported or clean", d.First, d.Second)
		}
		if _, known := at[d.Child]; !known {
			at[d.Child] = len(all)
			all = append(all, [3][3]float64{})
		}
		all[at[d.Child]][first][second]++
	}
	return all, nil
}

func addTable(sum *[3][3]float64, t [3][3]float64) {
	for i := range t {
		for j := range t[i] {
			sum[i][j] += t[i][j]
		}
	}
}

// rank is the place of an outcome from worst to best, -1 for none.
func rank(o Outcome) int { return slices.Index([]Outcome{Missed, Supported, Clean}, o) }
