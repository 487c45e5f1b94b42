package app

import (
	"context"
	"slices"
	"time"

	"github.com/google/uuid"
	"rungbook/internal/postgres"
	"rungbook/internal/studio"
)

// ClassRecord is a class as the owner keeps it.
type ClassRecord struct {
	studio.Class
	Term       studio.Term
	Staff      []studio.ClassStaff
	Enrolments []studio.Enrolment
	Lessons    []postgres.CalendarLesson
	Alike      [][2]studio.Enrolment // children in the class today who look alike
	AllStaff   []studio.StaffDetail  // to choose from
	AllNames   []studio.ChildDetail  // to choose from
	Ladders    []studio.Ladder
	Day        Day
}

// TaughtOn reports whether somebody takes the class on a day.
func (r ClassRecord) TaughtOn(day time.Time) bool {
	return slices.ContainsFunc(r.Staff, func(s studio.ClassStaff) bool { return s.Duty == studio.TeacherDuty && s.HoldsOn(day) })
}

// ClassRecords lists the classes of every term, the newest term first, without their lessons.
func (a *App) ClassRecords(ctx context.Context, actor studio.Actor) ([]ClassRecord, error) {
	var records []ClassRecord
	err := a.within(ctx, actor, studio.KeepClasses, func(t *postgres.Tx) error {
		var err error
		records, err = classRecords(ctx, t)
		return err
	})
	return records, err
}

func classRecords(ctx context.Context, t *postgres.Tx) ([]ClassRecord, error) {
	classes, err := t.Classes(ctx, uuid.Nil)
	if err != nil {
		return nil, err
	}
	terms, err := t.Terms(ctx)
	if err != nil {
		return nil, err
	}
	records, ids, at := make([]ClassRecord, len(classes)), make([]uuid.UUID, len(classes)), map[uuid.UUID]*ClassRecord{}
	for i, c := range classes {
		records[i] = ClassRecord{Class: c, Term: termOf(terms, c.TermID), Day: t.Day()}
		ids[i], at[c.ID] = c.ID, &records[i]
	}
	staff, err := t.StaffOfClasses(ctx, ids)
	if err != nil {
		return nil, err
	}
	for _, s := range staff {
		at[s.ClassID].Staff = append(at[s.ClassID].Staff, s)
	}
	enrolments, err := t.EnrolmentsIn(ctx, ids)
	if err != nil {
		return nil, err
	}
	for _, e := range enrolments {
		at[e.ClassID].Enrolments = append(at[e.ClassID].Enrolments, e)
	}
	return records, nil
}

func termOf(terms []studio.Term, id uuid.UUID) studio.Term {
	for _, t := range terms {
		if t.ID == id {
			return t
		}
	}
	return studio.Term{}
}

// ClassRecord reads one class with all that its page chooses from.
func (a *App) ClassRecord(ctx context.Context, actor studio.Actor, id uuid.UUID) (ClassRecord, error) {
	var r ClassRecord
	err := a.within(ctx, actor, studio.KeepClasses, func(t *postgres.Tx) error {
		var err error
		r.Day = t.Day()
		if r.Class, err = t.Class(ctx, id); err != nil {
			return err
		}
		return r.fill(ctx, t)
	})
	return r, err
}

func (r *ClassRecord) fill(ctx context.Context, t *postgres.Tx) error {
	var err error
	if r.Term, err = t.Term(ctx, r.TermID); err != nil {
		return err
	}
	if r.Staff, err = t.ClassStaff(ctx, r.ID); err != nil {
		return err
	}
	if r.Enrolments, err = t.EnrolmentsOfClass(ctx, r.ID); err != nil {
		return err
	}
	if r.Lessons, err = t.CalendarOf(ctx, r.ID); err != nil {
		return err
	}
	if r.AllStaff, err = t.StaffDetails(ctx); err != nil {
		return err
	}
	if r.AllNames, err = t.ChildDetails(ctx); err != nil {
		return err
	}
	library, err := t.Library(ctx)
	r.Ladders, r.Alike = library.Ladders, alikeIn(r.Enrolments, t.Today)
	return err
}

// alikeIn pairs the children enrolled on a day who look alike.
func alikeIn(enrolments []studio.Enrolment, day time.Time) [][2]studio.Enrolment {
	var here []studio.Enrolment
	var children []studio.Child
	for _, e := range enrolments {
		if e.HoldsOn(day) || e.FromOn.After(day) {
			here, children = append(here, e), append(children, childOf(e))
		}
	}
	var pairs [][2]studio.Enrolment
	for _, p := range studio.Twins(children) {
		pairs = append(pairs, [2]studio.Enrolment{here[p[0]], here[p[1]]})
	}
	return pairs
}

