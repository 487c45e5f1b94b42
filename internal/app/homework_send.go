package app

import (
	"context"
	"fmt"
	"slices"

	"github.com/google/uuid"
	"rungbook/internal/engine/home"
	"rungbook/internal/postgres"
	"rungbook/internal/studio"
)

// SendHome gives a child a drill for home, unless a rule forbids it. The database refuses an unsafe one by itself as well.
func (a *App) SendHome(ctx context.Context, actor studio.Actor, n NewHome) error {
	return a.db.InTx(ctx, actor, func(t *postgres.Tx) error {
		if err := a.may(ctx, t, studio.AssignHome, Target{Child: n.Child}); err != nil {
			return err
		}
		h, err := readHomework(ctx, t, n.Child)
		if err != nil {
			return err
		}
		return h.send(ctx, t, n)
	})
}

// send gives the child a drill, unless a rule forbids it.
func (h *homework) send(ctx context.Context, t *postgres.Tx, n NewHome) error {
	if err := h.check(n); err != nil {
		return err
	}
	if err := t.AssignHome(ctx, studio.HomeAssignment{ChildID: n.Child, DrillKey: n.Drill, Dose: n.Dose, FromOn: n.From, UntilOn: n.Until, Why: n.Why}); err != nil {
		return err
	}
	return t.Audit(ctx, "sent a drill home", "child "+n.Child.String(), map[string]any{"drill": n.Drill})
}

// check judges one drill that a teacher has chosen: that it answers something is the teacher's word, every other rule holds.
func (h *homework) check(n NewHome) error {
	d, ok := h.drills[n.Drill]
	if !ok {
		return studio.Missing()
	}
	var wrong []studio.FieldError
	within := func(field string, v, least, most int) {
		if v < least || v > most {
			wrong = append(wrong, studio.FieldError{Field: field, Problem: fmt.Sprintf("A whole number from %d to %d.", least, most)})
		}
	}
	within("sets", n.Dose.Sets, 1, 10)
	within("repeats", n.Dose.Repeats, 1, 50)
	within("hold", n.Dose.HoldSeconds, 0, 300)
	if n.Until.Before(n.From) || n.Until.Before(h.today) {
		wrong = append(wrong, studio.FieldError{Field: "until", Problem: "The last day is over, or before the first."})
	}
	if n.Until.After(n.From.AddDate(0, 0, 60)) {
		wrong = append(wrong, studio.FieldError{Field: "until", Problem: "At most 60 days: look again before it goes on."})
	}
	if len([]rune(n.Why)) > 400 {
		wrong = append(wrong, studio.FieldError{Field: "why", Problem: "At most 400 characters."})
	}
	if err := studio.Refuse("Nothing was sent.", wrong); err != nil {
		return err
	}
	if d.Home.Adult && !h.adults {
		return studio.Refuse("Nothing was sent.", []studio.FieldError{{Field: "drill", Problem: noAdult}})
	}
	drill := h.homeDrill(d, []string{"chosen"})
	drill.Dose = h.homeDose(n.Dose)
	child := h.child
	child.Seen = append(slices.Clone(child.Seen), home.Seen{Cause: "chosen", Times: 1})
	if choice := home.Suggest(child, []home.Drill{drill}); len(choice.Refused) > 0 {
		return studio.Refuse("Nothing was sent.", []studio.FieldError{{Field: "drill", Problem: choice.Refused[0].Reason}})
	}
	return nil
}

// TakeBack withdraws a drill from home.
func (a *App) TakeBack(ctx context.Context, actor studio.Actor, child, assignment uuid.UUID) error {
	return a.db.InTx(ctx, actor, func(t *postgres.Tx) error {
		if err := a.may(ctx, t, studio.AssignHome, Target{Child: child}); err != nil {
			return err
		}
		if err := t.WithdrawHome(ctx, child, assignment); err != nil {
			return err
		}
		return t.Audit(ctx, "took a drill back from home", "child "+child.String(), map[string]any{"assignment": assignment.String()})
	})
}
