package app

import (
	"context"
	"slices"
	"time"

	"github.com/google/uuid"
	"rungbook/internal/postgres"
	"rungbook/internal/studio"
)

// FamilyChild is one's own child in a list.
type FamilyChild struct {
	ID      uuid.UUID
	Name    string
	Classes []string
	Limits  []string
	Drills  int // at home today
	Fresh   int // messages that the actor has not opened
	Next    []LessonLine
}

// Family lists the actor's own children.
func (a *App) Family(ctx context.Context, actor studio.Actor) ([]FamilyChild, error) {
	var family []FamilyChild
	err := a.db.InTx(ctx, actor, func(t *postgres.Tx) error {
		if err := a.offered(t, studio.SeeHome); err != nil {
			return err
		}
		children, err := t.OwnChildren(ctx)
		if err != nil {
			return err
		}
		for _, c := range children {
			child, err := familyChild(ctx, t, c)
			if err != nil {
				return err
			}
			family = append(family, child)
		}
		return nil
	})
	return family, err
}

func familyChild(ctx context.Context, t *postgres.Tx, p postgres.Pupil) (FamilyChild, error) {
	child := FamilyChild{ID: p.ID, Name: p.GivenName, Classes: p.ClassNames}
	limits, err := limitsInForce(ctx, t, []uuid.UUID{p.ID})
	if err != nil {
		return child, err
	}
	child.Limits = actions(limits[p.ID])
	given, err := t.HomeAssignmentsOf(ctx, p.ID)
	if err != nil {
		return child, err
	}
	for _, g := range given {
		if outOn(g, t.Today) {
			child.Drills++
		}
	}
	messages, err := t.MessagesFor(ctx, p.ID)
	if err != nil {
		return child, err
	}
	child.Fresh = fresh(messages)
	child.Next, err = nextLessons(ctx, t, p.ID)
	return child, err
}

func outOn(g studio.HomeAssignment, day time.Time) bool {
	return g.WithdrawnAt == nil && !day.Before(g.FromOn) && !day.After(g.UntilOn)
}

func nextLessons(ctx context.Context, t *postgres.Tx, child uuid.UUID) ([]LessonLine, error) {
	rows, err := t.NextLessonsOf(ctx, child)
	var lines []LessonLine
	for _, l := range rows {
		lines = append(lines, lessonLine(l))
	}
	slices.SortFunc(lines, func(x, y LessonLine) int { return x.StartsAt.Compare(y.StartsAt) })
	return lines, err
}
