package app

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"slices"
	"time"

	"github.com/google/uuid"
	"rungbook/internal/engine/pacing"
	"rungbook/internal/engine/standing"
	"rungbook/internal/postgres"
	"rungbook/internal/studio"
)

// PacingForecast is how many children of a class are likely to have each rung of its term secure by a day.
type PacingForecast struct {
	ID       uuid.UUID
	Class    string
	Term     string
	By       time.Time
	What     string // "showcase" or "end of the term"
	Lessons  int    // left until then
	Children int
	Rungs    []ExpectedRung
	Why      string // why there is no forecast; "" when there is one
	Odds     ClassOdds

	chances map[string][]float64 // by rung, of the pupils
}

// ExpectedRung is a rung with the number of children who are likely to have it secure: Low to High with 8 chances in 10, Mean on
// average.
type ExpectedRung struct {
	Key, Name, Ladder string
	Week              int
	Focus             bool
	Now               int // who have it secure today
	Low, High         int
	Mean              float64
	Together          Spread // with what the class shares; Low, High and Mean are each child for itself
}

// PacingForecast looks ahead on every rung of a class's term through the weeks as they are laid out.
func (a *App) PacingForecast(ctx context.Context, actor studio.Actor, class uuid.UUID) (PacingForecast, error) {
	var view PacingForecast
	err := a.db.InTx(ctx, actor, func(t *postgres.Tx) error {
		if err := a.may(ctx, t, studio.SeeClass, Target{Class: class}); err != nil {
			return err
		}
		w, err := readPacer(ctx, t, class)
		if err != nil {
			return err
		}
		if view, err = w.expect(ctx, t); err != nil {
			return err
		}
		return view.addOdds(ctx, t, w)
	})
	return view, err
}

func (w *pacer) expect(ctx context.Context, t *postgres.Tx) (PacingForecast, error) {
	view := PacingForecast{ID: w.Card.ID, Class: w.Card.Name, Term: w.Term.Name, Children: len(w.pupils)}
	switch {
	case len(w.Pacing.Rungs) == 0:
		view.Why = "No rungs are laid out for this term yet."
	case len(w.pupils) == 0:
		view.Why = "Nobody is in this class today."
	case len(w.ahead(len(w.weeks))) == 0:
		view.Why = "No lesson of this term is left."
	}
	if view.Why != "" {
		return view, nil
	}
	f, err := w.foreseer(ctx, t)
	if err != nil {
		return view, err
	}
	view.Lessons, view.What, view.By = len(w.ahead(f.last)), "end of the term", w.Term.EndsOn
	if w.show > w.done {
		view.What, view.By = "showcase", *w.Term.ShowcaseOn
	}
	chances, err := f.chances(1)
	if err != nil {
		return view, err
	}
	view.chances = chances
	counts, err := pacing.Ready(ctx, w.crowd(chances))
	if err != nil {
		return view, fmt.Errorf("count who is likely to have a rung: %w", err)
	}
	for _, c := range counts.Rungs {
		paced := w.Pacing.Rung(c.RungID)
		view.Rungs = append(view.Rungs, ExpectedRung{Key: c.RungID, Name: w.rungs[c.RungID].Name, Ladder: w.ladder[w.of[c.RungID]].Name, Week: w.placed(*paced),
			Focus: paced.Focus, Now: w.secureNow(c.RungID), Low: c.Low, High: c.High, Mean: c.Mean})
	}
	return view, nil
}

// crowd puts the class into the engine's words, the rungs as the library orders them.
func (w *pacer) crowd(chances map[string][]float64) pacing.Crowd {
	var c pacing.Crowd
	at := map[string]int{}
	for i, p := range w.pupils {
		c.Children, at[p.ID.String()] = append(c.Children, p.ID.String()), i
	}
	for _, l := range w.Ladders {
		for _, r := range l.Rungs {
			if w.Pacing.Rung(r.Key) != nil {
				c.Rungs = append(c.Rungs, r.Key)
			}
		}
	}
	c.Chance = func(child, rung string) float64 { return chances[rung][at[child]] }
	return c
}

