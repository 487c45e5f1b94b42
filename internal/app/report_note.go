package app

import (
	"context"

	"github.com/google/uuid"
	"rungbook/internal/postgres"
	"rungbook/internal/studio"
)

// WriteReportNote keeps what the teacher writes to the parents of a child in the term report of a class; an empty note takes away what
// was there. A report that was released stays as it was until it is released anew.
func (a *App) WriteReportNote(ctx context.Context, actor studio.Actor, note studio.ReportNote) error {
	return a.db.InTx(ctx, actor, func(t *postgres.Tx) error {
		if err := a.may(ctx, t, studio.WriteReport, Target{Class: note.ClassID}); err != nil {
			return err
		}
		inIt, err := childrenOfTerm(ctx, t, note.ClassID)
		if err != nil {
			return err
		}
		if !inIt[note.ChildID] {
			return studio.Missing()
		}
		if note.Note != "" {
			if err := studio.Refuse("Nothing was saved.", note.Validate()); err != nil {
				return err
			}
		}
		if err := t.SaveReportNote(ctx, note); err != nil {
			return err
		}
		return t.Audit(ctx, "wrote a note in a term report", "child "+note.ChildID.String(), map[string]any{"class": note.ClassID})
	})
}

// childrenOfTerm are the children who were in a class on any day of its term.
func childrenOfTerm(ctx context.Context, t *postgres.Tx, class uuid.UUID) (map[uuid.UUID]bool, error) {
	c, err := t.Class(ctx, class)
	if err != nil {
		return nil, err
	}
	term, err := t.Term(ctx, c.TermID)
	if err != nil {
		return nil, err
	}
	enrolments, err := t.EnrolmentsOfClass(ctx, class)
	in := map[uuid.UUID]bool{}
	for _, e := range enrolments {
		in[e.ChildID] = in[e.ChildID] || within(e, term)
	}
	return in, err
}