// NewClass is a class with the usual settings, to start a form or a test from. Weekday and time are left to say.
func (a *App) NewClass() studio.Class {
	return studio.Class{Minutes: 60, TimeZone: a.settings.TimeZone, Places: 16, Rotations: 3, Groups: 3, TurnFloor: 6, MaxActivities: 2}
}

// AddClass writes a new class and returns its id; its lessons are made by MakeLessons.
func (a *App) AddClass(ctx context.Context, actor studio.Actor, c studio.Class) (uuid.UUID, error) {
	var id uuid.UUID
	err := a.within(ctx, actor, studio.KeepClasses, func(t *postgres.Tx) error {
		if err := studio.Refuse("Nothing was saved.", c.Validate()); err != nil {
			return err
		}
		if _, err := t.Term(ctx, c.TermID); err != nil {
			return err
		}
		var err error
		if id, err = t.AddClass(ctx, c); err != nil {
			return err
		}
		return t.Audit(ctx, "added a class", "class "+id.String(), nil)
	})
	return id, err
}

// SaveClass changes a class; its term stays. Lessons follow when MakeLessons is next asked.
func (a *App) SaveClass(ctx context.Context, actor studio.Actor, c studio.Class) error {
	return a.within(ctx, actor, studio.KeepClasses, func(t *postgres.Tx) error {
		if err := studio.Refuse("Nothing was saved.", c.Validate()); err != nil {
			return err
		}
		if err := t.SaveClass(ctx, c); err != nil {
			return err
		}
		return t.Audit(ctx, "changed a class", "class "+c.ID.String(), nil)
	})
}

// Roster puts somebody on a class from a day until a day; a cover is a single day.
func (a *App) Roster(ctx context.Context, actor studio.Actor, s studio.ClassStaff) error {
	return a.within(ctx, actor, studio.KeepClasses, func(t *postgres.Tx) error {
		if err := studio.Refuse("Nothing was saved.", s.Validate()); err != nil {
			return err
		}
		if _, err := t.Class(ctx, s.ClassID); err != nil {
			return err
		}
		if _, err := t.StaffDetail(ctx, s.StaffID); err != nil {
			return err
		}
		if err := t.AddClassStaff(ctx, s); err != nil {
			return err
		}
		return t.Audit(ctx, "put on a class", "class "+s.ClassID.String(), map[string]any{"staff": s.StaffID, "duty": s.Duty, "from": s.FromOn.Format(time.DateOnly)})
	})
}

// Unroster takes somebody off a class: today is the last day no longer. What was before stays.
func (a *App) Unroster(ctx context.Context, actor studio.Actor, s studio.ClassStaff) error {
	return a.within(ctx, actor, studio.KeepClasses, func(t *postgres.Tx) error {
		if err := t.EndClassStaff(ctx, s, t.Today.AddDate(0, 0, -1)); err != nil {
			return err
		}
		return t.Audit(ctx, "took off a class", "class "+s.ClassID.String(), map[string]any{"staff": s.StaffID, "duty": s.Duty})
	})
}

// Enrol puts children into a class from a day on; those who are there already stay.
func (a *App) Enrol(ctx context.Context, actor studio.Actor, class uuid.UUID, from time.Time, children ...uuid.UUID) error {
	return a.within(ctx, actor, studio.KeepClasses, func(t *postgres.Tx) error {
		if _, err := t.Class(ctx, class); err != nil {
			return err
		}
		var rows []studio.Enrolment
		for _, child := range children {
			if exists, err := t.ChildExists(ctx, child); err != nil || !exists {
				return orMissing(err)
			}
			rows = append(rows, studio.Enrolment{ClassID: class, ChildID: child, FromOn: from})
		}
		if err := t.Enrol(ctx, rows); err != nil {
			return err
		}
		return t.Audit(ctx, "enrolled", "class "+class.String(), map[string]any{"children": children, "from": from.Format(time.DateOnly)})
	})
}

// Unenrol ends a child's time in a class with yesterday. What was before stays.
func (a *App) Unenrol(ctx context.Context, actor studio.Actor, class, child uuid.UUID) error {
	return a.within(ctx, actor, studio.KeepClasses, func(t *postgres.Tx) error {
		if err := t.EndEnrolment(ctx, class, child, t.Today.AddDate(0, 0, -1)); err != nil {
			return err
		}
		return t.Audit(ctx, "ended an enrolment", "class "+class.String(), map[string]any{"child": child})
	})
}
