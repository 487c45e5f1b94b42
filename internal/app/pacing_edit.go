package app

import (
	"context"
	"errors"
	"slices"

	"github.com/google/uuid"
	"rungbook/internal/engine/pacing"
	"rungbook/internal/postgres"
	"rungbook/internal/studio"
)

// editPacing changes a class's term in one transaction: read, change, work out what is seen again when, save. A change may break a
// rule; the page names it in its week.
func (a *App) editPacing(ctx context.Context, actor studio.Actor, class uuid.UUID, version int, change func(*pacer, *studio.Pacing) error) error {
	return a.db.InTx(ctx, actor, func(t *postgres.Tx) error {
		if err := a.may(ctx, t, studio.KeepPacing, Target{Class: class}); err != nil {
			return err
		}
		w, err := readPacer(ctx, t, class)
		if err != nil {
			return err
		}
		if w.Pacing.Version != version {
			return &studio.Error{Code: studio.Conflict, Text: "Somebody else changed this term meanwhile. Nothing of theirs was changed: look at it below, then make your change."}
		}
		if len(w.weeks) == 0 {
			return &studio.Error{Code: studio.Invalid, Text: "The term has no day on which this class meets. The owner sets the days of the term and of the class under Studio."}
		}
		p := w.Pacing
		p.Rungs = slices.Clone(p.Rungs)
		if err := change(w, &p); err != nil {
			return err
		}
		if err := studio.Refuse(nothingSaved, p.Validate()); err != nil {
			return err
		}
		w.settle(&p, pacing.Evaluate(w.problem(p), w.places(p)))
		_, err = t.SavePacing(ctx, p)
		return err
	})
}

// Proposed is what a proposal did: the rungs that the weeks have no room for, by name, and how many have another week than before.
type Proposed struct {
	Left  []string
	Moved int
	Kept  int // rungs to come that stayed in their week
}

// ProposePacing lays the rungs that are not taught yet over the weeks to come; what is pinned stays. A term without rungs gets those
// of RuleOfChoice first; those for which the weeks to come have no room, less one week to be lost, are left out and named.
func (a *App) ProposePacing(ctx context.Context, actor studio.Actor, class uuid.UUID, version int) (out Proposed, err error) {
	err = a.editPacing(ctx, actor, class, version, func(w *pacer, p *studio.Pacing) error {
		first := len(p.Rungs) == 0
		if first {
			if p.Rungs = w.choose(); len(p.Rungs) == 0 {
				return &studio.Error{Code: studio.Invalid, Text: "No rung is near for half of this class, so there is nothing to lay out. Choose the rungs of the term by hand."}
			}
		}
		if len(w.ahead(len(w.weeks))) == 0 {
			return &studio.Error{Code: studio.Invalid, Text: "No lesson of this term is left, so there is nothing to lay out."}
		}
		plan, err := w.solve(ctx, *p)
		for first && (isInfeasible(err) || w.full(*p)) {
			key, ok := w.leaveOut(p)
			if !ok {
				break
			}
			out.Left = append(out.Left, w.rungs[key].Name)
			plan, err = w.solve(ctx, *p)
		}
		if err != nil {
			return noPlan(err)
		}
		out.Moved, out.Kept = plan.Moved, w.keptIn(*p, plan)
		w.settle(p, plan)
		return nil
	})
	return out, err
}

// keptIn counts the rungs to come that a plan leaves in the week that they have.
func (w *pacer) keptIn(p studio.Pacing, plan pacing.Plan) int {
	n := 0
	for _, placed := range plan.Rungs {
		if r := p.Rung(placed.RungID); placed.Week > w.done && w.placed(*r) == placed.Week {
			n++
		}
	}
	return n
}

func isInfeasible(err error) bool {
	var none *pacing.Infeasible
	return errors.As(err, &none)
}

// PacedChange is what a teacher says of a rung of the term. Weeks count from 1; 0 is none.
type PacedChange struct {
	Week, Earliest, Latest int
	Pinned, Focus          bool
}

// MovePaced puts a rung into another week; 0 takes it out of the weeks. A rung in a week that is over counts as taught then.
func (a *App) MovePaced(ctx context.Context, actor studio.Actor, class uuid.UUID, version int, rung string, week int) error {
	return a.editPacing(ctx, actor, class, version, func(w *pacer, p *studio.Pacing) error {
		r := p.Rung(rung)
		if r == nil || week > len(w.weeks) {
			return studio.Missing()
		}
		r.WeekOf = w.monday(week)
		r.Pinned = r.Pinned && week > 0
		return nil
	})
}

// SetPaced says when a rung is to be met.
func (a *App) SetPaced(ctx context.Context, actor studio.Actor, class uuid.UUID, version int, rung string, c PacedChange) error {
	return a.editPacing(ctx, actor, class, version, func(w *pacer, p *studio.Pacing) error {
		r := p.Rung(rung)
		if r == nil || max(c.Week, c.Earliest, c.Latest) > len(w.weeks) {
			return studio.Missing()
		}
		r.WeekOf, r.Earliest, r.Latest = w.monday(c.Week), w.monday(c.Earliest), w.monday(c.Latest)
		r.Pinned, r.Focus = c.Pinned && c.Week > 0, c.Focus
		return nil
	})
}

// ChoosePaced makes these the rungs of the term, and sets its limits. Those that stay keep their weeks; new ones have none until the
// next proposal.
func (a *App) ChoosePaced(ctx context.Context, actor studio.Actor, class uuid.UUID, version int, rungs []string, mostNew, lag int) error {
	return a.editPacing(ctx, actor, class, version, func(w *pacer, p *studio.Pacing) error {
		p.MostNew, p.Lag = mostNew, lag
		var next []studio.PacedRung
		for _, l := range w.Ladders {
			for _, r := range l.Rungs {
				was := p.Rung(r.Key)
				switch {
				case !slices.Contains(rungs, r.Key):
				case was != nil:
					next = append(next, *was)
				default:
					next = append(next, studio.PacedRung{RungKey: r.Key})
				}
			}
		}
		p.Rungs = next
		return nil
	})
}

// UndoPacing takes the last change back; to undo twice brings it again. Rungs that the library no longer has stay out.
func (a *App) UndoPacing(ctx context.Context, actor studio.Actor, class uuid.UUID, version int) error {
	return a.db.InTx(ctx, actor, func(t *postgres.Tx) error {
		if err := a.may(ctx, t, studio.KeepPacing, Target{Class: class}); err != nil {
			return err
		}
		before, err := t.PacingUndo(ctx, class)
		if err != nil {
			return err
		}
		l, err := readLadders(ctx, t)
		if err != nil {
			return err
		}
		before.ClassID, before.Version = class, version
		before.Rungs = slices.DeleteFunc(before.Rungs, func(r studio.PacedRung) bool { _, known := l.rungs[r.RungKey]; return !known })
		_, err = t.SavePacing(ctx, before)
		return err
	})
}
