package app

import (
	"context"
	"slices"
	"time"

	"github.com/google/uuid"
	"rungbook/internal/engine/home"
	"rungbook/internal/postgres"
	"rungbook/internal/studio"
	"rungbook/internal/words"
)

// ExceptionLine is an exception that was ticked for a child.
type ExceptionLine struct {
	ID         uuid.UUID
	Key, Drill string
	Reason, By string
	On, Until  time.Time
	Live       bool
	End        studio.ExceptionEnd // how it ended, "" for a live one
	EndedOn    time.Time           // the zero time where it is live, or its last day has simply passed
	Out        bool                // the drill is at home by it
}

// TickChoice is a drill for which an exception may be ticked: it is not safe alone, and no other rule forbids it.
type TickChoice struct{ Key, Name, Why string }

// ExceptionsView is what is at home, or may be, by exception.
type ExceptionsView struct {
	Exceptions []ExceptionLine
	MayTick    []TickChoice
	Adults     bool // the family agreed to drills with an adult in the room
	Weeks      int  // for which an exception may at most be ticked
}

// ExceptionCautions belong wherever an exception is ticked or shown.
func ExceptionCautions(b *words.Book) []string {
	return []string{b.Say("caution.exception-adult"), b.Say("caution.exception-stop"), emergency(b)}
}

// NewException is an exception to tick.
type NewException struct {
	Child  uuid.UUID
	Drill  string
	Reason string
	Until  time.Time
}

// TickException lets a child do a drill at home that the library keeps for class. It lifts that rule and no other, needs the family's
// consent for drills with an adult, and is never for a drill that needs a spotter.
func (a *App) TickException(ctx context.Context, actor studio.Actor, n NewException) error {
	return a.db.InTx(ctx, actor, func(t *postgres.Tx) error {
		if err := a.may(ctx, t, studio.AssignHome, Target{Child: n.Child}); err != nil {
			return err
		}
		h, err := readHomework(ctx, t, n.Child)
		if err != nil {
			return err
		}
		x := studio.HomeException{ChildID: n.Child, DrillKey: n.Drill, Reason: n.Reason, Signed: t.Actor.Name, TickedOn: t.Today, UntilOn: n.Until}
		if err := h.mayTick(x); err != nil {
			return err
		}
		if err := t.TickException(ctx, x); err != nil {
			return err
		}
		return t.Audit(ctx, "ticked an exception for home", "child "+n.Child.String(), map[string]any{"drill": n.Drill, "until": n.Until.Format(time.DateOnly)})
	})
}

// mayTick refuses an exception that may not be, or is not needed.
func (h *homework) mayTick(x studio.HomeException) error {
	d, ok := h.drills[x.DrillKey]
	if !ok {
		return studio.Missing()
	}
	refuse := func(problem string) error {
		return studio.Refuse("Nothing was ticked.", []studio.FieldError{{Field: "exception", Problem: problem}})
	}
	drill := h.homeDrill(d, nil)
	if r, never := home.Unliftable(drill, homeEquipment()); never {
		return refuse(r.Reason + " No exception changes that.")
	}
	switch {
	case home.SafeAlone(drill):
		return refuse(d.Name + " is safe alone by the library: send it without an exception.")
	case !h.adults:
		return refuse("The family has not agreed to drills with an adult in the room. They answer on their page, under Consents.")
	case slices.Contains(h.excepted(), d.Key):
		return refuse("There is an exception for " + d.Name + " already.")
	}
	return x.Validate(h.settings.Exception)
}

// EndException ends an exception at once; what was sent by it is taken back with it.
func (a *App) EndException(ctx context.Context, actor studio.Actor, child, exception uuid.UUID) error {
	return a.db.InTx(ctx, actor, func(t *postgres.Tx) error {
		if err := a.may(ctx, t, studio.AssignHome, Target{Child: child}); err != nil {
			return err
		}
		drill, err := t.EndException(ctx, child, exception)
		if err != nil {
			return err
		}
		return t.Audit(ctx, "ended an exception for home", "child "+child.String(), map[string]any{"drill": drill})
	})
}

// excepted are the drills that the child may have at home by an exception today. Without the family's consent there are none.
func (h *homework) excepted() []string {
	var keys []string
	for _, x := range h.exceptions {
		if h.adults && x.LiveOn(h.today) {
			keys = append(keys, x.DrillKey)
		}
	}
	return keys
}

// exceptionFor is the exception by which a drill would go home, nil for one that needs none or has none.
func (h *homework) exceptionFor(d studio.Drill) *studio.HomeException {
	if d.Home.Safe || !slices.Contains(h.child.Excepted, d.Key) {
		return nil
	}
	for _, x := range h.exceptions {
		if x.DrillKey == d.Key && x.LiveOn(h.today) {
			return &x
		}
	}
	return nil
}

func (h *homework) exceptionsView() ExceptionsView {
	v := ExceptionsView{Adults: h.adults, Weeks: h.settings.Exception}
	for _, x := range h.exceptions {
		v.Exceptions = append(v.Exceptions, h.exceptionLine(x))
	}
	for _, d := range h.homeDrills() {
		if _, never := home.Unliftable(d, homeEquipment()); never || home.SafeAlone(d) || slices.Contains(h.excepted(), d.ID) {
			continue
		}
		v.MayTick = append(v.MayTick, TickChoice{d.ID, d.Name, d.HomeReason})
	}
	return v
}

func (h *homework) exceptionLine(x studio.HomeException) ExceptionLine {
	d := h.drills[x.DrillKey]
	line := ExceptionLine{ID: x.ID, Key: x.DrillKey, Drill: d.Name, Reason: x.Reason, By: x.Signed, On: x.TickedOn, Until: x.UntilOn, Live: x.LiveOn(h.today), End: x.EndedHow}
	if !line.Live && line.End == "" {
		line.End = studio.EndOver
	}
	if x.EndedAt != nil && x.EndedHow != studio.EndOver {
		line.EndedOn = *x.EndedAt
	}
	line.Out = slices.ContainsFunc(h.given, func(g studio.HomeAssignment) bool { return g.Exception != nil && g.Exception.ID == x.ID && h.active(g) })
	return line
}
