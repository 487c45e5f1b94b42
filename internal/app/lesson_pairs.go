package app

import (
	"context"
	"slices"

	"github.com/google/uuid"
	"rungbook/internal/engine/lesson"
	"rungbook/internal/postgres"
	"rungbook/internal/studio"
)

// PairsSheet is the children whom a class keeps together or apart, as the page of one of its lessons shows them.
type PairsSheet struct {
	Lesson   studio.Lesson
	Class    studio.Class
	Children []SheetChild // of the day, to choose from
	Pairs    []SheetPair
}

// SheetPair is two children of the day and what is wished of them.
type SheetPair struct {
	A, B SheetChild
	Wish studio.PairWish
}

// Pairs lists whom the class of a lesson keeps together or apart.
func (a *App) Pairs(ctx context.Context, actor studio.Actor, id uuid.UUID) (PairsSheet, error) {
	var sheet PairsSheet
	err := a.db.InTx(ctx, actor, func(t *postgres.Tx) error {
		if err := a.may(ctx, t, studio.KeepLesson, Target{Lesson: id}); err != nil {
			return err
		}
		e, err := t.Evening(ctx, id)
		if err != nil {
			return err
		}
		sheet = pairsSheet(e)
		return nil
	})
	return sheet, err
}

func pairsSheet(e postgres.Evening) PairsSheet {
	s := PairsSheet{Lesson: e.Lesson, Class: e.Class}
	at := map[uuid.UUID]SheetChild{}
	for _, c := range e.Children {
		child := SheetChild{ID: c.ID, Name: c.ShortName(), FullName: c.GivenName + " " + c.FamilyName}
		at[c.ID] = child
		s.Children = append(s.Children, child)
	}
	for _, p := range e.Pairs {
		one, ok := at[p.ChildA]
		other, too := at[p.ChildB]
		if ok && too {
			s.Pairs = append(s.Pairs, SheetPair{A: one, B: other, Wish: p.Wish})
		}
	}
	return s
}

// KeepPair keeps two children together or apart in every plan of the class of a lesson.
func (a *App) KeepPair(ctx context.Context, actor studio.Actor, id uuid.UUID, pair studio.ClassPair) error {
	return a.db.InTx(ctx, actor, func(t *postgres.Tx) error {
		if err := a.may(ctx, t, studio.KeepLesson, Target{Lesson: id}); err != nil {
			return err
		}
		e, err := t.Evening(ctx, id)
		if err != nil {
			return err
		}
		for _, child := range []uuid.UUID{pair.ChildA, pair.ChildB} {
			if !slices.ContainsFunc(e.Children, func(c postgres.EveningChild) bool { return c.ID == child }) {
				return studio.Missing()
			}
		}
		if pair.ChildA == pair.ChildB {
			return studio.Refuse("Nothing was saved.", []studio.FieldError{{Field: "other", Problem: "Choose two different children."}})
		}
		return t.SavePair(ctx, e.Class.ID, pair)
	})
}

// RemovePair lets two children be in any groups again.
func (a *App) RemovePair(ctx context.Context, actor studio.Actor, id, one, other uuid.UUID) error {
	return a.db.InTx(ctx, actor, func(t *postgres.Tx) error {
		if err := a.may(ctx, t, studio.KeepLesson, Target{Lesson: id}); err != nil {
			return err
		}
		l, err := t.Lesson(ctx, id)
		if err != nil {
			return err
		}
		return t.RemovePair(ctx, l.ClassID, one, other)
	})
}

// pairsHere are the pairs of a wish of whom both are here.
func (e *evening) pairsHere(wish studio.PairWish) []lesson.Pair {
	here := func(id uuid.UUID) bool {
		return slices.ContainsFunc(e.present(), func(c postgres.EveningChild) bool { return c.ID == id })
	}
	var pairs []lesson.Pair
	for _, p := range e.Pairs {
		if p.Wish == wish && here(p.ChildA) && here(p.ChildB) {
			pairs = append(pairs, lesson.Pair{A: p.ChildA.String(), B: p.ChildB.String()})
		}
	}
	return pairs
}
