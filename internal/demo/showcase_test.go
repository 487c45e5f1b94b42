package demo

import (
	"testing"

	"rungbook/internal/app"
	"rungbook/internal/studio"
)

// checkPieces holds that the pieces have children of every kind between them, an offer to look at, and one that was accepted.
func checkPieces(t *testing.T, use *app.App) {
	t.Helper()
	classes, err := use.ClassRecords(t.Context(), studio.ProgramActor())
	if err != nil {
		t.Fatal(err)
	}
	found, offers, pieces := map[app.Fit]int{}, 0, 0
	for _, c := range classes {
		view, err := use.Showcase(t.Context(), studio.ProgramActor(), c.ID)
		if err != nil {
			t.Fatal(err)
		}
		pieces += len(view.Pieces)
		for _, p := range view.Pieces {
			for _, child := range p.Children {
				found[child.Fit]++
				for _, r := range child.Rungs {
					if r.Offer != nil && r.Offer.Key != "" {
						offers++
					}
				}
			}
		}
	}
	t.Logf("%d pieces, %v, %d offers", pieces, found, offers)
	if pieces != 2 || found[app.ReadyFit] == 0 || found[app.LikelyFit] == 0 || found[app.NotYetFit] == 0 || found[app.SwappedFit] == 0 || found[app.LimitedFit] == 0 || offers == 0 {
		t.Errorf("%d pieces, %v, %d offers", pieces, found, offers)
	}
}
