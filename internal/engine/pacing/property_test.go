package pacing

import (
	"context"
	"errors"
	"math"
	"math/rand/v2"
	"reflect"
	"slices"
	"testing"
	"time"
)

// solved solves an invented term, or says that there is no plan.
func solved(t *testing.T, p Problem) (Plan, bool) {
	t.Helper()
	plan, err := Solve(context.Background(), p, Options{Time: 10 * time.Second})
	var no *Infeasible
	if err != nil && !errors.As(err, &no) {
		t.Fatalf("%v\n%+v", err, p)
	}
	return plan, err == nil
}

// No produced plan breaks a rule as the checker sees it, and its sums are those of the checker's own reading.
func TestPlansKeepEveryRule(t *testing.T) {
	plans := 0
	for seed := range uint64(150) {
		p := term(2000+seed, 5+int(seed%6), 6+int(seed%11))
		plan, ok := solved(t, p)
		if !ok {
			continue
		}
		plans++
		if got, err := Check(p, plan); err != nil || len(got) > 0 {
			t.Errorf("seed %d: %v %+v", seed, err, got)
		}
		if plan.Bound > plan.Peak || plan.Optimal != (plan.Bound == plan.Peak) {
			t.Errorf("seed %d: bound %d, peak %d, optimal %v", seed, plan.Bound, plan.Peak, plan.Optimal)
		}
		peak, late := plainSums(p, plan)
		if peak != plan.Peak || late != plan.Late {
			t.Errorf("seed %d: peak %d, late %d; added up %d, %d", seed, plan.Peak, plan.Late, peak, late)
		}
	}
	if plans < 50 {
		t.Errorf("only %d terms had a plan", plans)
	}
}

// plainSums adds up a plan from its placements alone.
func plainSums(p Problem, plan Plan) (peak, late int) {
	at := map[string]int{}
	for _, r := range plan.Rungs {
		at[r.RungID] = r.Week
	}
	weights := p.weights().kinds()
	for w := p.Done + 1; w <= p.Weeks; w++ {
		var sum [3]int
		for _, r := range p.Rungs {
			for k := range sum {
				if at[r.ID] == w {
					sum[k] += r.Load.kinds()[k]
				}
				if dueWeeks(p, at[r.ID], r.Again)[w] {
					sum[k] += r.AgainLoad.kinds()[k]
				}
			}
		}
		for k := range sum {
			peak = max(peak, weights[k]*sum[k])
		}
	}
	for _, r := range p.Rungs {
		if r.Focus && r.Taught == 0 {
			late += at[r.ID]
		}
	}
	return peak, late
}

func TestOrderOfTheInputChangesNothing(t *testing.T) {
	for seed := range uint64(40) {
		p := term(3000+seed, 6, 9)
		rng := rand.New(rand.NewPCG(seed, 2))
		other := p
		other.Rungs, other.Holidays, other.Quiet = shuffled(rng, p.Rungs), shuffled(rng, p.Holidays), shuffled(rng, p.Quiet)
		other.Showcase.Rungs = shuffled(rng, p.Showcase.Rungs)
		for i, r := range other.Rungs {
			other.Rungs[i].Needs, other.Rungs[i].Again = shuffled(rng, r.Needs), shuffled(rng, r.Again)
		}
		a, errA := Solve(context.Background(), p, Options{Time: 20 * time.Second})
		b, errB := Solve(context.Background(), other, Options{Time: 20 * time.Second})
		if !reflect.DeepEqual(a, b) || !reflect.DeepEqual(errA, errB) {
			t.Errorf("seed %d:\n%+v %v\n%+v %v", seed, a, errA, b, errB)
		}
	}
}

// A week that gets a lesson back takes nothing away: what was put off to the next lesson may stay there or be split. Two
// things are left out, where it would be untrue: a least for the new week, and holidays at the end of the term, after which
// nothing is seen again.
func TestRemovedHolidayNeverWorsensThePeak(t *testing.T) {
	tried := 0
	for seed := range uint64(120) {
		p := term(4000+seed, 7, 8)
		p.Limits.MinNew, p.Limits.MinLoad = 0, Load{}
		end := p.Weeks
		for slices.Contains(p.Holidays, end) {
			end--
		}
		for i, h := range p.Holidays {
			if h > end || h <= p.Done {
				continue
			}
			with, ok := solved(t, p)
			if !ok {
				break
			}
			less := p
			less.Holidays = slices.Delete(slices.Clone(p.Holidays), i, i+1)
			without, ok := solved(t, less)
			if tried++; !ok || without.Peak > with.Peak {
				t.Errorf("seed %d: peak %d with the holiday in week %d, %d without (%v)", seed, with.Peak, h, without.Peak, ok)
			}
		}
	}
	if tried < 20 {
		t.Errorf("only %d holidays tried", tried)
	}
}

