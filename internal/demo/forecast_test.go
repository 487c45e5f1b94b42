package demo

import (
	"testing"

	"rungbook/internal/app"
	"rungbook/internal/studio"
)

// checkForecasts holds that the studio has enough marks for some rungs and not for others, and two people to mark together again: no page
// is empty.
func checkForecasts(t *testing.T, use *app.App) {
	t.Helper()
	owner := studio.ProgramActor()
	checkTurnedOut(t, use)
	if err := use.KeepForecastsFresh(t.Context()); err != nil {
		t.Fatal(err)
	}
	forecasts, err := use.Forecasts(t.Context(), owner)
	if err != nil || forecasts.Used < 5 || forecasts.Used == forecasts.Rungs || len(forecasts.Unlocks) < 5 {
		t.Errorf("%d of %d rungs by own marks, %d that unlock: %v", forecasts.Used, forecasts.Rungs, len(forecasts.Unlocks), err)
	}
	agreement, err := use.Agreement(t.Context(), owner)
	if err != nil {
		t.Fatal(err)
	}
	again, enough := 0, 0
	for _, l := range agreement.Lines {
		t.Logf("%s and %s: %d turns, %d children, kappa %.2f (%.2f to %.2f)", l.Assistant, l.Teacher, l.Turns, l.Children, l.Kappa, l.Low, l.High)
		if l.Again {
			again++
		}
		if !l.Few {
			enough++
		}
	}
	if again == 0 || enough == again {
		t.Errorf("%d pairs to mark together again of %d with enough turns", again, enough)
	}
	children, err := use.ChildrenTaken(t.Context(), owner, "Elowen")
	if err != nil || len(children) != 1 {
		t.Fatal(children, err)
	}
	view, err := use.AheadOf(t.Context(), owner, children[0].ID)
	ahead := view.Forecast
	if err != nil || ahead.Why != "" || len(ahead.Rungs) == 0 || ahead.Lessons == 0 {
		t.Errorf("ahead of a child: %+v, %v", ahead, err)
	}
	for _, r := range ahead.Rungs {
		t.Logf("%s %s: %.2f, known %.2f, %.0f turns, own %v", r.Key, r.State, r.Secure, r.Known, r.Turns, r.Own)
	}
}
