package demo

import (
	"testing"

	"rungbook/internal/app"
	"rungbook/internal/studio"
)

// checkTurnedOut holds that the forecasts of past weeks were kept and that enough of them are due to say something.
func checkTurnedOut(t *testing.T, use *app.App) {
	t.Helper()
	view, err := use.Calibration(t.Context(), studio.ProgramActor(), studio.ForChild)
	if err != nil {
		t.Fatal(err)
	}
	r := view.Result
	t.Logf("judged %d of %d children, %d true, %.0f expected, Brier %.3f, skill %.2f, off %.3f", r.N, r.Children, r.True, r.Mean*float64(r.N), r.Brier, r.Skill, r.Off)
	if view.Judged < 10*app.FewJudged || r.Children < 40 || view.Waiting == 0 || len(r.Bins) < 8 || r.Skill <= 0 {
		t.Errorf("judged %+v", r)
	}
	if err := use.KeepForecasts(t.Context()); err != nil {
		t.Fatal(err)
	}
	term, err := use.Calibration(t.Context(), studio.ProgramActor(), studio.ForTerm)
	if err != nil || term.Waiting == 0 || term.Judged > 0 {
		t.Errorf("of terms %d wait, %d are judged: %v", term.Waiting, term.Judged, err)
	}
}
