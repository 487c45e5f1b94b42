package app

import (
	"context"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"
	"time"

	"github.com/google/uuid"
	"rungbook/internal/postgres"
	"rungbook/internal/studio"
)

// RosterResult says what an import did, or what a dry run would do.
type RosterResult struct {
	DryRun    bool
	Rows      int
	Added     int      // children
	Changed   int      // children
	Same      int      // children
	Enrolled  int      // places in classes
	Guardians int      // new guardians of a child
	Accounts  []string // addresses of guardians who have no passphrase yet and need a link
	Warnings  []string
	Problems  []RosterProblem // when there are any, nothing was imported
}

// Counts says in one sentence how much was imported, or would be.
func (r RosterResult) Counts() string {
	start := "Imported: "
	if r.DryRun {
		start = "An import would do this: "
	}
	return start + fmt.Sprintf("%s, of them %d new, %d changed and %d as they were; %s in classes; %s.", childCount(r.Rows),
		r.Added, r.Changed, r.Same, countOf(r.Enrolled, "new place"), countOf(r.Guardians, "new guardian"))
}

// Summary is the whole result as text.
func (r RosterResult) Summary() string {
	lines := []string{r.Counts()}
	if r.DryRun {
		lines = append(lines, "Nothing was changed.")
	}
	if len(r.Accounts) > 0 {
		lines = append(lines, "Guardians without a passphrase, who need a link from Studio, People: "+strings.Join(r.Accounts, ", "))
	}
	return strings.Join(append(lines, r.Warnings...), "\n")
}

func childCount(n int) string {
	if n == 1 {
		return "1 child"
	}
	return fmt.Sprintf("%d children", n)
}

// errDryRun rolls a dry run back.
var errDryRun = errors.New("dry run")

// ImportRoster reads a roster file into the studio, all or nothing; importing the same file again is harmless, since each child is
// known by its ref. Children, classes and guardians that the file does not name are left alone, and so are empty cells. A dry run
// does everything and then takes it back. With problems the error is an Invalid one, and the result names each.
func (a *App) ImportRoster(ctx context.Context, actor studio.Actor, file io.Reader, dryRun bool) (RosterResult, error) {
	result := RosterResult{DryRun: dryRun}
	err := a.within(ctx, actor, studio.ImportRoster, func(t *postgres.Tx) error {
		rows, problems := ReadRoster(file, t.Today)
		result.Problems = problems
		i := rosterImport{t: t, result: &result}
		if err := i.load(ctx, rows); err != nil {
			return err
		}
		i.place(rows)
		if len(result.Problems) > 0 {
			return rosterRefusal(result.Problems)
		}
		if err := i.save(ctx, rows); err != nil {
			return err
		}
		if dryRun {
			return errDryRun
		}
		return t.Audit(ctx, "imported a roster", "roster", map[string]any{"rows": result.Rows, "added": result.Added, "changed": result.Changed})
	})
	if errors.Is(err, errDryRun) {
		err = nil
	}
	return result, err
}

// refusalsShown bounds the problems that an error message carries.
const refusalsShown = 50

func rosterRefusal(problems []RosterProblem) error {
	fields := []studio.FieldError{}
	for _, p := range problems[:min(len(problems), refusalsShown)] {
		fields = append(fields, studio.FieldError{Field: p.Column, Problem: p.String()})
	}
	return studio.Refuse(fmt.Sprintf("Nothing was imported: %s in the file.", countOf(len(problems), "problem")), fields)
}

// rosterImport is an import under way.
type rosterImport struct {
	t         *postgres.Tx
	result    *RosterResult
	children  map[string]studio.ChildDetail // by ref
	strangers map[string]studio.ChildDetail // without the file's ref, by name and birth date
	classes   map[string][]studio.Class     // of terms that are not over, by name in lower case
	terms     []studio.Term
	enrolled  []studio.Enrolment // in those classes
	wanted    []studio.Enrolment
	accounts  map[string]uuid.UUID // by address
}

func (i *rosterImport) load(ctx context.Context, rows []RosterRow) error {
	i.result.Rows = len(rows)
	all, err := i.t.ChildDetails(ctx)
	if err != nil {
		return err
	}
	i.children, i.strangers = map[string]studio.ChildDetail{}, map[string]studio.ChildDetail{}
	for _, c := range all {
		i.strangers[personKey(c)] = c
		if c.RosterRef != "" {
			i.children[c.RosterRef] = c
		}
	}
	if err := i.loadClasses(ctx); err != nil {
		return err
	}
	var emails []string
	for _, r := range rows {
		for _, g := range r.Guardians {
			emails = append(emails, g.Email)
		}
	}
	i.accounts, err = i.t.AccountsByEmail(ctx, emails)
	return err
}

// personKey is how a child without a ref is known again.
func personKey(c studio.ChildDetail) string {
	return strings.ToLower(c.GivenName+"\x00"+c.FamilyName) + c.BirthDate.Format(time.DateOnly)
}