// foreseer looks ahead for the children of a class, through the weeks as they are laid out.
type foreseer struct {
	*pacer
	pace postgres.Pace
	fits []postgres.RungFit
	own  map[string]standing.Learning
	plan map[string]pacing.Placed
	last int // the last week that counts
}

func (w *pacer) foreseer(ctx context.Context, t *postgres.Tx) (*foreseer, error) {
	pace, fits, err := t.PaceOf(ctx, w.Card.ID)
	if err != nil {
		return nil, fmt.Errorf("read how a class gets on: %w", err)
	}
	f := &foreseer{pacer: w, pace: pace, fits: fits, own: map[string]standing.Learning{}, plan: map[string]pacing.Placed{}, last: len(w.weeks)}
	for _, fit := range fits {
		if fit.Used {
			f.own[fit.RungKey] = learningOf(fit)
		}
	}
	for _, placed := range pacing.Evaluate(w.problem(w.Pacing), w.places(w.Pacing)).Rungs {
		f.plan[placed.RungID] = placed
	}
	if w.show > w.done {
		f.last = w.show
	}
	return f, nil
}

// chances are those of each child, in the order of the pupils, to have each rung of the term secure; turns is the share of the turns
// of today that each has.
func (f *foreseer) chances(turns float64) (map[string][]float64, error) {
	out := map[string][]float64{}
	for _, p := range f.pupils {
		seen := map[string]float64{}
		for _, r := range f.Pacing.Rungs {
			chance, err := f.chance(p.ID, r.RungKey, turns, seen)
			if err != nil {
				return nil, err
			}
			out[r.RungKey] = append(out[r.RungKey], chance)
		}
	}
	return out, nil
}

// chance is that of one child to have a rung secure: by its marks and the lessons ahead, and no likelier than any rung that it needs.
func (f *foreseer) chance(child uuid.UUID, key string, turns float64, seen map[string]float64) (float64, error) {
	if known, ok := seen[key]; ok {
		return known, nil
	}
	learning, fitted := f.own[key]
	if !fitted {
		learning = standing.DefaultLearning()
	}
	board := f.boards[child]
	forecast, err := board.Forecast(key, learning, f.lessons(child, key, turns))
	if err != nil {
		return 0, fmt.Errorf("forecast the rung %s: %w", key, err)
	}
	chance := forecast.Secure
	if s, _ := board.On(key); !s.Met() {
		for _, need := range f.rungs[key].Needs {
			first, err := f.chance(child, need, turns, seen)
			if err != nil {
				return 0, err
			}
			chance = min(chance, first)
		}
	}
	seen[key] = chance
	return chance, nil
}

// lessons are those ahead of a child on a rung: certain in the weeks in which the term has it, if the child comes; as often as the
// class comes back to a rung that was begun in the others; none before its week.
func (f *foreseer) lessons(child uuid.UUID, key string, turns float64) standing.Ahead {
	p := postgres.Prospect{Present: f.pace.Present[child], Noted: f.pace.Noted[child], Visits: f.pace.Visits, Chances: f.pace.Chances}
	placed, inTerm := f.plan[key]
	s, _ := f.boards[child].On(key)
	begun := s.Marks > 0
	pace := f.pace.Turns
	if f.rungs[key].TwoSided {
		pace = f.pace.TwoSidedTurns
	}
	expected := min(max(turns*cmp.Or(pace, usualTurns), 0.1), 60)
	a := standing.Ahead{Turns: int(math.Ceil(expected))}
	for _, week := range f.ahead(f.last) {
		chance := comes(p) * expected / float64(a.Turns) // so that the turns to be expected are right
		switch {
		case inTerm && (week == placed.Week || slices.Contains(placed.Again, week)):
		case begun || inTerm && week > placed.Week:
			chance *= visits(p)
		default:
			chance = 0
		}
		a.Lessons = append(a.Lessons, chance)
	}
	return a
}
