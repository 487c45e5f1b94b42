package app

import (
	"context"

	"github.com/google/uuid"
	"rungbook/internal/postgres"
	"rungbook/internal/studio"
)

// TermRecord is a term with its holidays and classes.
type TermRecord struct {
	studio.Term
	Holidays []studio.Holiday
	Classes  []studio.Class
	Day      Day
}

// Terms lists the terms, the newest first, each with its holidays and classes.
func (a *App) Terms(ctx context.Context, actor studio.Actor) ([]TermRecord, error) {
	var records []TermRecord
	err := a.within(ctx, actor, studio.KeepClasses, func(t *postgres.Tx) error {
		terms, err := t.Terms(ctx)
		if err != nil {
			return err
		}
		for _, term := range terms {
			r, err := termRecord(ctx, t, term)
			if err != nil {
				return err
			}
			records = append(records, r)
		}
		return nil
	})
	return records, err
}

// Term reads one term.
func (a *App) Term(ctx context.Context, actor studio.Actor, id uuid.UUID) (TermRecord, error) {
	var r TermRecord
	err := a.within(ctx, actor, studio.KeepClasses, func(t *postgres.Tx) error {
		term, err := t.Term(ctx, id)
		if err != nil {
			return err
		}
		r, err = termRecord(ctx, t, term)
		return err
	})
	return r, err
}

func termRecord(ctx context.Context, t *postgres.Tx, term studio.Term) (TermRecord, error) {
	r := TermRecord{Term: term, Day: t.Day()}
	var err error
	if r.Holidays, err = t.Holidays(ctx, term.ID); err != nil {
		return r, err
	}
	r.Classes, err = t.Classes(ctx, term.ID)
	return r, err
}

// AddTerm writes a new term with its holidays and returns its id.
func (a *App) AddTerm(ctx context.Context, actor studio.Actor, term studio.Term, holidays []studio.Holiday) (uuid.UUID, error) {
	var id uuid.UUID
	err := a.within(ctx, actor, studio.KeepClasses, func(t *postgres.Tx) error {
		if err := studio.Refuse("Nothing was saved.", termProblems(term, holidays)); err != nil {
			return err
		}
		var err error
		if id, err = t.AddTerm(ctx, term); err != nil {
			return err
		}
		if err := t.SetHolidays(ctx, id, holidays); err != nil {
			return err
		}
		return t.Audit(ctx, "added a term", "term "+id.String(), nil)
	})
	return id, err
}

// SaveTerm changes a term and makes these its holidays, and no others. Lessons stay until the calendar of a class is made anew.
func (a *App) SaveTerm(ctx context.Context, actor studio.Actor, term studio.Term, holidays []studio.Holiday) error {
	return a.within(ctx, actor, studio.KeepClasses, func(t *postgres.Tx) error {
		if err := studio.Refuse("Nothing was saved.", termProblems(term, holidays)); err != nil {
			return err
		}
		if err := t.SaveTerm(ctx, term); err != nil {
			return err
		}
		if err := t.SetHolidays(ctx, term.ID, holidays); err != nil {
			return err
		}
		return t.Audit(ctx, "changed a term", "term "+term.ID.String(), nil)
	})
}

func termProblems(term studio.Term, holidays []studio.Holiday) []studio.FieldError {
	problems := term.Validate()
	if len(problems) > 0 {
		return problems
	}
	for _, h := range holidays {
		for _, p := range h.Validate(term) {
			problems = append(problems, studio.FieldError{Field: "holidays", Problem: h.Name + ": " + p.Problem})
		}
	}
	return problems
}

// DeleteTerm removes a term without classes.
func (a *App) DeleteTerm(ctx context.Context, actor studio.Actor, id uuid.UUID) error {
	return a.within(ctx, actor, studio.KeepClasses, func(t *postgres.Tx) error {
		if err := t.DeleteTerm(ctx, id); err != nil {
			return err
		}
		return t.Audit(ctx, "removed a term", "term "+id.String(), nil)
	})
}
