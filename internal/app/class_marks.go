package app

import (
	"context"
	"slices"

	"github.com/google/uuid"
	"rungbook/internal/postgres"
	"rungbook/internal/studio"
)

// ClassMarks is a class with how each child stands on one rung, for marking them together. Rung is nil until one is chosen.
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

// ClassTurn is what was seen of one child of a class.
type ClassTurn struct {
	Child uuid.UUID
	Turn
}

// MarksOfClass shows the form for marking a class on a rung, "" to choose one.
func (a *App) MarksOfClass(ctx context.Context, actor studio.Actor, class uuid.UUID, rung string) (ClassMarks, error) {
	var view ClassMarks
	err := a.db.InTx(ctx, actor, func(t *postgres.Tx) error {
		if err := a.may(ctx, t, studio.MarkChild, Target{Class: class}); err != nil {
			return err
		}
		page, err := t.ClassPage(ctx, class)
		if err != nil {
			return err
		}
		view, err = classMarks(page, rung, t)
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
func (a *App) MarkClass(ctx context.Context, actor studio.Actor, class uuid.UUID, rung string, lesson uuid.UUID, turns []ClassTurn) error {
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
		if len(turns) == 0 {
			return studio.Refuse(nothingSaved, []studio.FieldError{{Field: "turns", Problem: "Mark at least one child."}})
		}
		return library.markEach(ctx, t, idsOf(pupils), begunNow(lines, class, t), rung, lesson, turns)
	})
}

// markEach writes the marks of each child of a class who has turns.
func (l *ladders) markEach(ctx context.Context, t *postgres.Tx, children []uuid.UUID, lessons []LessonLine, rung string, lesson uuid.UUID, turns []ClassTurn) error {
	byChild := map[uuid.UUID][]Turn{}
	for _, turn := range turns {
		if !slices.Contains(children, turn.Child) {
			return studio.Missing()
		}
		byChild[turn.Child] = append(byChild[turn.Child], turn.Turn)
	}
	for _, child := range children {
		if len(byChild[child]) == 0 {
			continue
		}
		marks, err := l.marksOf(t, NewTurns{Child: child, Rung: rung, Lesson: lesson, Turns: byChild[child]}, lessons)
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
}
