package demo

import (
	"context"
	"fmt"
	"time"

	"rungbook/internal/studio"
)

// keepForecasts lets the studio have kept its forecasts on Monday evenings of the term, by the marks of then: every other week, and only
// those of which the first are due by now, so that loading stays short. Nothing is made up: how they turned out is what the history
// makes of them.
func (h *house) keepForecasts(ctx context.Context) error {
	for monday := studio.MondayOf(h.term.StartsOn); monday.AddDate(0, 0, 28).Before(h.today); monday = monday.AddDate(0, 0, 14) {
		if err := h.use.KeepForecastsAsOf(ctx, monday.Add(22*time.Hour)); err != nil {
			return fmt.Errorf("keep the forecasts of the week of %s: %w", monday.Format("2 January"), err)
		}
	}
	return nil
}
