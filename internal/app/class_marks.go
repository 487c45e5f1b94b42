package app

import (
	"context"
	"slices"

	"github.com/google/uuid"
	"rungbook/internal/postgres"
	"rungbook/internal/studio"
)

// FaultsAtOnce is the most faults that are noted of a child when a class is marked together: what can be seen and corrected in one turn.
// Common practice, no source.
const FaultsAtOnce = 2

// ClassMarks is a class with how each child stands on one rung, for marking them together. Rung, with its name, sides and faults, is
// nil until one is chosen.
type ClassMarks struct {
	ClassLine
	Ladders  []studio.Ladder
	Rung     *studio.Rung
	Lessons  []LessonLine // begun, latest first
	Children []ClassMark
}

// ClassMark is where a child is on the rung.
type ClassMark struct {
	ID     uuid.UUID
	Name   string
	Limits []string // what not to do for now
	RungStand
}

// ClassTurns are what was seen of one child of a class: a turn, or one a side, and at most FaultsAtOnce faults of those turns that
// were not clean.
type ClassTurns struct {
	Child  uuid.UUID
	Turns  []Turn
	Faults []string
}

// FaultsField is the form field of the faults of a child when a class is marked.
func FaultsField(child uuid.UUID) string { return "faults-" + child.String() }

// MarksOfClass shows the form for marking a class on a rung, "" to choose one.
func (a *App) MarksOfClass(ctx context.Context, actor studio.Actor, class uuid.UUID, rung string) (ClassMarks, error) {
	var view ClassMarks
	err := a.db.InTx(ctx, actor, func(t *postgres.Tx) error {
		if err := a.may(ctx, t, studio.MarkChild, Target{Class: class}); err != nil {
			return err
		}
		page, faults, err := t.ClassMarksPage(ctx, class, rung)
		if err != nil {
			return err
		}
		if view, err = classMarks(page, rung, t); view.Rung != nil {
			view.Rung.Faults = faults
		}
		return err
	})
	return view, err
}

func classMarks(page postgres.ClassPage, rung string, t *postgres.Tx) (ClassMarks, error) {
	view := ClassMarks{ClassLine: classLine(page.Card, t.Today), Ladders: page.Ladders}
	if rung == "" {
		return view, nil
	}
	library, err := laddersOf(studio.Library{Ladders: page.Ladders}, t)
	if err != nil {
		return view, err
	}
	chosen, ok := library.rungs[rung]
	if !ok {
		return view, studio.Missing()
	}
	view.Rung, view.Lessons = &chosen, begunNow(page.Lessons, page.Card.ID, t)
	boards, err := library.boardsOf(idsOf(page.Pupils), page.Marks, t)
	if err != nil {
		return view, err
	}
	limits := holding(page.Limits, t.Today)
	for _, p := range page.Pupils {
		stand, _ := boards[p.ID].On(rung) // the graph is made of these rungs
		view.Children = append(view.Children, ClassMark{ID: p.ID, Name: p.FullName(), Limits: mindful(limits[p.ID], t.Today), RungStand: rungStand(chosen.Name, stand)})
	}
	return view, nil
}

// begunNow are the latest lessons of a class that have begun by now.
func begunNow(lines []postgres.LessonLine, class uuid.UUID, t *postgres.Tx) []LessonLine {
	lines = slices.DeleteFunc(slices.Clone(lines), func(l postgres.LessonLine) bool { return l.StartsAt.After(t.Now) })
	return begun(lines, []uuid.UUID{class})
}

// MarkClass writes a mark for each turn of children of a class at one rung, all or none. Lesson is uuid.Nil outside of a lesson.
func (a *App) MarkClass(ctx context.Context, actor studio.Actor, class uuid.UUID, rung string, lesson uuid.UUID, seen []ClassTurns) error {
	return a.db.InTx(ctx, actor, func(t *postgres.Tx) error {
		if err := a.may(ctx, t, studio.MarkChild, Target{Class: class}); err != nil {
			return err
		}
		library, err := readLadders(ctx, t)
		if err != nil {
			return err
		}
		pupils, err := t.PupilsOf(ctx, class)
		if err != nil {
			return err
		}
		lines, err := t.LessonLinesOf(ctx, class)
		if err != nil {
			return err
		}
		if err := checkSeen(idsOf(pupils), seen); err != nil {
			return err
		}
		for _, s := range seen {
			marks, err := library.marksOf(t, NewTurns{Child: s.Child, Rung: rung, Lesson: lesson, Turns: s.Turns, Faults: s.Faults}, begunNow(lines, class, t))
			if err != nil {
				return err
			}
			if err := t.AddMarks(ctx, marks); err != nil {
				return err
			}
			if err := auditMarks(ctx, t, marks); err != nil {
				return err
			}
		}
		return nil
	})
}

// checkSeen wants turns, of children of the class alone, and no more faults than are noted at once.
func checkSeen(children []uuid.UUID, seen []ClassTurns) error {
	var wrong []studio.FieldError
	if len(seen) == 0 {
		wrong = append(wrong, studio.FieldError{Field: "turns", Problem: "Mark at least one child."})
	}
	for _, s := range seen {
		if !slices.Contains(children, s.Child) {
			return studio.Missing()
		}
		if problem := s.faultProblem(); problem != "" {
			wrong = append(wrong, studio.FieldError{Field: FaultsField(s.Child), Problem: problem})
		}
	}
	return studio.Refuse(nothingSaved, wrong)
}

func (s ClassTurns) faultProblem() string {
	notClean := slices.ContainsFunc(s.Turns, func(t Turn) bool { return t.Outcome != studio.Clean })
	switch {
	case len(s.Faults) > FaultsAtOnce:
		return "Note the two that matter most: a child works at one or two corrections at a time."
	case len(s.Faults) > 0 && len(s.Turns) == 0:
		return "Say how the turn went too."
	case len(s.Faults) > 0 && !notClean:
		return "A clean turn has no fault. Choose another outcome, or take the fault away."
	}
	return ""
}
