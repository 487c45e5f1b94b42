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
	x := h.exceptionFor(h.drills[n.Drill])
	if err := t.AssignHome(ctx, studio.HomeAssignment{ChildID: n.Child, DrillKey: n.Drill, Dose: n.Dose, FromOn: n.From, UntilOn: n.Until, Why: n.Why, Exception: x}); err != nil {
		return err
	}
	h.given = append(h.given, studio.HomeAssignment{DrillKey: n.Drill, Dose: n.Dose, FromOn: n.From, UntilOn: n.Until})
	h.child.Has, h.child.Left = h.out(h.entries)
	detail := map[string]any{"drill": n.Drill}
	if x != nil {
		detail["exception"] = x.ID.String()
	}
	return t.Audit(ctx, "sent a drill home", "child "+n.Child.String(), detail)
}

// check judges one drill that a teacher has chosen: that it answers something is the teacher's word, every other rule holds.
func (h *homework) check(n NewHome) error {
	d, ok := h.drills[n.Drill]
	if !ok {
		return studio.Missing()
	}
	if err := studio.Refuse("Nothing was sent.", h.checkDays(n)); err != nil {
		return err
	}
	if reason := h.refusal(d, n.Dose); reason != "" {
		return studio.Refuse("Nothing was sent.", []studio.FieldError{{Field: "drill", Problem: reason}})
	}
	return nil
}

// checkDays refuses a dose and days that are out of bounds, or that go beyond the exception which the drill needs.
func (h *homework) checkDays(n NewHome) []studio.FieldError {
	var wrong []studio.FieldError
	within := func(field string, v, least, most int) {
		if v < least || v > most {
			wrong = append(wrong, studio.FieldError{Field: field, Problem: fmt.Sprintf("A whole number from %d to %d.", least, most)})
		}
	}
	refuse := func(bad bool, field, problem string) {
		if bad {
			wrong = append(wrong, studio.FieldError{Field: field, Problem: problem})
		}
	}
	within("sets", n.Dose.Sets, 1, 10)
	within("repeats", n.Dose.Repeats, 1, 50)
	within("hold", n.Dose.HoldSeconds, 0, 300)
	refuse(n.Until.Before(n.From) || n.Until.Before(h.today), "until", "The last day is over, or before the first.")
	refuse(n.Until.After(n.From.AddDate(0, 0, 60)), "until", "At most 60 days: look again before it goes on.")
	refuse(len([]rune(n.Why)) > 400, "why", "At most 400 characters.")
	if x := h.exceptionFor(h.drills[n.Drill]); x != nil {
		refuse(n.Until.After(x.UntilOn), "until", "The exception for this drill ends on "+x.UntilOn.Format("2 January")+": no longer than that.")
		refuse(n.From.Before(x.TickedOn), "from", "The exception for this drill begins on "+x.TickedOn.Format("2 January")+".")
	}
	return wrong
}

// refusal is why a drill that a teacher has chosen does not go home with the child in this dose, "" when it may.
func (h *homework) refusal(d studio.Drill, dose studio.Dose) string {
	drill := h.homeDrill(d, []string{"chosen"})
	drill.Dose = h.homeDose(dose)
	child := h.child
	child.Seen = append(slices.Clone(child.Seen), home.Seen{Cause: "chosen", Times: 1})
	choice := home.Suggest(child, []home.Drill{drill})
	switch {
	case len(choice.Refused) > 0:
		return choice.Refused[0].Reason
	case choice.Suggested[0].Adult && !h.adults:
		return noAdult
	}
	return ""
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
