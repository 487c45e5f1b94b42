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
	Next    []LessonLine
}

// HomeDrill is a drill to do at home, as a parent reads it.
type HomeDrill struct {
	Name     string
	Figure   []string // names of poses
	Steps    []string
	Dose     string
	Space    string
	Caution  string
	Safe     string // why it is safe alone
	Adult    bool
	Why      string
	Until    time.Time
	OnHold   string // what a care limit says instead
	TwoSided bool
}

// NextRung is what comes next on a ladder.
type NextRung struct {
	Ladder, Name string
	Look         []string
	Begun        bool
}

// FamilyView is one's own child: drills, ladders and lessons, without anything that staff keep to themselves.
type FamilyView struct {
	ID      uuid.UUID
	Name    string
	Limits  []string
	Drills  []HomeDrill
	Ladders []LadderStand
	Next    []NextRung
	Lessons []LessonLine
	Reports []SorenessLine
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

// FamilyChildOf shows one of the actor's own children.
func (a *App) FamilyChildOf(ctx context.Context, actor studio.Actor, child uuid.UUID) (FamilyView, error) {
	var view FamilyView
	err := a.db.InTx(ctx, actor, func(t *postgres.Tx) error {
		if err := a.may(ctx, t, studio.SeeHome, Target{Child: child}); err != nil {
			return err
		}
		head, err := childHead(ctx, t, child)
		if err != nil {
			return err
		}
		view.ID, view.Name, view.Limits = head.ID, head.GivenName, head.Limits
		library, err := readLadders(ctx, t)
		if err != nil {
			return err
		}
		if err := view.addLadders(ctx, t, library); err != nil {
			return err
		}
		if view.Drills, err = homeDrills(ctx, t, library, child); err != nil {
			return err
		}
		if view.Reports, err = sorenessLines(ctx, t, child); err != nil {
			return err
		}
		view.Lessons, err = nextLessons(ctx, t, child)
		return err
	})
	return view, err
}

// addLadders takes the ladders that were begun, with their states in plain words instead of the staff's reasons.
func (v *FamilyView) addLadders(ctx context.Context, t *postgres.Tx, library *ladders) error {
	boards, err := library.boards(ctx, t, []uuid.UUID{v.ID})
	if err != nil {
		return err
	}
	for _, l := range library.stands(boards[v.ID]) {
		if !l.Begun() {
			continue
		}
		for i := range l.Rungs {
			l.Rungs[i].Reason, l.Rungs[i].Numbers = "", ""
		}
		v.Ladders = append(v.Ladders, l)
		if next := l.Next(); next != nil {
			v.Next = append(v.Next, NextRung{Ladder: l.Name, Name: next.Name, Look: library.rungs[next.Key].Look, Begun: next.Evidence != ""})
		}
	}
	return nil
}

// homeDrills are the drills at home today; one that a care limit forbids is on hold.
func homeDrills(ctx context.Context, t *postgres.Tx, library *ladders, child uuid.UUID) ([]HomeDrill, error) {
	given, err := t.HomeAssignmentsOf(ctx, child)
	if err != nil {
		return nil, err
	}
	limits, err := openLimits(ctx, t, child)
	var drills []HomeDrill
	for _, g := range given {
		if !outOn(g, t.Today) {
			continue
		}
		d := library.drills[g.DrillKey]
		drills = append(drills, HomeDrill{Name: d.Name, Figure: d.Figure, Steps: d.Steps, Dose: DoseWords(g.Dose, d.TwoSided, t.Settings.HomeDays), Space: d.Space, Caution: d.Caution,
			Safe: d.Home.Reason, Adult: d.Home.Adult, Why: g.Why, Until: g.UntilOn, OnHold: onHold(d, limits, t.Today), TwoSided: d.TwoSided})
	}
	return drills, err
}
