package app

import (
	"context"
	"time"

	"github.com/google/uuid"
	"rungbook/internal/engine/standing"
	"rungbook/internal/postgres"
	"rungbook/internal/studio"
)

// RollOver says how a term goes over into the next one. Classes are those to copy; Places says for each child of the old term's classes
// into the copy of which class it goes, and leaves out whoever goes into none yet.
type RollOver struct {
	From     uuid.UUID
	Next     studio.Term
	Holidays []studio.Holiday
	Classes  []ClassCopy
	Places   []ChildPlace
}

// ClassCopy is a class of the old term that goes on, under a name.
type ClassCopy struct {
	Class uuid.UUID
	Name  string
}

// ChildPlace is the class, of those copied, into which a child goes from a class of the old term.
type ChildPlace struct{ Child, From, To uuid.UUID }

// RolledOver says what was made.
type RolledOver struct {
	Term                              uuid.UUID
	Classes, Children, Pairs, Lessons int
}

// RollOverChild is a child of a class that is about to end: how old it is the day after the term, and Secure of Rungs on the ladders that
// the class leans on.
type RollOverChild struct {
	studio.Enrolment
	Age           int
	Secure, Rungs int
}

// RollOverClass is a class of the old term with the children in it on its last day.
type RollOverClass struct {
	studio.Class
	Children []RollOverChild
}

// RollOverOf is what there is to take over from a term: its classes, each with the children who are in it on the term's last day, or
// today when that comes first.
func (a *App) RollOverOf(ctx context.Context, actor studio.Actor, term uuid.UUID) (from studio.Term, classes []RollOverClass, err error) {
	err = a.within(ctx, actor, studio.KeepClasses, func(t *postgres.Tx) error {
		if from, err = t.Term(ctx, term); err != nil {
			return err
		}
		kept, err := t.Classes(ctx, term)
		if err != nil {
			return err
		}
		library, err := readLadders(ctx, t)
		if err != nil {
			return err
		}
		for _, c := range kept {
			enrolments, err := stillIn(ctx, t, c.ID, from)
			if err != nil {
				return err
			}
			children, err := readiness(ctx, t, library, c, enrolments, from.EndsOn.AddDate(0, 0, 1))
			if err != nil {
				return err
			}
			classes = append(classes, RollOverClass{Class: c, Children: children})
		}
		return nil
	})
	return from, classes, err
}

// stillIn are the children who are in a class at the end of its term.
func stillIn(ctx context.Context, t *postgres.Tx, class uuid.UUID, term studio.Term) ([]studio.Enrolment, error) {
	all, err := t.EnrolmentsOfClass(ctx, class)
	var still []studio.Enrolment
	for _, e := range all {
		if e.HoldsOn(earlier(t.Today, term.EndsOn)) {
			still = append(still, e)
		}
	}
	return still, err
}

// readiness counts what each child has secured of the class's own ladders, as of today, and its age on a day.
func readiness(ctx context.Context, t *postgres.Tx, library *ladders, class studio.Class, enrolments []studio.Enrolment, day time.Time) ([]RollOverChild, error) {
	ids := make([]uuid.UUID, len(enrolments))
	for i, e := range enrolments {
		ids[i] = e.ChildID
	}
	boards, err := library.boards(ctx, t, ids)
	if err != nil {
		return nil, err
	}
	born, err := t.BirthDates(ctx, ids)
	if err != nil {
		return nil, err
	}
	children := make([]RollOverChild, len(enrolments))
	for i, e := range enrolments {
		children[i].Enrolment, children[i].Age = e, studio.AgeOn(born[e.ChildID], day)
		for _, key := range class.Focus {
			for _, rung := range library.ladder[key].Rungs {
				children[i].Rungs++
				if s, ok := boards[e.ChildID].On(rung.Key); ok && s.State == standing.Secure {
					children[i].Secure++
				}
			}
		}
	}
	return children, nil
}

// RollTermOver makes the next term: its holidays, copies of classes with their settings, their ladders and whoever takes and helps at
// them, the children where they go, the wishes about pairs who stay in one class, and the lessons. The old term stays as it is but for the children's time in it, which ends with its last day.
func (a *App) RollTermOver(ctx context.Context, actor studio.Actor, plan RollOver) (RolledOver, error) {
	var made RolledOver
	err := a.within(ctx, actor, studio.KeepClasses, func(t *postgres.Tx) error {
		from, err := t.Term(ctx, plan.From)
		if err != nil {
			return err
		}
		if err := studio.Refuse("Nothing was saved.", rollOverProblems(from, plan)); err != nil {
			return err
		}
		if made.Term, err = t.AddTerm(ctx, plan.Next); err != nil {
			return err
		}
		if err := t.SetHolidays(ctx, made.Term, plan.Holidays); err != nil {
			return err
		}
		copies := map[uuid.UUID]uuid.UUID{}
		for _, c := range plan.Classes {
			if copies[c.Class], err = copyClass(ctx, t, from, made.Term, c, plan.Next); err != nil {
				return err
			}
		}
		made.Classes = len(copies)
		if made.Children, err = placeChildren(ctx, t, from, plan, copies); err != nil {
			return err
		}
		if made.Pairs, err = t.CarryPairs(ctx, plan.From, made.Term); err != nil {
			return err
		}
		for _, c := range copies {
			n, err := makeLessons(ctx, t, c)
			if err != nil {
				return err
			}
			made.Lessons += n
		}
		return t.Audit(ctx, "rolled a term over", "term "+plan.From.String(),
			map[string]any{"into": made.Term, "classes": made.Classes, "children": made.Children, "pairs": made.Pairs, "lessons": made.Lessons})
	})
	return made, err
}

