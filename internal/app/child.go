package app

import (
	"context"
	"fmt"

	"github.com/google/uuid"
	"rungbook/internal/postgres"
	"rungbook/internal/studio"
)

// ChildRecord is a child with its classes and guardians, as the owner keeps it.
type ChildRecord struct {
	studio.ChildDetail
	Classes   []studio.Enrolment
	Guardians []studio.Guardian
	Alike     []string // sentences about children of the same class whose names look alike
	Day       Day
}

// ChildRecord reads one child's record.
func (a *App) ChildRecord(ctx context.Context, actor studio.Actor, id uuid.UUID) (ChildRecord, error) {
	var r ChildRecord
	err := a.within(ctx, actor, studio.KeepPeople, func(t *postgres.Tx) error {
		var err error
		r.Day = t.Day()
		if r.ChildDetail, err = t.ChildDetail(ctx, id); err != nil {
			return err
		}
		if r.Classes, err = t.EnrolmentsOfChild(ctx, id); err != nil {
			return err
		}
		if r.Guardians, err = t.GuardiansOfChild(ctx, id); err != nil {
			return err
		}
		r.Alike, err = alikeBeside(ctx, t, r)
		return err
	})
	return r, err
}

// alikeBeside names the children who share a class with this one today and look alike.
func alikeBeside(ctx context.Context, t *postgres.Tx, r ChildRecord) ([]string, error) {
	var classes []uuid.UUID
	for _, e := range r.Classes {
		if e.HoldsOn(t.Today) {
			classes = append(classes, e.ClassID)
		}
	}
	others, err := t.EnrolmentsIn(ctx, classes)
	if err != nil {
		return nil, err
	}
	var words []string
	for _, e := range others {
		if e.ChildID != r.ID && e.HoldsOn(t.Today) && studio.LookAlike(r.Child, childOf(e)) {
			words = append(words, fmt.Sprintf("%s is in %s too and looks alike on a class sheet.", childOf(e).ShortName(), e.ClassName))
		}
	}
	return words, nil
}

func childOf(e studio.Enrolment) studio.Child {
	return studio.Child{ID: e.ChildID, GivenName: e.GivenName, Initial: e.Initial}
}

// AddChild writes a new child and returns its id.
func (a *App) AddChild(ctx context.Context, actor studio.Actor, c studio.ChildDetail) (uuid.UUID, error) {
	c = c.Tidy()
	c.ID = uuid.New()
	err := a.within(ctx, actor, studio.KeepPeople, func(t *postgres.Tx) error {
		if c.JoinedOn.IsZero() {
			c.JoinedOn = t.Today
		}
		if err := studio.Refuse("Nothing was saved.", c.Validate(t.Today)); err != nil {
			return err
		}
		if err := t.AddChildren(ctx, []studio.ChildDetail{c}); err != nil {
			return err
		}
		return t.Audit(ctx, "added a child", "child "+c.ID.String(), nil)
	})
	return c.ID, err
}

// SaveChild changes a child's record.
func (a *App) SaveChild(ctx context.Context, actor studio.Actor, c studio.ChildDetail) error {
	c = c.Tidy()
	return a.within(ctx, actor, studio.KeepPeople, func(t *postgres.Tx) error {
		if _, err := t.ChildDetail(ctx, c.ID); err != nil {
			return err
		}
		if err := studio.Refuse("Nothing was saved.", c.Validate(t.Today)); err != nil {
			return err
		}
		if err := t.SaveChildren(ctx, []studio.ChildDetail{c}); err != nil {
			return err
		}
		return t.Audit(ctx, "changed a child's record", "child "+c.ID.String(), nil)
	})
}
