package app

import (
	"context"
	"slices"
	"time"

	"github.com/google/uuid"
	"rungbook/internal/engine/standing"
	"rungbook/internal/postgres"
	"rungbook/internal/report"
	"rungbook/internal/studio"
)

// ReportClass is a class in the list of reports, with what its report would rest on.
type ReportClass struct {
	ID       uuid.UUID
	Name     string
	When     string
	Children int
	Lessons  int // held so far
	Turns    int // marked in its lessons
}

// ReportTerm is a term with its classes through the week.
type ReportTerm struct {
	Name     string
	From, To time.Time
	Over     bool
	Classes  []ReportClass
}

// ReportView is the term report of a class as its preview shows it. AsOf is the day up to which marks count: today, or the last day
// of a term that is over.
type ReportView struct {
	ClassID     uuid.UUID
	Class, Term string
	From, To    time.Time
	AsOf        time.Time
	Children    []ReportChild
}

// ReportChild is what the report says of one child, rungs by name. Attended is of Noted lessons; for Unnoted more, nobody said whether
// the child was there. Turns were marked within the term; Few of them make it a first impression.
type ReportChild struct {
	ID                                uuid.UUID
	Name                              string
	Attended, Noted, Unnoted          int
	Turns                             int
	Few                               bool
	Secured, Working, Recheck, Coming []string
	AtHome                            int
	Note                              string                 // from the teacher to the parents
	LeftOn                            *time.Time             // the last day in the class, when that is before AsOf
	Released                          *studio.ReleasedReport // what the family may read, nil for nothing
}

// Reports lists the actor's classes by term, the latest term first.
func (a *App) Reports(ctx context.Context, actor studio.Actor) ([]ReportTerm, error) {
	var terms []ReportTerm
	err := a.db.InTx(ctx, actor, func(t *postgres.Tx) error {
		if err := a.offered(t, studio.SeeReports); err != nil {
			return err
		}
		cards, err := t.ReportCards(ctx)
		terms = reportTerms(cards, t.Today)
		return err
	})
	return terms, err
}

func reportTerms(cards []postgres.ReportCard, today time.Time) []ReportTerm {
	var terms []ReportTerm
	for i, c := range cards {
		if i == 0 || cards[i-1].TermID != c.TermID {
			terms = append(terms, ReportTerm{Name: c.TermName, From: c.StartsOn, To: c.EndsOn, Over: c.EndsOn.Before(today)})
		}
		last := &terms[len(terms)-1]
		last.Classes = append(last.Classes, ReportClass{ID: c.ID, Name: c.Name, When: c.Weekday.String() + " " + c.StartsAt,
			Children: c.Children, Lessons: c.Lessons, Turns: c.Turns})
	}
	return terms
}

// ReportOf is what the term report of a class would say now.
func (a *App) ReportOf(ctx context.Context, actor studio.Actor, class uuid.UUID) (ReportView, error) {
	var view ReportView
	err := a.db.InTx(ctx, actor, func(t *postgres.Tx) error {
		if err := a.may(ctx, t, studio.SeeReports, Target{Class: class}); err != nil {
			return err
		}
		r, err := a.readReport(ctx, t, class, uuid.Nil)
		if err != nil {
			return err
		}
		view = r.view()
		released, err := t.ReleasesOfClass(ctx, class)
		for i := range released {
			if at := slices.IndexFunc(view.Children, func(c ReportChild) bool { return c.ID == released[i].ChildID }); at >= 0 {
				view.Children[at].Released = &released[i]
			}
		}
		return err
	})
	return view, err
}

// classReport is a term report with the rows that it was made from: Children[i] of the report is that of the i-th enrolment.
type classReport struct {
	report.TermReport
	class      studio.Class
	enrolments []studio.Enrolment
	asOf       time.Time
}

// readReport makes the term report of a class, or of one child of it; the child must have been in the class in the term.
func (a *App) readReport(ctx context.Context, t *postgres.Tx, class, only uuid.UUID) (classReport, error) {
	r := classReport{}
	var err error
	if r.class, err = t.Class(ctx, class); err != nil {
		return r, err
	}
	term, err := t.Term(ctx, r.class.TermID)
	if err != nil {
		return r, err
	}
	r.asOf = earlier(t.Today, term.EndsOn)
	r.TermReport = report.TermReport{Studio: a.settings.StudioName, Class: r.class.Name, Term: term.Name, From: term.StartsOn, To: term.EndsOn,
		Prepared: t.Today, Cautions: report.UsualCautions()}
	all, err := t.EnrolmentsOfClass(ctx, class)
	if err != nil {
		return r, err
	}
	r.enrolments = slices.DeleteFunc(all, func(e studio.Enrolment) bool { return !within(e, term) || only != uuid.Nil && e.ChildID != only })
	if only != uuid.Nil && len(r.enrolments) == 0 {
		return r, studio.Missing()
	}
	book, err := readTermBook(ctx, t, r.class, term.StartsOn, r.asOf, r.ids())
	if err != nil {
		return r, err
	}
	notes, err := t.ReportNotes(ctx, class)
	if err != nil {
		return r, err
	}
	for _, e := range r.enrolments {
		child, err := book.child(e)
		if err != nil {
			return r, err
		}
		if i := slices.IndexFunc(notes, func(n studio.ReportNote) bool { return n.ChildID == e.ChildID }); i >= 0 {
			child.Note = notes[i].Note
		}
		r.Children = append(r.Children, child)
	}
	return r, nil
}

// within reports whether a child was in the class on any day of the term.
func within(e studio.Enrolment, term studio.Term) bool {
	return !e.FromOn.After(term.EndsOn) && (e.UntilOn == nil || !e.UntilOn.Before(term.StartsOn))
}

func earlier(x, y time.Time) time.Time {
	if y.Before(x) {
		return y
	}
	return x
}

func (r classReport) ids() []uuid.UUID {
	ids := make([]uuid.UUID, len(r.enrolments))
	for i, e := range r.enrolments {
		ids[i] = e.ChildID
	}
	return ids
}

func (r classReport) view() ReportView {
	v := ReportView{ClassID: r.class.ID, Class: r.Class, Term: r.Term, From: r.From, To: r.To, AsOf: r.asOf}
	for i, c := range r.Children {
		e := r.enrolments[i]
		line := ReportChild{ID: e.ChildID, Name: c.Name, Attended: c.Attended, Noted: c.Lessons, Unnoted: c.Unnoted, Turns: c.Turns(), AtHome: len(c.HomeDrills), Note: c.Note,
			Secured: eachName(c.Secured, func(s report.Secured) string { return s.Rung }),
			Working: eachName(c.Working, func(w report.Working) string { return w.Rung }),
			Recheck: eachName(c.Recheck, func(r report.Recheck) string { return r.Rung }),
			Coming:  eachName(c.Next, func(n report.Next) string { return n.Rung })}
		line.Few = line.Turns < standing.Defaults().Few
		if e.UntilOn != nil && e.UntilOn.Before(r.asOf) {
			line.LeftOn = e.UntilOn
		}
		v.Children = append(v.Children, line)
	}
	return v
}

func eachName[T any](all []T, name func(T) string) []string {
	var names []string
	for _, v := range all {
		names = append(names, name(v))
	}
	return names
}
