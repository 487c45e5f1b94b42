package app

import (
	"context"
	"slices"
	"time"

	"github.com/google/uuid"
	"rungbook/internal/postgres"
	"rungbook/internal/studio"
	"rungbook/internal/words"
)

// FamilyChild is one's own child in a list.
type FamilyChild struct {
	ID      uuid.UUID
	Name    string
	Classes []string
	Limits  []HomeLimit
	Drills  int // at home today
	Fresh   int // messages that the actor has not opened
	Next    []LessonLine
	// Language is the tag of the studio's own words.
	Language string
}

// HomeLimit is a care limit as a parent reads it. Own says that the text is the studio's own, in its own language.
type HomeLimit struct {
	Text string
	Own  bool
}

func homeLimit(b *words.Book, l studio.CareLimit) HomeLimit {
	if l.Action == reportedAction(nil, l) {
		return HomeLimit{Text: reportedAction(b, l)}
	}
	return HomeLimit{Text: l.Action, Own: true}
}

func homeLimitsOf(b *words.Book, limits []studio.CareLimit) []HomeLimit {
	var out []HomeLimit
	for _, l := range limits {
		out = append(out, homeLimit(b, l))
	}
	return out
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
	child := FamilyChild{ID: p.ID, Name: p.GivenName, Classes: p.ClassNames, Language: t.Settings.Language}
	limits, err := limitsInForce(ctx, t, []uuid.UUID{p.ID})
	if err != nil {
		return child, err
	}
	child.Limits = homeLimitsOf(words.Of(ctx), limits[p.ID])
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
