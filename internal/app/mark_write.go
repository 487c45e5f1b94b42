package app

import (
	"context"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"github.com/google/uuid"
	"rungbook/internal/postgres"
	"rungbook/internal/studio"
)

// WriteMark writes a mark, or the correction of one. A correction keeps the rung, lesson and day of what it stands for, and says why.
func (a *App) WriteMark(ctx context.Context, actor studio.Actor, m NewMark) error {
	if m.Replaces == uuid.Nil {
		return a.WriteTurns(ctx, actor, NewTurns{Child: m.Child, Rung: m.Rung, Lesson: m.Lesson, Turns: []Turn{{m.Side, m.Outcome}}, Faults: m.Faults})
	}
	return a.db.InTx(ctx, actor, func(t *postgres.Tx) error {
		if err := a.may(ctx, t, studio.MarkChild, Target{Child: m.Child}); err != nil {
			return err
		}
		mark, err := markOf(t, m.Child, Turn{m.Side, m.Outcome})
		if err != nil {
			return err
		}
		mark.Faults = m.Faults
		was, err := keepPlace(ctx, t, &mark, m.Replaces)
		if err != nil {
			return err
		}
		library, err := readLadders(ctx, t)
		if err != nil {
			return err
		}
		if err := studio.Refuse(nothingSaved, append(library.checkMark(mark), checkWhy(m.Why)...)); err != nil {
			return err
		}
		if err := t.AddMarks(ctx, []studio.Mark{mark}); err != nil {
			return err
		}
		return t.Audit(ctx, "corrected a mark", "child "+m.Child.String(), map[string]any{"mark": mark.ID.String(), "rung": mark.RungKey,
			"why": strings.TrimSpace(m.Why), "from": turnWords(was.Side, was.Outcome), "to": turnWords(mark.Side, mark.Outcome)})
	})
}

// checkWhy wants the reason of a correction, for the child's history.
func checkWhy(why string) []studio.FieldError {
	if n := utf8.RuneCountInString(strings.TrimSpace(why)); n == 0 || n > 200 {
		return []studio.FieldError{{Field: "why", Problem: "Say why in at most 200 characters: it stands in the child's history."}}
	}
	return nil
}

// turnWords is "left, clean", or the outcome alone.
func turnWords(side studio.Side, outcome studio.Outcome) string {
	if side == studio.Left || side == studio.Right {
		return string(side) + ", " + string(outcome)
	}
	return string(outcome)
}

// Turn is one go at a rung.
type Turn struct {
	Side    studio.Side
	Outcome studio.Outcome
}

// turnsAtOnce is the most turns that are marked in one go.
const turnsAtOnce = 12

// NewTurns are turns of one child at one rung, in the order in which they were seen. Lesson is uuid.Nil outside of a lesson. The
// faults are noted on each turn that was not clean, or on the last where all were.
type NewTurns struct {
	Child  uuid.UUID
	Rung   string
	Lesson uuid.UUID
	Turns  []Turn
	Faults []string
}

// WriteTurns writes a mark a turn, all or none.
func (a *App) WriteTurns(ctx context.Context, actor studio.Actor, n NewTurns) error {
	return a.db.InTx(ctx, actor, func(t *postgres.Tx) error {
		if err := a.may(ctx, t, studio.MarkChild, Target{Child: n.Child}); err != nil {
			return err
		}
		library, err := readLadders(ctx, t)
		if err != nil {
			return err
		}
		lessons, err := lessonsToMark(ctx, t, n.Child)
		if err != nil {
			return err
		}
		marks, err := library.marksOf(t, n, lessons)
		if err != nil {
			return err
		}
		if err := t.AddMarks(ctx, marks); err != nil {
			return err
		}
		return auditMarks(ctx, t, marks)
	})
}

// auditMarks writes to the trail that a child was marked.
func auditMarks(ctx context.Context, t *postgres.Tx, marks []studio.Mark) error {
	var ids []string
	for _, m := range marks {
		ids = append(ids, m.ID.String())
	}
	return t.Audit(ctx, "marked a child", "child "+marks[0].ChildID.String(), map[string]any{"marks": ids, "rung": marks[0].RungKey})
}

