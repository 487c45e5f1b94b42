package app

import (
	"context"
	"fmt"
	"maps"
	"slices"
	"time"

	"github.com/google/uuid"
	"rungbook/internal/engine/standing"
	"rungbook/internal/postgres"
	"rungbook/internal/studio"
)

// fitEvery is how old the fits may become before the program makes new ones.
const fitEvery = 24 * time.Hour

// FittedRung is how one rung is learned and from what that is known. The numbers are chances, 0 to 1.
type FittedRung struct {
	Key, Name       string
	Used            bool // by the studio's own marks; false is the defaults
	Children, Marks int
	Enough          bool
	// Known is the chance before the first turn, Learn that of a turn to teach; Guess of a clean turn while not known, Slip of one that
	// is not clean though known.
	Known, Learn, Guess, Slip float64
	// HeldBefore and HeldAfter are the mean chance (geometric) that the defaults and the fit gave to each mark of children left out.
	HeldBefore, HeldAfter float64
}

// FittedLadder is a ladder with how each of its rungs is learned, bottom first; without rungs that nobody was marked at.
type FittedLadder struct {
	Key, Name string
	Rungs     []FittedRung
}

// UnlockLine is a rung that would open others for the actor's children if all for whom it is open had it secure.
type UnlockLine struct {
	Key, Name       string
	Opens, Children int
}

// ForecastsView is how the studio's rungs are learned, and what opens most. FittedAt is zero before the first fit.
type ForecastsView struct {
	FittedAt                  time.Time
	Defaults                  FittedRung
	LeastChildren, LeastMarks int
	Ladders                   []FittedLadder
	Used, Rungs               int // fitted rungs in use, of rungs with marks
	Unlocks                   []UnlockLine
	MayFit                    bool
}

// Forecasts shows how the rungs are learned, from how many children and marks, and which rungs open most for the children whom the
// actor teaches (all of an owner's).
func (a *App) Forecasts(ctx context.Context, actor studio.Actor) (ForecastsView, error) {
	view := ForecastsView{Defaults: learned(FittedRung{}, standing.DefaultLearning()), LeastChildren: standing.LeastChildren, LeastMarks: standing.LeastMarks}
	err := a.within(ctx, actor, studio.ReadForecasts, func(t *postgres.Tx) error {
		view.MayFit = a.may(ctx, t, studio.FitForecasts, Target{}) == nil
		library, err := readLadders(ctx, t)
		if err != nil {
			return err
		}
		fits, err := t.RungFits(ctx)
		if err != nil {
			return err
		}
		view.take(library, fits)
		pupils, err := t.Pupils(ctx, "")
		if err != nil {
			return err
		}
		view.Unlocks, err = library.unlocks(ctx, t, idsOf(pupils))
		return err
	})
	return view, err
}

func (v *ForecastsView) take(library *ladders, fits []postgres.RungFit) {
	by := map[string]postgres.RungFit{}
	for _, f := range fits {
		by[f.RungKey], v.FittedAt = f, f.FittedAt
	}
	for _, l := range library.Ladders {
		ladder := FittedLadder{Key: l.Key, Name: l.Name}
		for _, r := range l.Rungs {
			if f, ok := by[r.Key]; ok {
				ladder.Rungs = append(ladder.Rungs, fittedRung(r.Name, f))
			}
		}
		if len(ladder.Rungs) > 0 {
			v.Ladders = append(v.Ladders, ladder)
		}
		v.Rungs += len(ladder.Rungs)
		for _, r := range ladder.Rungs {
			if r.Used {
				v.Used++
			}
		}
	}
}

func fittedRung(name string, f postgres.RungFit) FittedRung {
	return learned(FittedRung{Key: f.RungKey, Name: name, Used: f.Used, Children: f.Children, Marks: f.Marks,
		Enough: standing.Fit{Children: f.Children, Marks: f.Marks}.Enough(), HeldBefore: f.HeldBefore, HeldAfter: f.HeldAfter}, learningOf(f))
}

func learned(r FittedRung, l standing.Learning) FittedRung {
	r.Known, r.Learn, r.Guess, r.Slip = l.Known, l.Learn, l.Not.Clean, 1-l.Yes.Clean
	return r
}

func learningOf(f postgres.RungFit) standing.Learning {
	return standing.Learning{Known: f.Known, Learn: f.Learn, Not: standing.Looks{Missed: f.NotMissed, Supported: f.NotSupported, Clean: f.NotClean},
		Yes: standing.Looks{Missed: f.YesMissed, Supported: f.YesSupported, Clean: f.YesClean}}
}

