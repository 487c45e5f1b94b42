package boot

import (
	"context"
	"time"
)

// lookEvery is how often the program looks whether its daily work is due. The database remembers when it was done last, so that it does
// not matter how many copies run and when they were started.
const lookEvery = time.Hour

// keepFresh does the daily work until the context ends: at once where it is due, and whenever it has become due since.
func (h *House) keepFresh(ctx context.Context) {
	ticks := time.NewTicker(lookEvery)
	defer ticks.Stop()
	for {
		if err := h.App.KeepForecastsFresh(ctx); err != nil && ctx.Err() == nil {
			h.log.Error("work out how rungs are learned", "error", err)
		}
		if err := h.App.KeepForecasts(ctx); err != nil && ctx.Err() == nil {
			h.log.Error("keep forecasts as they are made", "error", err)
		}
		if err := h.App.ClearOut(ctx); err != nil && ctx.Err() == nil {
			h.log.Error("clear out what was kept long enough", "error", err)
		}
		if err := h.App.DropExpiredBundles(ctx); err != nil && ctx.Err() == nil {
			h.log.Error("remove reports of which the time is over", "error", err)
		}
		select {
		case <-ctx.Done():
			return
		case <-ticks.C:
		}
	}
}
