package cues

import (
	"fmt"
	"math"
	"math/bits"
	"math/rand/v2"
	"reflect"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// drawInput draws a small table with ids in the order of the lists and Before pointing down the list only.
func drawInput(t *rapid.T) Input {
	chance := rapid.SampledFrom([]float64{0, 0.2, 0.5, 0.5, 0.8, 1})
	var in Input
	for f := range rapid.IntRange(0, 4).Draw(t, "faults") {
		turns := rapid.IntRange(0, 4).Draw(t, "turns")
		in.Faults = append(in.Faults, Fault{ID: fmt.Sprint("f", f), Safety: rapid.Bool().Draw(t, "safety"), Turns: turns,
			Seen: rapid.IntRange(0, turns).Draw(t, "seen")})
	}
	n := rapid.IntRange(0, 6).Draw(t, "causes")
	for c := range n {
		cause := Cause{ID: fmt.Sprint("c", c), Prior: rapid.SampledFrom([]float64{0, 0.1, 0.7}).Draw(t, "prior")}
		for other := c + 1; other < n; other++ {
			if rapid.IntRange(0, 4).Draw(t, "before") == 0 {
				cause.Before = append(cause.Before, fmt.Sprint("c", other))
			}
		}
		in.Causes = append(in.Causes, cause)
		for f := range in.Faults {
			if rapid.Bool().Draw(t, "linked") {
				in.Links = append(in.Links, Link{Fault: in.Faults[f].ID, Cause: cause.ID, Strength: chance.Draw(t, "strength"),
					Drills: []string{fmt.Sprint("d", f), fmt.Sprint("d", c)}})
			}
		}
	}
	return in
}

func drawSettings(t *rapid.T) Settings {
	s := Defaults()
	s.Most = rapid.IntRange(1, MaxCues).Draw(t, "most")
	s.Likely = rapid.SampledFrom([]float64{0.3, 0.5, 1}).Draw(t, "likely")
	return s
}

func drawObservations(t *rapid.T) []Observation {
	var out []Observation
	for o := range rapid.IntRange(1, 3).Draw(t, "observations") {
		obs := Observation{ID: fmt.Sprint("o", o), Otherwise: rapid.Float64Range(0, 0.5).Draw(t, "otherwise")}
		for c := range 6 {
			obs.Chances = append(obs.Chances, Chance{fmt.Sprint("c", c), rapid.Float64Range(0, 1).Draw(t, "chance")})
		}
		out = append(out, obs)
	}
	return out
}

// plainly is the judge: every state of all causes at once, from the definition, without parts or sums over supersets.
type plainly struct {
	in       Input
	s        Settings
	strength map[[2]string]float64
	post     []float64
}

func judge(in Input, s Settings) plainly {
	j := plainly{in: in, s: s, strength: map[[2]string]float64{}, post: make([]float64, 1<<len(in.Causes))}
	for _, l := range in.Links {
		j.strength[[2]string{l.Fault, l.Cause}] = l.Strength
	}
	sum := 0.0
	for state := range j.post {
		w := 1.0
		for c, cause := range in.Causes {
			prior := cause.Prior
			if prior == 0 {
				prior = s.Prior
			}
			if state>>c&1 == 0 {
				prior = 1 - prior
			}
			w *= prior
		}
		for _, f := range in.Faults {
			hidden := (1 - s.Leak) * j.hidden(f, state)
			if f.Seen > 0 {
				w *= 1 - hidden
			} else if f.Turns >= s.AbsentAfter {
				w *= hidden
			}
		}
		j.post[state] = w
		sum += w
	}
	for state := range j.post {
		j.post[state] /= sum
	}
	return j
}

// hidden is the chance that no cause of the state shows as the fault.
func (j plainly) hidden(f Fault, state int) float64 {
	q := 1.0
	for c, cause := range j.in.Causes {
		if state>>c&1 == 1 {
			q *= 1 - j.strength[[2]string{f.ID, cause.ID}]
		}
	}
	return q
}

func (j plainly) chance(cause int) float64 {
	sum := 0.0
	for state, p := range j.post {
		if state>>cause&1 == 1 {
			sum += p
		}
	}
	return sum
}

func (j plainly) worth(set int) float64 {
	sum := 0.0
	for _, f := range j.in.Faults {
		if f.Seen == 0 {
			continue
		}
		weight := float64(f.Seen) / float64(f.Turns)
		if f.Safety {
			weight = j.s.SafetyWeight
		}
		for state, p := range j.post {
			if p > 0 {
				sum += weight * p * (1 - j.hidden(f, state&set)) / (1 - (1-j.s.Leak)*j.hidden(f, state))
			}
		}
	}
	return sum
}

// leads says whether cause i leads to k over any steps.
func (j plainly) leads(i, k int) bool {
	for _, id := range j.in.Causes[i].Before {
		next := slices.IndexFunc(j.in.Causes, func(c Cause) bool { return c.ID == id })
		if next == k || j.leads(next, k) {
			return true
		}
	}
	return false
}

func (j plainly) allowed(set int) bool {
	open := func(c int) bool { return j.chance(c) >= j.s.Least && j.worth(1<<c) > 1e-9 }
	for c := range j.in.Causes {
		if set>>c&1 == 1 && !open(c) {
			return false
		}
		for root := range j.in.Causes {
			if set>>c&1 == 1 && set>>root&1 == 0 && open(root) && j.leads(root, c) && j.chance(root) >= j.s.Likely {
				return false
			}
		}
	}
	return bits.OnesCount(uint(set)) <= j.s.Most
}

func TestChoiceAgainstBruteForce(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in, s := drawInput(t), drawSettings(t)
		j, r := judge(in, s), mustRead(t, in, s)
		for c := range in.Causes {
			if got, want := r.causes[c].posterior, j.chance(c); math.Abs(got-want) > 1e-9 {
				t.Fatalf("cause %d is %g, want %g", c, got, want)
			}
		}
		best, size := 0.0, 0
		for set := range 1 << len(in.Causes) {
			if w, n := j.worth(set), bits.OnesCount(uint(set)); j.allowed(set) && (w > best+1e-8 || w > best-1e-8 && n < size) {
				best, size = w, n
			}
		}
		got, set := r.Choose(), 0
		for i, cue := range got.Cues {
			c := slices.IndexFunc(in.Causes, func(c Cause) bool { return c.ID == cue.Cause })
			if set>>c&1 == 1 {
				t.Fatal("two cues for one cause")
			}
			set |= 1 << c
			for _, later := range got.Cues[i+1:] {
				if k := slices.IndexFunc(in.Causes, func(c Cause) bool { return c.ID == later.Cause }); j.leads(k, c) {
					t.Fatal("an effect stands before its root")
				}
			}
		}
		if !j.allowed(set) || len(got.Cues) != size || math.Abs(got.Explained-best) > 1e-7 || math.Abs(j.worth(set)-best) > 1e-7 {
			t.Fatalf("%d cues explain %g (by the judge %g), want %d and %g", len(got.Cues), got.Explained, j.worth(set), size, best)
		}
	})
}