// marksOf makes the marks of turns, or says what is wrong with them: the field of the first turn has no number, that of the second is
// "outcome-2".
func (l *ladders) marksOf(t *postgres.Tx, n NewTurns, lessons []LessonLine) ([]studio.Mark, error) {
	if len(n.Turns) == 0 || len(n.Turns) > turnsAtOnce {
		return nil, studio.Refuse(nothingSaved, []studio.FieldError{{Field: "outcome", Problem: "Say how the turn went."}})
	}
	allClean := !slices.ContainsFunc(n.Turns, func(turn Turn) bool { return turn.Outcome != studio.Clean })
	var marks []studio.Mark
	var wrong []studio.FieldError
	for i, turn := range n.Turns {
		mark, err := markOf(t, n.Child, turn)
		if err != nil {
			return nil, err
		}
		mark.RungKey = n.Rung
		if turn.Outcome != studio.Clean || allClean && i == len(n.Turns)-1 {
			mark.Faults = n.Faults
		}
		if n.Lesson != uuid.Nil {
			if err := placeIn(t, &mark, n.Lesson, lessons); err != nil {
				return nil, err
			}
		}
		for _, e := range l.checkMark(mark) {
			if i > 0 && e.Field != "rung" && e.Field != "faults" {
				e.Field += "-" + strconv.Itoa(i+1)
			}
			wrong = append(wrong, e)
		}
		marks = append(marks, mark)
	}
	return marks, studio.Refuse(nothingSaved, wrong)
}

// markOf is a mark of the actor, made now.
func markOf(t *postgres.Tx, child uuid.UUID, turn Turn) (studio.Mark, error) {
	id, err := uuid.NewV7()
	if err != nil {
		return studio.Mark{}, err
	}
	mark := studio.Mark{ID: id, ChildID: child, Side: turn.Side, Outcome: turn.Outcome, MarkedAt: t.Now}
	if t.Actor.SignedIn() {
		mark.MarkedBy = &t.Actor.ID
	}
	return mark, nil
}

// keepPlace gives a correction the rung, lesson and day of the mark in force that it stands for.
func keepPlace(ctx context.Context, t *postgres.Tx, mark *studio.Mark, replaces uuid.UUID) (postgres.SeenMark, error) {
	marks, err := t.MarksOf(ctx, []uuid.UUID{mark.ChildID})
	if err != nil {
		return postgres.SeenMark{}, err
	}
	i := slices.IndexFunc(marks, func(m postgres.SeenMark) bool { return m.ID == replaces })
	if i < 0 {
		return postgres.SeenMark{}, &studio.Error{Code: studio.Conflict, Text: "That mark was corrected meanwhile, or is not this child's. Nothing was saved; look at the marks again."}
	}
	old := marks[i]
	mark.RungKey, mark.LessonID, mark.MarkedAt, mark.Replaces = old.RungKey, old.LessonID, old.MarkedAt, &old.ID
	return old, nil
}

// placeIn puts a mark in a lesson that has begun, at its start.
func placeIn(t *postgres.Tx, mark *studio.Mark, lesson uuid.UUID, lessons []LessonLine) error {
	i := slices.IndexFunc(lessons, func(l LessonLine) bool { return l.ID == lesson })
	if i < 0 {
		return studio.Refuse("Nothing was saved.", []studio.FieldError{{Field: "lesson", Problem: "Choose one of the lessons offered, or none."}})
	}
	mark.LessonID = &lessons[i].ID
	if t.Now.After(lessons[i].EndsAt) {
		mark.MarkedAt = lessons[i].StartsAt.UTC()
	}
	return nil
}

// checkMark judges a mark by the rung that it is of.
func (l *ladders) checkMark(m studio.Mark) []studio.FieldError {
	rung, ok := l.rungs[m.RungKey]
	if !ok {
		return []studio.FieldError{{Field: "rung", Problem: "Choose a rung."}}
	}
	var wrong []studio.FieldError
	if !slices.Contains([]studio.Outcome{studio.Missed, studio.Supported, studio.Clean}, m.Outcome) {
		wrong = append(wrong, studio.FieldError{Field: "outcome", Problem: "Say how the turn went."})
	}
	sided := m.Side == studio.Left || m.Side == studio.Right
	if rung.TwoSided && !sided {
		wrong = append(wrong, studio.FieldError{Field: "side", Problem: "Say which side led."})
	}
	if !rung.TwoSided && m.Side != studio.NoSide {
		wrong = append(wrong, studio.FieldError{Field: "side", Problem: "This rung has no sides."})
	}
	for _, key := range m.Faults {
		if !slices.ContainsFunc(rung.Faults, func(f studio.Fault) bool { return f.Key == key }) {
			wrong = append(wrong, studio.FieldError{Field: "faults", Problem: "Choose from the faults of this rung."})
			break
		}
	}
	return wrong
}
