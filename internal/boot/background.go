package boot

import (
	"context"

	"rungbook/internal/postgres"
)

// workInBackground makes the term reports that owners have asked for until the context ends. The database holds the queue, so that any
// number of copies may run, and what one of them was killed over is taken up by another, or by itself at the next start.
func (h *House) workInBackground(ctx context.Context, times postgres.JobTimes) {
	if err := h.db.RunJobs(ctx, times, h.log, h.App.MakeBundle); err != nil && ctx.Err() == nil {
		h.log.Error("make term reports in the background", "error", err)
	}
}