func rollOverProblems(from studio.Term, plan RollOver) []studio.FieldError {
	problems := termProblems(plan.Next, plan.Holidays)
	if !plan.Next.StartsOn.After(from.EndsOn) {
		problems = append(problems, studio.FieldError{Field: "starts_on", Problem: "after " + from.EndsOn.Format("2 January 2006") + ", the last day of " + from.Name})
	}
	if len(plan.Classes) == 0 {
		problems = append(problems, studio.FieldError{Field: "classes", Problem: "at least one class that goes on"})
	}
	return problems
}

// copyClass makes the class anew in the next term, with the staff who are on it at the end of the old one.
func copyClass(ctx context.Context, t *postgres.Tx, from studio.Term, term uuid.UUID, c ClassCopy, next studio.Term) (uuid.UUID, error) {
	class, err := t.Class(ctx, c.Class)
	if err != nil {
		return uuid.Nil, err
	}
	if class.TermID != from.ID {
		return uuid.Nil, studio.Missing()
	}
	class.TermID, class.Name = term, c.Name
	if err := studio.Refuse("Nothing was saved.", class.Validate()); err != nil {
		return uuid.Nil, err
	}
	id, err := t.AddClass(ctx, class)
	if err != nil {
		return uuid.Nil, err
	}
	staff, err := t.ClassStaff(ctx, c.Class)
	if err != nil {
		return uuid.Nil, err
	}
	for _, s := range staff {
		if s.UntilOn != nil && s.UntilOn.Before(from.EndsOn) || s.FromOn.After(from.EndsOn) || s.UntilOn != nil && s.UntilOn.Equal(s.FromOn) {
			continue // was taken off before, or covered a day
		}
		if err := t.AddClassStaff(ctx, studio.ClassStaff{ClassID: id, StaffID: s.StaffID, Duty: s.Duty, FromOn: next.StartsOn}); err != nil {
			return uuid.Nil, err
		}
	}
	return id, nil
}

// placeChildren ends the children's time in the old term's classes with its last day, and enrols those who go on; how many, comes back.
func placeChildren(ctx context.Context, t *postgres.Tx, from studio.Term, plan RollOver, copies map[uuid.UUID]uuid.UUID) (int, error) {
	classes, err := t.Classes(ctx, from.ID)
	if err != nil {
		return 0, err
	}
	in := map[[2]uuid.UUID]bool{}
	var ending []studio.Enrolment
	for _, c := range classes {
		still, err := stillIn(ctx, t, c.ID, from)
		if err != nil {
			return 0, err
		}
		for _, e := range still {
			in[[2]uuid.UUID{e.ChildID, c.ID}] = true
			if e.UntilOn == nil {
				e.UntilOn = &from.EndsOn
				ending = append(ending, e)
			}
		}
	}
	var going []studio.Enrolment
	for _, p := range plan.Places {
		to, copied := copies[p.To]
		if !copied || !in[[2]uuid.UUID{p.Child, p.From}] {
			return 0, studio.Missing()
		}
		going = append(going, studio.Enrolment{ClassID: to, ChildID: p.Child, FromOn: plan.Next.StartsOn})
	}
	if from.ArchivedAt == nil {
		if err := t.Enrol(ctx, ending); err != nil {
			return 0, err
		}
	}
	return len(going), t.Enrol(ctx, going)
}

// makeLessons writes the lessons of a new class and says how many.
func makeLessons(ctx context.Context, t *postgres.Tx, class uuid.UUID) (int, error) {
	c, err := t.Class(ctx, class)
	if err != nil {
		return 0, err
	}
	wanted, err := calendar(ctx, t, c)
	if err != nil {
		return 0, err
	}
	change, err := bringInLine(ctx, t, c, wanted)
	return change.Made, err
}

// PutTermAway makes a term that is over read-only, or, with away false, takes it out again.
func (a *App) PutTermAway(ctx context.Context, actor studio.Actor, id uuid.UUID, away bool) error {
	return a.within(ctx, actor, studio.KeepClasses, func(t *postgres.Tx) error {
		term, err := t.Term(ctx, id)
		if err != nil {
			return err
		}
		if away && !term.EndsOn.Before(t.Today) {
			return &studio.Error{Code: studio.Conflict, Text: "The term is not over yet. It can be put away from the day after its last one."}
		}
		if (term.ArchivedAt != nil) == away {
			return &studio.Error{Code: studio.Conflict, Text: "Somebody has done that already."}
		}
		if err := t.PutAwayTerm(ctx, id, away); err != nil {
			return err
		}
		what := "put a term away"
		if !away {
			what = "took a term out again"
		}
		return t.Audit(ctx, what, "term "+id.String(), nil)
	})
}
