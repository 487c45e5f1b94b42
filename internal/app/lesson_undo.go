package app

import (
	"context"
	"fmt"
	"maps"
	"math"
	"slices"

	"github.com/google/uuid"
	"rungbook/internal/postgres"
	"rungbook/internal/studio"
)

// UndoPlan takes the last change of a plan back; to undo twice brings the change again. The plan is a draft then. Whoever and whatever
// is gone since stays out of it.
func (a *App) UndoPlan(ctx context.Context, actor studio.Actor, id uuid.UUID, version int) error {
	return a.db.InTx(ctx, actor, func(t *postgres.Tx) error {
		if err := a.may(ctx, t, studio.PlanLesson, Target{Lesson: id}); err != nil {
			return err
		}
		e, plan, err := readEvening(ctx, t, id)
		if err != nil {
			return err
		}
		if plan == nil {
			return studio.Missing()
		}
		if plan.Version != version {
			return overtaken()
		}
		before, err := t.PlanUndo(ctx, plan.ID)
		if err != nil {
			return err
		}
		if before == nil {
			return studio.Missing()
		}
		before.LessonID, before.Version = id, version
		next, err := e.summed(e.stillKnown(*before))
		if err != nil {
			return err
		}
		next.Bound, next.Optimal = before.Bound, before.Optimal && next.Worth == before.Worth
		_, err = t.SavePlan(ctx, next)
		return err
	})
}

// stillKnown is a plan less the stations and the work that the library no longer has.
func (e *evening) stillKnown(p studio.Plan) studio.Plan {
	p.Cells = slices.DeleteFunc(slices.Clone(p.Cells), func(c studio.PlanCell) bool {
		_, known := e.ladder[c.LadderKey]
		return !known
	})
	p.Entries = slices.DeleteFunc(slices.Clone(p.Entries), func(x studio.PlanEntry) bool {
		_, rung := e.rungs[x.RungKey]
		_, drill := e.drills[x.DrillKey]
		return !rung && !drill || p.Cell(x.Rotation, p.GroupOf(x.ChildID)) == nil
	})
	return p
}

// changes says what differs between two plans, a sentence for each child who changed group and each station that changed, then the worth.
// Groups are told apart by who is in them, not by their numbers.
func (e *evening) changes(was, is studio.Plan) []string {
	var words []string
	now := sameGroups(was, is)
	for _, c := range e.Children {
		before, after := was.GroupOf(c.ID), is.GroupOf(c.ID)
		switch {
		case before == 0 && after > 0:
			words = append(words, fmt.Sprintf("%s came into group %d.", c.ShortName(), after))
		case before > 0 && after == 0:
			words = append(words, c.ShortName()+" left the plan.")
		case now[before] != after:
			words = append(words, fmt.Sprintf("%s changed into group %d.", c.ShortName(), after))
		}
	}
	other := 0
	for _, old := range was.Cells {
		cell := is.Cell(old.Rotation, now[old.GroupNo])
		if cell != nil && cell.LadderKey != old.LadderKey {
			words = append(words, fmt.Sprintf("Group %d in rotation %d: %s in place of %s.", cell.GroupNo, cell.Rotation, e.ladder[cell.LadderKey].Name, e.ladder[old.LadderKey].Name))
		}
	}
	for _, x := range is.Entries {
		if old := was.Entry(x.Rotation, x.ChildID); old != nil && old.Activity() != x.Activity() {
			other++
		}
	}
	if other > 0 {
		words = append(words, fmt.Sprintf("%d of the %d activities are others than before.", other, len(is.Entries)))
	}
	return append(words, worthWords(was.Worth, is.Worth))
}

func worthWords(was, is float64) string {
	switch more := is - was; {
	case math.Abs(more) < 0.005:
		return fmt.Sprintf("The plan is worth the same, %.2f.", is)
	case more > 0:
		return fmt.Sprintf("The plan is worth %.2f, %.2f more than before.", is, more)
	default:
		return fmt.Sprintf("The plan is worth %.2f, %.2f less than before.", is, -more)
	}
}

// sameGroups finds for each group of a plan the group of another that has most of its children, the greatest share first; each is taken
// once.
func sameGroups(was, is studio.Plan) map[int]int {
	type pair struct{ before, after int }
	shared := map[pair]int{}
	for _, m := range was.Members {
		if after := is.GroupOf(m.ChildID); after > 0 {
			shared[pair{m.GroupNo, after}]++
		}
	}
	pairs := slices.SortedFunc(maps.Keys(shared), func(a, b pair) int {
		if shared[a] != shared[b] {
			return shared[b] - shared[a]
		}
		if a.before != b.before {
			return a.before - b.before
		}
		return a.after - b.after
	})
	now, taken := map[int]int{}, map[int]bool{}
	for _, p := range pairs {
		if now[p.before] == 0 && !taken[p.after] {
			now[p.before], taken[p.after] = p.after, true
		}
	}
	return now
}
