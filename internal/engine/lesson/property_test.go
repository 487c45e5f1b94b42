package lesson

import (
	"context"
	"errors"
	"math/rand/v2"
	"reflect"
	"slices"
	"testing"
	"time"

	"pgregory.net/rapid"
)

// drawEvening draws a lesson of a size that is solved to the end, with room for any number of seconds.
func drawEvening(t *rapid.T) Input {
	stations := rapid.IntRange(2, 3).Draw(t, "stations")
	in := evening(rapid.Uint64Range(0, 1000).Draw(t, "seed"), rapid.IntRange(stations, 8).Draw(t, "children"), stations, rapid.IntRange(1, stations).Draw(t, "rotations"))
	in.Budget, in.HardFrom = time.Minute, rapid.IntRange(1, 3).Draw(t, "hard from")
	return in
}

func TestNoProposedPlanBreaksARule(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := drawEvening(t)
		res, err := Propose(context.Background(), in)
		var none *Infeasible
		if errors.As(err, &none) {
			return
		}
		if err != nil {
			t.Fatal(err)
		}
		for _, b := range Check(in, res.Plan) {
			t.Errorf("%s: %s", b.Rule, b.Sentence)
		}
		if res.Plan.Worth > res.Bound+1e-9 || res.Gap < 0 || res.Gap > 1 {
			t.Errorf("worth %v, bound %v, gap %v", res.Plan.Worth, res.Bound, res.Gap)
		}
		again, err := Evaluate(in, res.Plan)
		if err != nil || !reflect.DeepEqual(again, res.Plan) {
			t.Errorf("Evaluate changes a plan that nobody has touched: %v\n%+v\n%+v", err, again, res.Plan)
		}
	})
}

// Two thousand small evenings, each plan judged by the checker.
func TestThousandsOfPlansKeepEveryRule(t *testing.T) {
	plans := 0
	for seed := range uint64(2000) {
		in := evening(seed, 4+int(seed%3), 2, 1+int(seed%2))
		in.Budget = time.Minute
		res, err := Propose(context.Background(), in)
		if err != nil {
			continue
		}
		plans++
		for _, b := range Check(in, res.Plan) {
			t.Errorf("seed %d: %s: %s", seed, b.Rule, b.Sentence)
		}
	}
	t.Logf("%d plans", plans)
	if plans < 1000 {
		t.Errorf("only %d evenings have a plan", plans)
	}
}

// Names are for sentences only.
func TestNamesChangeNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := drawEvening(t)
		other := in
		other.Children, other.Activities = slices.Clone(in.Children), slices.Clone(in.Activities)
		other.Staff, other.Stations = slices.Clone(in.Staff), slices.Clone(in.Stations)
		for i := range other.Children {
			other.Children[i].Name = "Child with another name"
		}
		for i := range other.Activities {
			other.Activities[i].Name = "Another activity"
		}
		for i := range other.Staff {
			other.Staff[i].Name = "Somebody else"
		}
		for i := range other.Stations {
			other.Stations[i].Name = "Elsewhere"
		}
		a, errA := Propose(context.Background(), in)
		b, errB := Propose(context.Background(), other)
		if (errA == nil) != (errB == nil) || !reflect.DeepEqual(unsaid(a.Plan), unsaid(b.Plan)) || a.Bound != b.Bound {
			t.Errorf("%v %v\n%+v\n%+v", errA, errB, a, b)
		}
	})
}

// unsaid is a plan without its sentences.
func unsaid(p Plan) Plan {
	for i := range p.Cells {
		for j := range p.Cells[i].Entries {
			p.Cells[i].Entries[j].Why = ""
		}
	}
	return p
}

func TestOrderOfTheInputChangesNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := drawEvening(t)
		rng := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "shuffle"), 1))
		other := in
		other.Children, other.Activities = shuffled(rng, in.Children), shuffled(rng, in.Activities)
		other.Staff, other.Stations, other.Stock = shuffled(rng, in.Staff), shuffled(rng, in.Stations), shuffled(rng, in.Stock)
		for i, c := range other.Children {
			other.Children[i].Options = shuffled(rng, c.Options)
		}
		a, errA := Propose(context.Background(), in)
		b, errB := Propose(context.Background(), other)
		if (errA == nil) != (errB == nil) || !reflect.DeepEqual(a, b) {
			t.Errorf("%v %v\n%+v\n%+v", errA, errB, a, b)
		}
	})
}

func shuffled[T any](rng *rand.Rand, list []T) []T {
	out := slices.Clone(list)
	rng.Shuffle(len(out), func(i, j int) { out[i], out[j] = out[j], out[i] })
	return out
}

// What is possible with fewer people stays possible with one more, so the best cannot be worth less.
func TestAnotherHelperNeverLowersTheBestWorth(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := drawEvening(t)
		in.TurnFloor = 0 // a floor comes before worth
		without, err := Propose(context.Background(), in)
		if err != nil {
			return
		}
		extra := Staff{ID: "zoe", Adult: true, MaySpot: true, CanLead: true}
		for _, a := range in.Activities {
			extra.SignedOff = append(extra.SignedOff, a.ID)
		}
		in.Staff = append(slices.Clone(in.Staff), extra)
		with, err := Propose(context.Background(), in)
		if err != nil {
			t.Fatalf("no plan with one more helper: %v", err)
		}
		if with.Bound < without.Plan.Worth-1e-6 || with.Optimal && with.Plan.Worth < without.Plan.Worth-1e-6 {
			t.Errorf("worth %v to %v (bound %v) with one more helper", without.Plan.Worth, with.Plan.Worth, with.Bound)
		}
	})
}

// Another piece of any equipment takes nothing away, so the best cannot be worth less.
func TestAnotherMatNeverLowersTheBestWorth(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := drawEvening(t)
		in.TurnFloor = 0 // a floor comes before worth
		without, err := Propose(context.Background(), in)
		if err != nil || len(in.Stock) == 0 {
			return
		}
		in.Stock = slices.Clone(in.Stock)
		in.Stock[rapid.IntRange(0, len(in.Stock)-1).Draw(t, "which")].Count++
		with, err := Propose(context.Background(), in)
		if err != nil {
			t.Fatalf("no plan with one more piece: %v", err)
		}
		if with.Bound < without.Plan.Worth-1e-6 || with.Optimal && with.Plan.Worth < without.Plan.Worth-1e-6 {
			t.Errorf("worth %v to %v (bound %v) with one more piece", without.Plan.Worth, with.Plan.Worth, with.Bound)
		}
	})
}