func (i *rosterImport) loadClasses(ctx context.Context) error {
	var err error
	if i.terms, err = i.t.Terms(ctx); err != nil {
		return err
	}
	classes, err := i.t.Classes(ctx, uuid.Nil)
	if err != nil {
		return err
	}
	i.classes = map[string][]studio.Class{}
	var ids []uuid.UUID
	for _, c := range classes {
		if termOf(i.terms, c.TermID).EndsOn.Before(i.t.Today) {
			continue
		}
		name := strings.ToLower(c.Name)
		i.classes[name], ids = append(i.classes[name], c), append(ids, c.ID)
	}
	i.enrolled, err = i.t.EnrolmentsIn(ctx, ids)
	return err
}

// place gives each row its child's id and finds its classes.
func (i *rosterImport) place(rows []RosterRow) {
	for n := range rows {
		row := &rows[n]
		known, isNew := i.known(row)
		row.Child = merged(row.Child, known, i.t.Today)
		switch {
		case isNew:
			i.result.Added++
		case sameChild(row.Child, known):
			i.result.Same++
		default:
			i.result.Changed++
		}
		if row.Child.LeftOn != nil && row.Child.LeftOn.Before(row.Child.JoinedOn) {
			i.refuse(row.Row, "left_on", "Not before the first day, "+row.Child.JoinedOn.Format(time.DateOnly)+".")
		}
		for _, name := range row.Classes {
			i.placeIn(*row, name, isNew)
		}
	}
}

func (i *rosterImport) refuse(row int, column, reason string) {
	i.result.Problems = append(i.result.Problems, RosterProblem{row, column, reason})
}

// known finds the child of a row: by ref, or one typed in by hand that has no ref yet. A new child comes back with only an id.
func (i *rosterImport) known(row *RosterRow) (child studio.ChildDetail, isNew bool) {
	if c, ok := i.children[row.Child.RosterRef]; ok {
		return c, false
	}
	other, ok := i.strangers[personKey(row.Child)]
	if ok && other.RosterRef == "" {
		return other, false
	}
	if ok {
		i.result.Warnings = append(i.result.Warnings, fmt.Sprintf("Row %d: %s is there already with the same birth date under the number %s. Check whether it is the same child.",
			row.Row, row.Child.FullName(), other.RosterRef))
	}
	return studio.ChildDetail{Child: studio.Child{ID: uuid.New()}}, true
}

// merged is the child as the file has it, with what is known where the file says nothing.
func merged(file, known studio.ChildDetail, today time.Time) studio.ChildDetail {
	file.ID = known.ID
	if file.Contact == "" {
		file.Contact = known.Contact
	}
	if file.LeftOn == nil {
		file.LeftOn = known.LeftOn
	}
	if file.JoinedOn.IsZero() {
		file.JoinedOn = known.JoinedOn
	}
	if file.JoinedOn.IsZero() {
		file.JoinedOn = today
		if file.LeftOn != nil && file.LeftOn.Before(today) {
			file.JoinedOn = *file.LeftOn
		}
	}
	return file
}

func sameChild(a, b studio.ChildDetail) bool {
	sameEnd := a.LeftOn == nil && b.LeftOn == nil || a.LeftOn != nil && b.LeftOn != nil && a.LeftOn.Equal(*b.LeftOn)
	return a.GivenName == b.GivenName && a.FamilyName == b.FamilyName && a.Initial == b.Initial && a.BirthDate.Equal(b.BirthDate) &&
		a.JoinedOn.Equal(b.JoinedOn) && sameEnd && a.Contact == b.Contact && a.RosterRef == b.RosterRef
}

// placeIn notes a place in a class, unless the child has it. A child who is new comes in with the term or on its first day, another
// one today.
func (i *rosterImport) placeIn(row RosterRow, name string, isNew bool) {
	found := i.classes[strings.ToLower(name)]
	switch len(found) {
	case 0:
		i.refuse(row.Row, "class", fmt.Sprintf("There is no class called “%s” in a term that is not over.", short(name)))
		return
	case 1:
	default:
		found = slices.DeleteFunc(slices.Clone(found), func(c studio.Class) bool { return termOf(i.terms, c.TermID).StartsOn.After(i.t.Today) })
		if len(found) != 1 {
			i.refuse(row.Row, "class", fmt.Sprintf("Several terms have a class called “%s”. Enrol this child in the browser.", short(name)))
			return
		}
	}
	class := found[0]
	if slices.ContainsFunc(i.enrolled, func(e studio.Enrolment) bool {
		return e.ClassID == class.ID && e.ChildID == row.Child.ID && (e.UntilOn == nil || !e.UntilOn.Before(i.t.Today))
	}) {
		return
	}
	from, floor := termOf(i.terms, class.TermID).StartsOn, i.t.Today
	if isNew {
		floor = row.Child.JoinedOn
	}
	if floor.After(from) {
		from = floor
	}
	i.wanted = append(i.wanted, studio.Enrolment{ClassID: class.ID, ChildID: row.Child.ID, FromOn: from})
}
