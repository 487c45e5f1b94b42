package cues

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"
)

// table is n causes, each linked to about a third of the faults; every other fault was seen, some can hurt.
func table(random *rand.Rand, faults, causes int) Input {
	var in Input
	for f := range faults {
		in.Faults = append(in.Faults, Fault{ID: fmt.Sprintf("f%02d", f), Turns: 6, Seen: (f + 1) % 2 * (1 + f%5), Safety: f%4 == 0})
	}
	for c := range causes {
		in.Causes = append(in.Causes, Cause{ID: fmt.Sprintf("c%02d", c)})
		for f := range faults {
			if (c+f)%3 == 0 || random.IntN(8) == 0 {
				in.Links = append(in.Links, Link{Fault: in.Faults[f].ID, Cause: in.Causes[c].ID, Strength: 0.1 + 0.8*random.Float64()})
			}
		}
	}
	return in
}

// Causes and faults are drawn forwards, and draws kept that show exactly what was seen. Of n kept draws, a share with chance
// p has the standard error sqrt(p(1-p)/n); 4.5 of them are left by chance once in 150 000 times, and the seed is fixed.
func TestEnumerationAgainstSampling(t *testing.T) {
	random := rand.New(rand.NewPCG(7, 11))
	in := table(random, 5, 6)
	s := withLeak(0.1)
	r := mustRead(t, in, s)
	kept := 0
	there := make([]int, len(r.causes))
	explained := make([]int, len(r.causes)) // draws in which the cause brought about the first fault
	for range 400_000 {
		present, brought, ok := draw(random, r)
		if !ok {
			continue
		}
		kept++
		for c := range r.causes {
			if present[c] {
				there[c]++
			}
			if brought[c] {
				explained[c]++
			}
		}
	}
	if kept < 2000 {
		t.Fatalf("only %d draws kept", kept)
	}
	for c := range r.causes {
		own := &r.causes[c]
		closeTo(t, own.id, float64(there[c])/float64(kept), own.posterior, kept)
		closeTo(t, own.id+" on the first fault", float64(explained[c])/float64(kept),
			r.parts[own.part].explains(0, 1<<own.bit)/r.trouble(0), kept)
	}
}

func closeTo(t *testing.T, what string, share, p float64, n int) {
	t.Helper()
	if d := math.Abs(share - p); d > 4.5*math.Sqrt(p*(1-p)/float64(n)) {
		t.Errorf("%s: sampled %.4f of %d, enumerated %.4f", what, share, n, p)
	}
}

// draw says which causes are there and which brought about the first fault; ok if the faults are those seen.
func draw(random *rand.Rand, r *Reading) (present, brought []bool, ok bool) {
	shows := make([]bool, len(r.faults))
	for f := range shows {
		shows[f] = random.Float64() < r.settings.Leak
	}
	present, brought = make([]bool, len(r.causes)), make([]bool, len(r.causes))
	for c := range r.causes {
		if present[c] = random.Float64() < r.causes[c].prior; !present[c] {
			continue
		}
		for _, l := range r.causes[c].links {
			if random.Float64() < l.Strength {
				shows[l.fault] = true
				brought[c] = brought[c] || l.fault == 0
			}
		}
	}
	for f := range shows {
		if shows[f] != (r.faults[f].Seen > 0) {
			return nil, nil, false
		}
	}
	return present, brought, true
}

// A whole studio: 300 children, each with 12 faults and 10 causes, read, chosen for and checked.
func BenchmarkStudio(b *testing.B) {
	random := rand.New(rand.NewPCG(1, 2))
	var children []Input
	for range 300 {
		children = append(children, table(random, 12, 10))
	}
	var observations []Observation
	for o := range 6 {
		obs := Observation{ID: fmt.Sprint("o", o), Otherwise: 0.05}
		for c := range 10 {
			obs.Chances = append(obs.Chances, Chance{fmt.Sprintf("c%02d", c), random.Float64()})
		}
		observations = append(observations, obs)
	}
	for b.Loop() {
		for _, in := range children {
			r := mustRead(b, in, Defaults())
			r.Choose()
			if _, _, err := r.Check(observations); err != nil {
				b.Fatal(err)
			}
		}
	}
}

// The most that may hang together: one fault with MaxLinked causes, and four cues.
func BenchmarkMostLinked(b *testing.B) {
	in := Input{Faults: []Fault{{ID: "f", Seen: 1, Turns: 1}}}
	for c := range MaxLinked {
		in.Causes = append(in.Causes, Cause{ID: fmt.Sprint(c)})
		in.Links = append(in.Links, Link{Fault: "f", Cause: fmt.Sprint(c), Strength: 0.5})
	}
	s := Defaults()
	s.Most, s.Least = MaxCues, 0
	for b.Loop() {
		mustRead(b, in, s).Choose()
	}
}
