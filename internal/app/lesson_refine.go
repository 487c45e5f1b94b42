package app

import (
	"context"
	"time"

	"github.com/google/uuid"
	"rungbook/internal/engine/lesson"
	"rungbook/internal/studio"
)

// refineFor is how long a plan that is not proven best is looked on for.
const refineFor = 5 * time.Second

// Refine looks on for a better plan than the draft of that version, for as long as ctx lets it and five seconds at most, and keeps what
// is better: a plan worth more, or a closer bound. A draft that was changed meanwhile, or a plan that was shared, stays as it is.
func (a *App) Refine(ctx context.Context, actor studio.Actor, id uuid.UUID, version int) error {
	e, plan, err := a.planning(ctx, actor, id, version)
	if studio.CodeOf(err) == studio.Conflict {
		return nil
	}
	if err != nil {
		return err
	}
	if plan == nil || plan.SharedAt != nil || plan.Optimal || len(e.present()) == 0 {
		return nil
	}
	in := e.input(plan)
	in.Budget = refineFor
	result, err := lesson.Propose(ctx, in)
	if err != nil {
		return planRefusal(err, signOffWanted(in))
	}
	if err := ctx.Err(); err != nil {
		return err // nobody waits for it any more
	}
	next := e.planOf(betterOf(in, result.Plan, plan), plan)
	next.Bound = result.Bound
	next.Optimal = next.Worth >= result.Bound
	if next.Worth <= plan.Worth && next.Bound >= plan.Bound {
		return nil
	}
	return a.keepPlan(ctx, actor, id, next)
}
