package standing

import (
	"fmt"
	"math"
	"math/rand/v2"
)

// Ahead is what is left until a day. Lessons holds for each lesson to come, soonest first, the chance that the child is there and
// works at the rung; Turns is how many marked turns it then gets, both sides together, 1 to 60.
type Ahead struct {
	Lessons []float64
	Turns   int
}

// Forecast is what a child's marks and the turns ahead make likely. It is no clearance: the teacher who is present decides.
type Forecast struct {
	// Known is the probability that the rung is known now, the smaller one of the two sides.
	Known float64
	// Secure is the probability that the studio's rule is met within the lessons ahead, if no more faults are seen that can hurt.
	Secure float64
	// Turns is how many turns are to be expected.
	Turns float64
	// Error is the standard error of Secure; 0 when it was computed exactly.
	Error float64
}

// mostStates is how many states a forecast follows exactly; a wider rule is simulated, with so many runs from a fixed seed.
const (
	mostStates = 1 << 17
	runs       = 4000
)

// Forecast looks ahead on one rung from where the child stands, whether or not its needs are met. A rung that has been secure is
// certain. It fails on a rung that the board does not have and on numbers out of range.
func (b Board) Forecast(id string, l Learning, a Ahead) (Forecast, error) {
	return b.forecast(id, l, a, false)
}

// forecast looks ahead; again asks for the rule to be met once more where it was met before.
func (b Board) forecast(id string, l Learning, a Ahead, again bool) (Forecast, error) {
	st, ok := b.On(id)
	if !ok {
		return Forecast{}, fmt.Errorf("standing: forecast for %q, which is no rung", id)
	}
	if err := l.Validate(); err != nil {
		return Forecast{}, err
	}
	chances, err := a.chances()
	if err != nil {
		return Forecast{}, err
	}
	f := Forecast{Turns: expected(a.Lessons) * float64(a.Turns)}
	if !st.SecureSince.IsZero() && !again {
		f.Known, f.Secure = 1, 1
		return f, nil
	}
	i := b.graph.index[id]
	lanes := newLanes(b.marks[i], b.graph.rungs[i].TwoSided, st.Weaker, l, b.settings)
	f.Known = lanes[0].known
	for _, lane := range lanes {
		f.Known = min(f.Known, lane.known)
	}
	if math.Pow(float64(b.settings.Rule.states()), float64(len(lanes))) > mostStates {
		f.Secure, f.Error = simulate(lanes, l, chances, a.Turns)
	} else {
		f.Secure = min(exact(lanes, l, chances, a.Turns), 1)
	}
	return f, nil
}

// exact is the chance of the rule, over every way in which the turns may go.
func exact(lanes []lane, l Learning, chances []float64, turns int) float64 {
	r, sum := newRace(lanes, l), 0.0
	for n, chance := range chances {
		if n > 0 {
			r.lesson(n, turns, len(lanes))
		}
		sum += chance * r.done
	}
	return sum
}

// chances is how likely the child works at the rung in exactly 0, 1, 2 ... of the lessons.
func (a Ahead) chances() ([]float64, error) {
	if a.Turns < 1 || a.Turns > 60 {
		return nil, fmt.Errorf("standing: %d turns in a lesson, want 1 to 60", a.Turns)
	}
	if len(a.Lessons) > 400 {
		return nil, fmt.Errorf("standing: a forecast over %d lessons, want at most 400", len(a.Lessons))
	}
	of := []float64{1}
	for i, p := range a.Lessons {
		if !(p >= 0 && p <= 1) {
			return nil, fmt.Errorf("standing: the chance of work in lesson %d is %g, want a probability from 0 to 1", i+1, p)
		}
		next := make([]float64, len(of)+1)
		for n, v := range of {
			next[n] += v * (1 - p)
			next[n+1] += v * p
		}
		of = next
	}
	return of, nil
}

func expected(chances []float64) float64 {
	sum := 0.0
	for _, p := range chances {
		sum += p
	}
	return sum
}

// simulate plays the turns out many times from a fixed seed.
func simulate(lanes []lane, l Learning, chances []float64, turns int) (secure, standardError float64) {
	dice := rand.New(rand.NewPCG(1, runs))
	met := 0
	for range runs {
		if play(lanes, l, draw(chances, dice), turns, dice) {
			met++
		}
	}
	secure = float64(met) / runs
	return secure, math.Sqrt(secure * (1 - secure) / runs)
}

func draw(chances []float64, dice *rand.Rand) int {
	luck := dice.Float64()
	for n, p := range chances {
		if luck -= p; luck < 0 {
			return n
		}
	}
	return len(chances) - 1
}

func play(start []lane, l Learning, lessons, turns int, dice *rand.Rand) bool {
	lanes, known := make([]lane, len(start)), make([]bool, len(start))
	for i, s := range start {
		lanes[i], known[i] = s.clone(), dice.Float64() < s.known
	}
	for lesson := 1; lesson <= lessons; lesson++ {
		for turn := range turns {
			at := turn % len(lanes)
			clean := l.Not.Clean
			if known[at] {
				clean = l.Yes.Clean
			}
			lanes[at].turn(lesson, dice.Float64() < clean)
			known[at] = known[at] || dice.Float64() < l.Learn
			if allLanesMet(lanes) {
				return true
			}
		}
	}
	return false
}

func allLanesMet(lanes []lane) bool {
	for _, l := range lanes {
		if !l.met(l.good) {
			return false
		}
	}
	return true
}
