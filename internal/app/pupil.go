package app

import (
	"context"
	"fmt"
	"time"

	"github.com/google/uuid"
	"rungbook/internal/engine/standing"
	"rungbook/internal/postgres"
	"rungbook/internal/studio"
)

// PupilLine is a child in a teacher's list.
type PupilLine struct {
	ID      uuid.UUID
	Name    string
	Age     int
	Classes []string
	Limits  []string // what not to do for now
}

// ClassRef names a class.
type ClassRef struct {
	ID   uuid.UUID
	Name string
}

// ChildHead is what every page about a child begins with.
type ChildHead struct {
	ID        uuid.UUID
	Name      string
	GivenName string
	Age       int
	Classes   []ClassRef
	Limits    []string // what not to do for now
}

// Attended is a lesson at which a child was noted as there or not.
type Attended struct {
	LessonID uuid.UUID
	Class    string
	StartsAt time.Time
	Present  bool
}

// ChildView is where a child stands.
type ChildView struct {
	ChildHead
	Ladders    []LadderStand
	Attendance []Attended // latest first
}

// AttendedWords is "9 of 10 lessons", or "" before any.
func (v ChildView) AttendedWords() string {
	if len(v.Attendance) == 0 {
		return ""
	}
	there := 0
	for _, a := range v.Attendance {
		if a.Present {
			there++
		}
	}
	return fmt.Sprintf("%d of %s", there, countOf(len(v.Attendance), "lesson"))
}

// ChildrenTaken lists the children in the actor's classes (all of an owner's) whose name holds a text.
func (a *App) ChildrenTaken(ctx context.Context, actor studio.Actor, search string) ([]PupilLine, error) {
	var lines []PupilLine
	err := a.db.InTx(ctx, actor, func(t *postgres.Tx) error {
		if err := a.offered(t, studio.SeeChild); err != nil {
			return err
		}
		pupils, err := t.Pupils(ctx, search)
		if err != nil {
			return err
		}
		lines, err = pupilLines(ctx, t, pupils)
		return err
	})
	return lines, err
}

func pupilLines(ctx context.Context, t *postgres.Tx, pupils []postgres.Pupil) ([]PupilLine, error) {
	limits, err := limitsInForce(ctx, t, idsOf(pupils))
	var lines []PupilLine
	for _, p := range pupils {
		lines = append(lines, PupilLine{ID: p.ID, Name: p.FullName(), Age: studio.AgeOn(p.BirthDate, t.Today), Classes: p.ClassNames, Limits: mindful(limits[p.ID], t.Today)})
	}
	return lines, err
}

func idsOf(pupils []postgres.Pupil) []uuid.UUID {
	ids := make([]uuid.UUID, len(pupils))
	for i, p := range pupils {
		ids[i] = p.ID
	}
	return ids
}

// ChildOf shows where a child stands on every ladder.
func (a *App) ChildOf(ctx context.Context, actor studio.Actor, child uuid.UUID) (ChildView, error) {
	var view ChildView
	err := a.db.InTx(ctx, actor, func(t *postgres.Tx) error {
		page, err := t.ChildPage(ctx, child)
		if err != nil {
			return err
		}
		if view.ChildHead, err = a.headFor(ctx, t, studio.SeeChild, page.ChildFacts); err != nil {
			return err
		}
		view.Attendance = attended(page.Attendance)
		view.Ladders, err = childStands(page, t)
		return err
	})
	return view, err
}

// headFor asks the policy about a child whose page was read in one round trip, and begins the page. Such a read is the one that comes
// before the policy is asked: row-level security guards it, and nothing of it leaves before the policy has agreed.
func (a *App) headFor(ctx context.Context, t *postgres.Tx, action studio.Action, facts postgres.ChildFacts) (ChildHead, error) {
	if err := a.may(ctx, t, action, Target{Child: facts.Pupil.ID, Enrolled: facts.Classes}); err != nil {
		return ChildHead{}, err
	}
	return headOf(facts.Pupil, facts.Limits, t.Today), nil
}

// AheadView is what is ahead of a child.
type AheadView struct {
	ChildHead
	Forecast ChildForecast
}

// AheadOf shows how likely each rung that a child may work at is secure by the showcase or the end of the term.
func (a *App) AheadOf(ctx context.Context, actor studio.Actor, child uuid.UUID) (AheadView, error) {
	var view AheadView
	err := a.db.InTx(ctx, actor, func(t *postgres.Tx) error {
		page, err := t.AheadPage(ctx, child)
		if err != nil {
			return err
		}
		if view.ChildHead, err = a.headFor(ctx, t, studio.SeeChild, page.ChildFacts); err != nil {
			return err
		}
		library, err := laddersOf(page.Library, t)
		if err != nil {
			return err
		}
		boards, err := library.boardsOf([]uuid.UUID{child}, page.Marks, t)
		if err != nil {
			return err
		}
		view.Forecast, err = library.forecast(page, boards[child])
		return err
	})
	return view, err
}

func childHead(ctx context.Context, t *postgres.Tx, child uuid.UUID) (ChildHead, error) {
	p, err := t.Pupil(ctx, child)
	if err != nil {
		return ChildHead{}, err
	}
	limits, err := t.CareLimitsOf(ctx, []uuid.UUID{child})
	return headOf(p, limits, t.Today), err
}

func headOf(p postgres.Pupil, limits []postgres.KeptLimit, today time.Time) ChildHead {
	head := ChildHead{ID: p.ID, Name: p.FullName(), GivenName: p.GivenName, Age: studio.AgeOn(p.BirthDate, today), Limits: mindful(holding(limits, today)[p.ID], today)}
	for i, id := range p.ClassIDs {
		head.Classes = append(head.Classes, ClassRef{ID: id, Name: p.ClassNames[i]})
	}
	return head
}

// childStands is where a child stands on every ladder, with what to correct at each rung that was begun.
func childStands(page postgres.ChildPage, t *postgres.Tx) ([]LadderStand, error) {
	library, err := laddersOf(page.Library, t)
	if err != nil {
		return nil, err
	}
	child, marks := page.Pupil.ID, page.Marks
	boards, err := library.boardsOf([]uuid.UUID{child}, marks, t)
	if err != nil {
		return nil, err
	}
	stands := library.stands(boards[child])
	for _, l := range stands {
		for i, r := range l.Rungs {
			if r.State == string(standing.Secure) {
				continue
			}
			if l.Rungs[i].Corrections, err = library.corrections(r.Key, at(marks, child, r.Key)); err != nil {
				return nil, err
			}
		}
	}
	return stands, nil
}

func attended(rows []postgres.Attended) []Attended {
	var all []Attended
	for _, r := range rows {
		all = append(all, Attended{LessonID: r.LessonID, Class: r.ClassName, StartsAt: inZone(r.StartsAt, r.TimeZone), Present: r.Present})
	}
	return all
}
