package app

import (
	"context"

	"github.com/google/uuid"
	"rungbook/internal/engine/standing"
	"rungbook/internal/postgres"
	"rungbook/internal/studio"
)

// LadderPage is a ladder with the map of what its rungs need, and how the classes that the actor takes are spread over it.
type LadderPage struct {
	Shelf
	Ladder  studio.Ladder
	Map     LadderMap
	Classes []ClassOnLadder // of terms that are not over, those with children
}

// ClassOnLadder counts the children of a class at each rung of a ladder, bottom first, by state.
type ClassOnLadder struct {
	ID       uuid.UUID
	Name     string
	Children int
	Rungs    []RungCount
}

// RungCount is how many children stand how on a rung; their sum is the class.
type RungCount struct {
	Key, Name                               string
	Waiting, Open, Working, Secure, Recheck int
}

// LadderPageOf shows a ladder. whole asks for the map of everything that its rungs need, near or far.
func (a *App) LadderPageOf(ctx context.Context, actor studio.Actor, key string, whole bool) (LadderPage, error) {
	var view LadderPage
	err := a.db.InTx(ctx, actor, func(t *postgres.Tx) error {
		if err := a.may(ctx, t, studio.ReadLibrary, Target{}); err != nil {
			return err
		}
		page, err := t.LadderPage(ctx, key)
		if err != nil {
			return err
		}
		library, err := laddersOf(page.Library, t)
		if err != nil {
			return err
		}
		var ok bool
		if view.Ladder, ok = library.ladder[key]; !ok {
			return studio.Missing()
		}
		view.Library = page.Library
		if view.Map, err = library.mapOf(view.Ladder, whole); err != nil {
			return err
		}
		if a.offered(t, studio.SeeClass) == nil { // whoever takes no class is told of none
			view.Classes, err = library.onLadder(view.Ladder, page, t)
		}
		return err
	})
	return view, err
}

// onLadder counts the children of each class on a ladder.
func (l *ladders) onLadder(ladder studio.Ladder, page postgres.LadderPage, t *postgres.Tx) ([]ClassOnLadder, error) {
	var children []uuid.UUID
	for _, c := range page.Classes {
		children = append(children, c.Children...)
	}
	boards, err := l.boardsOf(children, page.Marks, t)
	if err != nil {
		return nil, err
	}
	var classes []ClassOnLadder
	for _, c := range page.Classes {
		if len(c.Children) == 0 {
			continue
		}
		on := ClassOnLadder{ID: c.ID, Name: c.Name, Children: len(c.Children)}
		for _, r := range ladder.Rungs {
			count := RungCount{Key: r.Key, Name: r.Name}
			for _, child := range c.Children {
				s, _ := boards[child].On(r.Key) // the graph is made of these rungs
				count.add(s.State)
			}
			on.Rungs = append(on.Rungs, count)
		}
		classes = append(classes, on)
	}
	return classes, nil
}

func (c *RungCount) add(s standing.State) {
	switch s {
	case standing.Waiting:
		c.Waiting++
	case standing.Open:
		c.Open++
	case standing.Working:
		c.Working++
	case standing.Secure:
		c.Secure++
	case standing.Recheck:
		c.Recheck++
	}
}