// Half-way through the term a lesson is lost: what has been taught stays where it was, and nothing new goes into the past.
func TestReplanKeepsWhatWasTaught(t *testing.T) {
	tried := 0
	for seed := range uint64(60) {
		p := term(5000+seed, 9, 10)
		p.Done = 0
		for i := range p.Rungs {
			p.Rungs[i].Taught, p.Rungs[i].Pin = 0, 0
		}
		before, ok := solved(t, p)
		if !ok {
			continue
		}
		now := p
		now.Done, now.Rungs = 4, slices.Clone(p.Rungs)
		for i := range now.Rungs {
			for _, r := range before.Rungs {
				if r.RungID == now.Rungs[i].ID && r.Week <= now.Done {
					now.Rungs[i].Taught = r.Week
				}
			}
		}
		now.Limits.MaxNew += 2
		after, ok := solved(t, LoseWeek(now, 5))
		if !ok {
			continue
		}
		tried++
		for _, m := range Moves(before, after) {
			if m.From <= now.Done || m.To <= 5 {
				t.Errorf("seed %d: %s moved from week %d to %d", seed, m.RungID, m.From, m.To)
			}
		}
	}
	if tried < 10 {
		t.Errorf("only %d terms tried", tried)
	}
}

// A later showcase asks no more than an earlier one, and none asks least.
func TestLaterShowcaseNeverWorsensThePeak(t *testing.T) {
	for seed := range uint64(30) {
		p := term(6000+seed, 7, 8)
		p.Quiet = nil // they would move with it
		p.Showcase = Showcase{Week: 5, Rungs: []string{"r00", "r01", "r02", "r03"}, Revisits: 1}
		early, ok := solved(t, p)
		if !ok {
			continue
		}
		for _, week := range []int{6, 7, 0} {
			later, ok := solved(t, MoveShowcase(p, week))
			if !ok || later.Peak > early.Peak {
				t.Errorf("seed %d: peak %d by week 5, %d by week %d (%v)", seed, early.Peak, later.Peak, week, ok)
			}
		}
	}
}

// Time that runs out gives the best plan so far and an honest bound, or ErrNoTime.
func TestTimeRunsOut(t *testing.T) {
	p := courses(1004, 12, 66)
	plan, err := Solve(context.Background(), p, Options{Time: time.Nanosecond})
	if err == nil && (plan.Bound > plan.Peak || math.IsNaN(plan.Gap)) || err != nil && !errors.Is(err, ErrNoTime) {
		t.Errorf("%+v, %v", plan, err)
	}
	over, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := Solve(over, p, Options{}); err != nil && !errors.Is(err, context.Canceled) {
		t.Error(err)
	}
}

func TestNothingToPlan(t *testing.T) {
	plan, ok := solved(t, Problem{Weeks: 3})
	if !ok || plan.Peak != 0 || !plan.Optimal || len(plan.Weeks) != 3 {
		t.Errorf("%+v", plan)
	}
	plan, ok = solved(t, Problem{Weeks: 2, Done: 2, Rungs: []Rung{{ID: "a", Taught: 2, Again: []int{1}}}})
	if !ok || plan.Peak != 0 || len(plan.Rungs) != 1 || plan.Rungs[0].Week != 2 {
		t.Errorf("%+v", plan)
	}
}

// By hand: the quiet weeks that end with the showcase move with it, over a holiday; another stays.
func TestQuietWeeksMoveWithTheShowcase(t *testing.T) {
	p := Problem{Weeks: 12, Holidays: []int{7}, Quiet: []int{2, 6, 8}, Showcase: Showcase{Week: 8}}
	for week, want := range map[int][]int{10: {2, 10, 9}, 9: {2, 9, 8}, 0: {2}} {
		if got := MoveShowcase(p, week); got.Showcase.Week != week || !slices.Equal(got.Quiet, want) {
			t.Errorf("showcase in week %d: quiet %v, want %v", week, got.Quiet, want)
		}
	}
	p.Showcase.Week = 0
	if got := MoveShowcase(p, 10); !slices.Equal(got.Quiet, p.Quiet) {
		t.Errorf("there was no showcase: quiet %v", got.Quiet)
	}
}