func (l *ladders) unlocks(ctx context.Context, t *postgres.Tx, children []uuid.UUID) ([]UnlockLine, error) {
	boards, err := l.boards(ctx, t, children)
	if err != nil {
		return nil, err
	}
	var met []standing.Met
	for _, b := range boards {
		met = append(met, b.Met())
	}
	var lines []UnlockLine
	for _, u := range l.graph.Unlocks(met) {
		lines = append(lines, UnlockLine{Key: u.Rung, Name: l.rungs[u.Rung].Name, Opens: u.Opens, Children: u.Children})
	}
	return lines, nil
}

// FitForecasts works out anew how the rungs are learned, from all marks of the studio.
func (a *App) FitForecasts(ctx context.Context, actor studio.Actor) error {
	return a.within(ctx, actor, studio.FitForecasts, func(t *postgres.Tx) error {
		if err := fitRungs(ctx, t); err != nil {
			return err
		}
		return t.Audit(ctx, "worked out how rungs are learned", "studio", nil)
	})
}

// KeepForecastsFresh fits the rungs where the last fit is older than a day; it is the program's own daily job, and harmless in several
// copies of the program at once.
func (a *App) KeepForecastsFresh(ctx context.Context) error {
	return a.within(ctx, studio.ProgramActor(), studio.FitForecasts, func(t *postgres.Tx) error {
		last, err := t.LastFit(ctx)
		if err != nil || t.Now.Sub(last) < fitEvery {
			return err
		}
		return fitRungs(ctx, t)
	})
}

// fitRungs fits every rung with marks and keeps the sums. It does nothing while another copy of the program is at it.
func fitRungs(ctx context.Context, t *postgres.Tx) error {
	free, err := t.LockFit(ctx)
	if err != nil || !free {
		return err
	}
	marks, err := t.AllMarks(ctx)
	if err != nil {
		return fmt.Errorf("read all marks: %w", err)
	}
	fits, err := fitAll(marks)
	if err != nil {
		return err
	}
	if err := t.SaveRungFits(ctx, fits); err != nil {
		return fmt.Errorf("save how the rungs are learned: %w", err)
	}
	return nil
}

func fitAll(marks []postgres.SeenMark) ([]postgres.RungFit, error) {
	rungs := turnsByRung(marks)
	var fits []postgres.RungFit
	for _, key := range slices.Sorted(maps.Keys(rungs)) {
		f, err := standing.FitLearning(rungs[key], standing.DefaultPrior())
		if err != nil {
			return nil, fmt.Errorf("fit the rung %s: %w", key, err)
		}
		fits = append(fits, keptFit(key, f))
	}
	return fits, nil
}

// keptFit is what is saved of a fit: where it does not help, the defaults, with what it was judged by.
func keptFit(key string, f standing.Fit) postgres.RungFit {
	l := f.Learning
	if !f.Helps() {
		l = standing.DefaultLearning()
	}
	likely := func(sum float64) float64 { return standing.Likely(sum, f.Marks) }
	return postgres.RungFit{RungKey: key, Known: l.Known, Learn: l.Learn, NotMissed: l.Not.Missed, NotSupported: l.Not.Supported, NotClean: l.Not.Clean,
		YesMissed: l.Yes.Missed, YesSupported: l.Yes.Supported, YesClean: l.Yes.Clean, Used: f.Helps(), Children: f.Children, Marks: f.Marks,
		LikelyBefore: likely(f.Before), LikelyAfter: likely(f.After), HeldBefore: likely(f.HeldBefore), HeldAfter: likely(f.HeldAfter)}
}

// turnsByRung deals marks, each child's in order of time, to the rows of turns of each rung: one a child and side. A turn that two people
// marked counts once.
func turnsByRung(marks []postgres.SeenMark) map[string][]standing.Turns {
	type row struct {
		child uuid.UUID
		rung  string
		side  studio.Side
	}
	given, number := map[row][]standing.Mark{}, map[uuid.UUID]int{}
	var order []row
	for _, m := range marks {
		if _, known := number[m.ChildID]; !known {
			number[m.ChildID] = len(number)
		}
		r := row{m.ChildID, m.RungKey, m.Side}
		if given[r] == nil {
			order = append(order, r)
		}
		given[r] = append(given[r], standingMark(m))
	}
	rungs := map[string][]standing.Turns{}
	for _, r := range order {
		turns := standing.Turns{Child: number[r.child]}
		for _, m := range standing.OncePerTurn(given[r]) {
			turns.Outcomes = append(turns.Outcomes, m.Look())
		}
		rungs[r.rung] = append(rungs[r.rung], turns)
	}
	return rungs
}
