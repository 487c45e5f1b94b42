package app

import (
	"context"
	"encoding/json"
	"fmt"
	"slices"

	"github.com/google/uuid"
	"rungbook/internal/postgres"
	"rungbook/internal/studio"
)

// keptLine puts an item that did not count at once into words.
func (r *review) keptLine(k studio.KeptItem) KeptLine {
	i := studio.ReadItem(json.RawMessage(k.Content))
	line := KeptLine{KeptItem: k, May: k.Answer != studio.ItemInvalid && i.Problem == ""}
	line.ReceivedAt = inZone(k.ReceivedAt, r.Class.TimeZone)
	who := "a child of another class"
	if k.ChildID != nil {
		who = r.child(*k.ChildID)
	}
	rung := r.rungs[i.Rung].Name
	if rung == "" {
		rung = "a rung that is not in the library"
	}
	switch i.Kind {
	case studio.MarkItem:
		line.Says = fmt.Sprintf("%s: %s on %s", who, i.Outcome, rung)
		if i.Side != studio.NoSide {
			line.Says += ", " + string(i.Side)
		}
	case studio.StrikeItem:
		line.Says = who + ": takes back a mark on " + rung
	case studio.AttendanceItem:
		if i.Staff != uuid.Nil {
			who = "somebody of the staff"
		}
		line.Says = who + " is away"
		if i.Present != nil && *i.Present {
			line.Says = who + " is here"
		}
	case studio.NoteItem:
		line.Says = "A note: " + i.Text
	default:
		line.Says = "Something that cannot be read"
	}
	return line
}

// ConfirmMarks lets marks of a lesson that wait for a teacher's word count; set aside ones are taken back instead.
func (a *App) ConfirmMarks(ctx context.Context, actor studio.Actor, lesson uuid.UUID, marks []uuid.UUID, accept bool) (int, error) {
	done := 0
	err := a.db.InTx(ctx, actor, func(t *postgres.Tx) error {
		if err := a.may(ctx, t, studio.KeepLesson, Target{Lesson: lesson}); err != nil {
			return err
		}
		roll, err := t.SheetRoll(ctx, lesson)
		if err != nil {
			return err
		}
		chosen := map[uuid.UUID]bool{}
		for _, id := range marks {
			chosen[id] = true
		}
		var waiting []uuid.UUID
		for _, m := range roll.Marks {
			if !m.Awaits || !chosen[m.ID] {
				continue
			}
			done++
			waiting = append(waiting, m.ID)
			if !accept {
				if err := strike(ctx, t, m.ChildID, m.ID); err != nil {
					return err
				}
			}
		}
		if !accept || done == 0 {
			return nil
		}
		if _, err := t.ConfirmMarks(ctx, waiting); err != nil {
			return err
		}
		return t.Audit(ctx, "confirmed marks", "lesson "+lesson.String(), map[string]any{"marks": done})
	})
	return done, err
}

// DecideItem accepts an item that did not count at once, as the work of whoever sent it, or sets it aside. It stays kept either way.
func (a *App) DecideItem(ctx context.Context, actor studio.Actor, lesson, id uuid.UUID, digest string, accept bool) error {
	return a.db.InTx(ctx, actor, func(t *postgres.Tx) error {
		if err := a.may(ctx, t, studio.KeepLesson, Target{Lesson: lesson}); err != nil {
			return err
		}
		item, err := t.UndecidedItem(ctx, id, digest)
		if err != nil {
			return err
		}
		if item.LessonID == nil || *item.LessonID != lesson {
			return studio.Missing()
		}
		did := "set an item of a device aside"
		if accept {
			did = "accepted an item of a device"
			if err := acceptItem(ctx, t, item); err != nil {
				return err
			}
		}
		if err := t.DecideItem(ctx, id, digest, accept); err != nil {
			return err
		}
		return t.Audit(ctx, did, "lesson "+lesson.String(), map[string]any{"item": id.String()})
	})
}

// acceptItem lets an item count that a teacher has looked at. It counts as the work of whoever sent it: so it is written as the program,
// after the actor was found to take the lesson and the item to be of it.
func acceptItem(ctx context.Context, t *postgres.Tx, kept studio.KeptItem) error {
	i := studio.ReadItem(json.RawMessage(kept.Content))
	b, err := newBench(ctx, t, []studio.SheetItem{i})
	if err != nil {
		return err
	}
	lesson, known := b.lessons[i.Lesson]
	words := i.Problem
	if words == "" && known {
		words = b.fault(i, lesson, true)
	}
	if words != "" || !known || kept.Answer == studio.ItemInvalid {
		return &studio.Error{Code: studio.Conflict, Text: "That cannot count as it is. " + words + " It stays kept; set it aside, or enter what was seen by hand."}
	}
	if kept.Answer == studio.ItemConflict { // its number is taken
		if i.ID, err = uuid.NewV7(); err != nil {
			return err
		}
	}
	by := t.Actor.ID
	if kept.SentBy != nil {
		by = *kept.SentBy
	}
	c := &itemCase{SheetItem: i, result: &ItemResult{}}
	return t.AsProgram(ctx, func() error { return b.count(ctx, []*itemCase{c}, by) })
}

// HomePick is a drill to send home with a child.
type HomePick struct {
	Child uuid.UUID
	Drill string
}

// homeWeeks is for how long a drill goes home from the review of a lesson.
const homeWeeks = 2

// SendHomes sends drills home with the children of a lesson, in their usual dose, for two weeks from today. Each is judged by itself: one
// that a rule forbids stays here, with the reason, and the others go. No exception counts here: it is used on the child's own page.
func (a *App) SendHomes(ctx context.Context, actor studio.Actor, lesson uuid.UUID, picks []HomePick) (ClassSent, error) {
	var sent ClassSent
	err := a.db.InTx(ctx, actor, func(t *postgres.Tx) error {
		if err := a.may(ctx, t, studio.KeepLesson, Target{Lesson: lesson}); err != nil {
			return err
		}
		roll, err := t.SheetRoll(ctx, lesson)
		if err != nil {
			return err
		}
		var children []uuid.UUID
		for _, p := range picks {
			if !slices.ContainsFunc(roll.Children, func(c postgres.RollChild) bool { return c.ID == p.Child }) {
				return studio.Missing()
			}
			if err := a.may(ctx, t, studio.AssignHome, Target{Child: p.Child}); err != nil {
				return err
			}
			children = append(children, p.Child)
		}
		all, err := readPlain(ctx, t, children)
		if err != nil {
			return err
		}
		for _, p := range picks {
			h, ok := homeworkOf(all, p.Child)
			if !ok {
				return studio.Missing()
			}
			n := NewHome{Child: p.Child, Drill: p.Drill, Dose: h.drills[p.Drill].Dose, From: t.Today, Until: t.Today.AddDate(0, 0, 7*homeWeeks)}
			if err := sent.add(ctx, t, h, fmt.Sprintf("%s (%s)", h.head.Name, h.drills[p.Drill].Name), n); err != nil {
				return err
			}
		}
		if len(picks) == 0 {
			return studio.Refuse("Nothing was sent.", []studio.FieldError{{Field: "home", Problem: "Tick at least one drill."}})
		}
		return sent.err("home")
	})
	return sent, err
}
