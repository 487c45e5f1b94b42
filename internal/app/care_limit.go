package app

import (
	"cmp"
	"context"
	"slices"
	"time"

	"github.com/google/uuid"
	"rungbook/internal/engine/standing"
	"rungbook/internal/postgres"
	"rungbook/internal/studio"
)

// careLimits are a child's limits with what became of each, and what each takes away from what the child could work at.
func careLimits(ctx context.Context, t *postgres.Tx, child uuid.UUID) ([]LimitLine, error) {
	kept, err := t.CareLimitsOf(ctx, []uuid.UUID{child})
	if err != nil || len(kept) == 0 {
		return nil, err
	}
	changes, err := t.LimitChangesOf(ctx, child)
	if err != nil {
		return nil, err
	}
	library, err := readLadders(ctx, t)
	if err != nil {
		return nil, err
	}
	boards, err := library.boards(ctx, t, []uuid.UUID{child})
	if err != nil {
		return nil, err
	}
	var lines []LimitLine
	for _, l := range kept {
		line := LimitLine{ID: l.ID, Action: l.Action, Avoids: avoids(l.CareLimit), From: l.FromOn, Until: l.UntilOn, Review: l.ReviewOn,
			Cleared: l.ClearedAt, InForce: l.HoldsOn(t.Today), Due: reviewDue(l.CareLimit, t.Today), HasReason: l.HasReason, Reported: l.Reported,
			Trail: limitTrail(l, changes)}
		if line.InForce {
			line.Closes = library.closedBy(l.CareLimit, boards[child])
		}
		lines = append(lines, line)
	}
	return lines, nil
}

func reviewDue(l studio.CareLimit, today time.Time) bool {
	return l.HoldsOn(today) && l.ReviewOn != nil && !l.ReviewOn.After(today)
}

// mindful are the actions of limits for the child's teachers: one that is due a review says so.
func mindful(limits []studio.CareLimit, today time.Time) []string {
	out := actions(limits)
	for i, l := range limits {
		if reviewDue(l, today) {
			out[i] += " (due a review)"
		}
	}
	return out
}

// limitTrail puts what became of a limit into words, the first first.
func limitTrail(l postgres.KeptLimit, changes []postgres.LimitChange) []LimitEvent {
	var trail []LimitEvent
	for _, c := range slices.Backward(changes) {
		if c.LimitID != l.ID {
			continue
		}
		by := cmp.Or(c.By, "somebody outside the staff")
		text := map[string]string{"set": "Set", "extended": "Extended", "cleared": "Cleared", "reason read": "The reason was read"}[c.What] + " by " + by
		switch {
		case c.What == "set" && l.Reported:
			text = "Put in place by a report that it hurt"
		case c.What == "extended":
			text += spanWords(c.UntilOn, c.ReviewOn)
		}
		trail = append(trail, LimitEvent{At: c.At, Text: text, Note: c.Note})
	}
	return trail
}

func spanWords(until, review *time.Time) string {
	words := " until it is cleared"
	if until != nil {
		words = " until " + until.Format("2 January")
	}
	if review != nil {
		words += ", to be looked at on " + review.Format("2 January")
	}
	return words
}

// LadderGap is a ladder of which rungs fall away. Whole says that nothing is left that the child could work at on it.
type LadderGap struct {
	Ladder string
	Rungs  []string
	Whole  bool
}

// closedBy lists the rungs that a child could work at by its board and that a limit forbids, ladder by ladder.
func (l *ladders) closedBy(limit studio.CareLimit, board standing.Board) []LadderGap {
	var gaps []LadderGap
	for _, ladder := range l.Ladders {
		gap := LadderGap{Ladder: ladder.Name, Whole: true}
		for _, r := range ladder.Rungs {
			s, _ := board.On(r.Key)
			switch {
			case s.State == standing.Waiting || s.State == standing.Secure:
			case limit.Forbids(r.Load, r.Inverted):
				gap.Rungs = append(gap.Rungs, r.Name)
			default:
				gap.Whole = false
			}
		}
		if len(gap.Rungs) > 0 {
			gaps = append(gaps, gap)
		}
	}
	return gaps
}

// limitsTonight are the care limits of children that hold on the day of a lesson. Planner, class sheet and home practice all go by
// studio.CareLimit.Forbids.
func limitsTonight(ctx context.Context, t *postgres.Tx, children []uuid.UUID, day time.Time) (map[uuid.UUID][]studio.CareLimit, error) {
	kept, err := t.CareLimitsOf(ctx, children)
	limits := map[uuid.UUID][]studio.CareLimit{}
	for _, l := range kept {
		if l.HoldsOn(day) {
			limits[l.ChildID] = append(limits[l.ChildID], l.CareLimit)
		}
	}
	return limits, err
}

// forbidden is the action of the first of the limits that forbids something with this load, or upside down; "" when none does.
func forbidden(limits []studio.CareLimit, load studio.Load, inverted bool) string {
	for _, l := range limits {
		if l.Forbids(load, inverted) {
			return l.Action
		}
	}
	return ""
}
