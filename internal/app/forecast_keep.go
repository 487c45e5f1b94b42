package app

import (
	"context"
	"fmt"
	"maps"
	"slices"
	"time"

	"github.com/google/uuid"
	"rungbook/internal/postgres"
	"rungbook/internal/studio"
)

// soonDays is how far ahead the nearer forecasts look that are kept beside those to the showcase or the end of the term. Ours.
const soonDays = 28

// KeepForecasts keeps what is forecast about the children of every class in term, where nothing was kept in this week yet, so that it
// can be seen later how it turned out. It is the program's own work, each class for itself, and harmless in several copies at once.
func (a *App) KeepForecasts(ctx context.Context) error {
	return a.keepForecasts(ctx, func(*postgres.Tx) {})
}

// KeepForecastsAsOf keeps what KeepForecasts would have kept at an earlier moment, going by the marks and attendance until then. It is
// for a history that is brought in at once. How rungs are learned, the weeks of the terms and the settings are taken as they are now.
func (a *App) KeepForecastsAsOf(ctx context.Context, moment time.Time) error {
	return a.keepForecasts(ctx, func(t *postgres.Tx) { t.EarlierNow(moment) })
}

func (a *App) keepForecasts(ctx context.Context, begin func(*postgres.Tx)) error {
	var classes []uuid.UUID
	within := func(fn func(*postgres.Tx) error) error {
		return a.within(ctx, studio.ProgramActor(), studio.FitForecasts, func(t *postgres.Tx) error {
			begin(t)
			return fn(t)
		})
	}
	err := within(func(t *postgres.Tx) (err error) {
		classes, err = t.ClassesToForecast(ctx)
		return err
	})
	if err != nil {
		return fmt.Errorf("list the classes to forecast: %w", err)
	}
	for _, class := range classes {
		if err := within(func(t *postgres.Tx) error { return keepClass(ctx, t, class) }); err != nil {
			return fmt.Errorf("keep the forecasts of a class: %w", err)
		}
	}
	return nil
}

// forecastKeeper gathers what is forecast about the children of a class.
type forecastKeeper struct {
	*foreseer
	today time.Time
	kept  []studio.KeptForecast
}

func keepClass(ctx context.Context, t *postgres.Tx, class uuid.UUID) error {
	mine, err := t.TakeForecasts(ctx, class)
	if err != nil || !mine {
		return err
	}
	w, err := readPacer(ctx, t, class)
	if err != nil || len(w.pupils) == 0 || len(w.weeks) == 0 {
		return err
	}
	f, err := w.foreseer(ctx, t)
	if err != nil {
		return err
	}
	k := forecastKeeper{foreseer: f, today: t.Today}
	if err := k.children(ctx, t); err != nil {
		return err
	}
	if err := k.term(); err != nil {
		return err
	}
	return t.KeepForecasts(ctx, k.kept)
}

// days are those that forecasts look to, the last one being the showcase or the end of the term. Days that have come are left out.
func (k *forecastKeeper) days(last time.Time) []time.Time {
	soon := k.today.AddDate(0, 0, soonDays)
	switch {
	case soon.Before(last):
		return []time.Time{soon, last}
	case last.After(k.today):
		return []time.Time{last}
	}
	return nil
}

// children keeps what the pages of the children say: each rung that is open or begun, over all classes of the child.
func (k *forecastKeeper) children(ctx context.Context, t *postgres.Tx) error {
	ahead, err := t.LookAhead(ctx)
	if err != nil {
		return fmt.Errorf("read what is ahead: %w", err)
	}
	for _, day := range k.days(ahead.Day) {
		all, err := t.ProspectsOf(ctx, idsOf(k.pupils), day)
		if err != nil {
			return fmt.Errorf("read what is ahead of children: %w", err)
		}
		for _, p := range k.pupils {
			if lessonsIn(all[p.ID]) == 0 {
				continue
			}
			rungs, err := k.foresee(k.boards[p.ID], all[p.ID], k.fits)
			if err != nil {
				return err
			}
			kept := k.about(p.ID, studio.ForChild, day)
			for _, r := range rungs {
				kept.Rungs, kept.Chances = append(kept.Rungs, r.Key), append(kept.Chances, r.Secure)
			}
			k.keep(kept)
		}
	}
	return nil
}

// term keeps what goes into the outlook of the class: each rung that is laid out and that the child never had secure.
func (k *forecastKeeper) term() error {
	last := k.Term.EndsOn
	if k.show > k.done {
		last = *k.Term.ShowcaseOn
	}
	whole := k.last
	for _, day := range k.days(last) {
		k.last = k.upTo(day, whole)
		if len(k.ahead(k.last)) == 0 {
			continue
		}
		chances, err := k.chances(1)
		if err != nil {
			return err
		}
		for i, p := range k.pupils {
			kept := k.about(p.ID, studio.ForTerm, day)
			for _, rung := range slices.Sorted(maps.Keys(chances)) {
				if s, _ := k.boards[p.ID].On(rung); s.SecureSince.IsZero() {
					kept.Rungs, kept.Chances = append(kept.Rungs, rung), append(kept.Chances, chances[rung][i])
				}
			}
			k.keep(kept)
		}
	}
	return nil
}

// upTo is the last week, of those up to another, of which the class's day is not after a day.
func (k *forecastKeeper) upTo(day time.Time, most int) int {
	last := 0
	for _, w := range k.weeks[:most] {
		if !w.Day.After(day) {
			last = w.No
		}
	}
	return last
}

// about is what is kept about a child, still without rungs.
func (k *forecastKeeper) about(child uuid.UUID, of studio.ForecastFor, due time.Time) studio.KeptForecast {
	rule := k.settings.Secure
	return studio.KeptForecast{ClassID: k.Card.ID, ChildID: child, MadeFor: of, MadeOn: k.today, DueOn: due,
		RuleClean: rule.Clean, RuleWindow: rule.Window, RuleLessons: rule.Lessons}
}

func (k *forecastKeeper) keep(f studio.KeptForecast) {
	if len(f.Rungs) > 0 {
		k.kept = append(k.kept, f)
	}
}

func lessonsIn(prospects []postgres.Prospect) int {
	n := 0
	for _, p := range prospects {
		n += p.Lessons
	}
	return n
}