// bits is the definition: entropy of which of two causes it is when just one is there, before less expected after.
func (j plainly) bits(o Observation, a, b int) float64 {
	var w [2][2]float64 // which of the two; not seen, seen
	for state, p := range j.post {
		q := 1 - o.Otherwise
		for c, cause := range j.in.Causes {
			if state>>c&1 == 1 {
				q *= 1 - o.chance(cause.ID)
			}
		}
		if state>>a&1 != state>>b&1 {
			which := state >> b & 1
			w[which][0] += p * q
			w[which][1] += p * (1 - q)
		}
	}
	part := func(x, of float64) float64 {
		if x <= 0 {
			return 0
		}
		return -x * math.Log2(x/of)
	}
	whole := func(x, y float64) float64 { return part(x, x+y) + part(y, x+y) }
	return whole(w[0][0]+w[0][1], w[1][0]+w[1][1]) - whole(w[0][0], w[1][0]) - whole(w[0][1], w[1][1])
}

func TestCheckAgainstBruteForce(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in, s, observations := drawInput(t), drawSettings(t), drawObservations(t)
		j := judge(in, s)
		best := 0.0
		for _, o := range observations {
			for a := range in.Causes {
				for b := a + 1; b < len(in.Causes); b++ {
					shared := slices.ContainsFunc(in.Faults, func(f Fault) bool {
						return f.Seen > 0 && j.strength[[2]string{f.ID, in.Causes[a].ID}] > 0 && j.strength[[2]string{f.ID, in.Causes[b].ID}] > 0
					})
					if shared && j.allowed1(a) && j.allowed1(b) {
						best = max(best, j.bits(o, a, b))
					}
				}
			}
		}
		c, ok, err := mustRead(t, in, s).Check(observations)
		if err != nil || ok != (c.Bits > 0) || math.Abs(c.Bits-best) > 2e-9 {
			t.Fatalf("%g bits (%v, %v), want %g", c.Bits, ok, err, best)
		}
	})
}

func (j plainly) allowed1(c int) bool { return j.chance(c) >= j.s.Least && j.worth(1<<c) > 1e-9 }

func TestOrderOfInputDoesNotMatter(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in, s, observations := drawInput(t), drawSettings(t), drawObservations(t)
		random := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 1))
		other := Input{Faults: mixed(random, in.Faults), Causes: mixed(random, in.Causes), Links: mixed(random, in.Links)}
		for i := range other.Causes {
			other.Causes[i].Before = mixed(random, other.Causes[i].Before)
		}
		a, b := mustRead(t, in, s), mustRead(t, other, s)
		checkA, _, _ := a.Check(observations)
		checkB, _, _ := b.Check(mixed(random, observations))
		if !reflect.DeepEqual(a.Causes(), b.Causes()) || !reflect.DeepEqual(a.Choose(), b.Choose()) || checkA != checkB {
			t.Fatal("another order gives another answer")
		}
	})
}

func mixed[T any](random *rand.Rand, list []T) []T {
	out := slices.Clone(list)
	random.Shuffle(len(out), func(i, j int) { out[i], out[j] = out[j], out[i] })
	return out
}
