package app

import (
	"bytes"
	"context"
	"strings"

	"rungbook/internal/postgres"
	"rungbook/internal/report"
	"rungbook/internal/studio"
)

// Names of the tables of the comparison, as addresses and files have them.
const (
	StaysTable      = "who-stays"
	ProgressTable   = "progress"
	AttendanceTable = "attendance"
	GapsTable       = "cover"
	EndingTable     = "sign-offs"
	CoverageTable   = "library"
	UnusedTable     = "library-gaps"
)

// TermsCSV is one table of the comparison. It is written to the trail; studio.Missing when there is no such table.
func (a *App) TermsCSV(ctx context.Context, actor studio.Actor, ask TermsAsk, table string) (File, error) {
	return a.exportTerms(ctx, actor, ask, table, func(tables []namedTable) ([]byte, error) {
		for _, t := range tables {
			if t.key == table {
				var body bytes.Buffer
				err := report.WriteTable(&body, t.Table)
				return body.Bytes(), err
			}
		}
		return nil, studio.Missing()
	})
}

// TermsXLSX is all tables of the comparison as a workbook that explains its columns. It is written to the trail.
func (a *App) TermsXLSX(ctx context.Context, actor studio.Actor, ask TermsAsk) (File, error) {
	return a.exportTerms(ctx, actor, ask, "", func(tables []namedTable) ([]byte, error) {
		var all []report.Table
		for _, t := range tables {
			all = append(all, t.Table)
		}
		var body bytes.Buffer
		err := report.WriteTables(&body, all)
		return body.Bytes(), err
	})
}

// exportTerms writes a table, or ("") all, and then the trail.
func (a *App) exportTerms(ctx context.Context, actor studio.Actor, ask TermsAsk, table string, write func([]namedTable) ([]byte, error)) (File, error) {
	var file File
	err := a.within(ctx, actor, studio.SeeStudio, func(t *postgres.Tx) error {
		o, err := termsOverview(ctx, t, ask)
		if err != nil {
			return err
		}
		body, err := write(o.tables())
		if err != nil {
			return err
		}
		file = File{Name: fileName("terms", table, o.Class, string(o.Family)) + ".csv", Kind: csvForm().kind, Body: body}
		if table == "" {
			file.Name, file.Kind = strings.TrimSuffix(file.Name, "csv")+"xlsx", xlsxForm().kind
		}
		return t.Audit(ctx, "exported figures about terms", "studio", map[string]any{"file": file.Name, "terms": len(o.Terms)})
	})
	return file, err
}

type namedTable struct {
	key string
	report.Table
}

// tables are the comparison as tables. No child is named in them.
func (o TermsOverview) tables() []namedTable {
	return []namedTable{
		{StaysTable, o.staysTable()}, {ProgressTable, o.progressTable()}, {AttendanceTable, o.attendanceTable()}, {GapsTable, o.gapsTable()},
		{EndingTable, o.endingTable()}, {CoverageTable, o.coverageTable()}, {UnusedTable, o.unusedTable()},
	}
}

// termColumns begin every table that goes by term and class.
func termColumns(more ...report.TableColumn) []report.TableColumn {
	return append([]report.TableColumn{{Name: "term", Meaning: "The term's name."},
		{Name: "class", Meaning: "The class's name; \"all\" for all classes of the term, where a child counts once."}}, more...)
}

func (c TermClass) cells(more ...any) []any {
	class := c.Class
	if class == "" {
		class = "all"
	}
	return append([]any{c.Term, class}, more...)
}

// known is a figure, or nothing where it is not known.
func known(yes bool, figure any) any {
	if !yes {
		return nil
	}
	return figure
}

func (o TermsOverview) staysTable() report.Table {
	t := report.Table{Name: "Who stays", Columns: termColumns(
		report.TableColumn{Name: "children", Meaning: "Children who were in the class on any day of the term, each once."},
		report.TableColumn{Name: "next_term", Meaning: "The first term after it in which somebody has a place; empty while there is none, as are the columns that go by it."},
		report.TableColumn{Name: "next_begun", Meaning: "yes when that term has begun; before, the figures are of the places given so far."},
		report.TableColumn{Name: "same_class", Meaning: "Children in the class of the same name in the next term."},
		report.TableColumn{Name: "moved", Meaning: "In another class from its first day on, as when a term is rolled over."},
		report.TableColumn{Name: "moved_later", Meaning: "In another class, since some later day."},
		report.TableColumn{Name: "no_class", Meaning: "In no class, but still with the studio."},
		report.TableColumn{Name: "left", Meaning: "Left the studio."},
		report.TableColumn{Name: "erased", Meaning: "Of those in the two columns before, children whose data were erased."},
		report.TableColumn{Name: "stayed_share", Meaning: "same_class, moved and moved_later as a part of children, 0 to 1."},
		report.TableColumn{Name: "stayed_low", Meaning: "Lower end of the 95% interval of that share (Wilson 1927)."},
		report.TableColumn{Name: "stayed_high", Meaning: "Upper end of that interval."},
		report.TableColumn{Name: "term_before", Meaning: "The last term with children that was over before; empty when there is none, as are the columns that go by it."},
		report.TableColumn{Name: "joined", Meaning: "Children who were in no class of the term before."},
		report.TableColumn{Name: "came_back", Meaning: "Of those who joined, children who were in a class of an earlier term."})}
	for _, s := range o.Stays {
		next, before := s.Next != "", s.Before != ""
		begun := "no"
		if s.Begun {
			begun = "yes"
		}
		t.Rows = append(t.Rows, s.cells(s.Children, s.Next, known(next, begun), known(next, s.Same), known(next, s.Moved), known(next, s.Later), known(next, s.Out),
			known(next, s.Left), known(next, s.Erased), known(next && s.Children > 0, share(s.Stayed(), s.Children)), known(next, s.Low), known(next, s.High),
			s.Before, known(before, s.Joined), known(before, s.Back)))
	}
	return t
}

func (o TermsOverview) progressTable() report.Table {
	t := report.Table{Name: "Progress", Columns: termColumns(
		report.TableColumn{Name: "children", Meaning: "Children who were in the class on any day of the term."},
		report.TableColumn{Name: "secured", Meaning: "Rungs that these children made secure for the first time on a day of the term, by the studio's rule of today."},
		report.TableColumn{Name: "lower_quartile", Meaning: "The least number of such rungs that a quarter of the children do not exceed."},
		report.TableColumn{Name: "median", Meaning: "The same for half of the children."},
		report.TableColumn{Name: "upper_quartile", Meaning: "The same for three quarters."},
		report.TableColumn{Name: "most", Meaning: "The most that one child made secure."},
		report.TableColumn{Name: "marks", Meaning: "Marks in the lessons of the class."},
		report.TableColumn{Name: "marks_each", Meaning: "Marks for each child and lesson that it came to."},
		report.TableColumn{Name: "secure", Meaning: "Rungs that these children had ever made secure by the end of the term, or by today."},
		report.TableColumn{Name: "recheck", Meaning: "Of those, rungs that were due another look on that day."},
		report.TableColumn{Name: "recheck_share", Meaning: "recheck as a part of secure, 0 to 1."})}
	for _, p := range o.Progress {
		t.Rows = append(t.Rows, p.cells(p.Children, p.Secured, p.Lower, p.Median, p.Upper, p.Most, p.Turns, known(p.Came > 0, p.TurnsEach()),
			p.Secure, p.Recheck, known(p.Secure > 0, p.RecheckShare())))
	}
	return t
}

func (o TermsOverview) attendanceTable() report.Table {
	t := report.Table{Name: "Attendance", Columns: termColumns(
		report.TableColumn{Name: "lessons_held", Meaning: "Lessons that took place."},
		report.TableColumn{Name: "called_off", Meaning: "Lessons that were called off."},
		report.TableColumn{Name: "lessons_ahead", Meaning: "Lessons still to come."},
		report.TableColumn{Name: "expected", Meaning: "Children times the lessons held while they were in the class."},
		report.TableColumn{Name: "noted", Meaning: "Of those, how many somebody noted."},
		report.TableColumn{Name: "came", Meaning: "Of those noted, how many came."},
		report.TableColumn{Name: "came_share", Meaning: "came as a part of noted, 0 to 1."})}
	for _, l := range o.Attendance {
		t.Rows = append(t.Rows, l.cells(l.Held, l.CalledOff, l.Ahead, l.Expected, l.Noted, l.Came, known(l.Noted > 0, l.Share())))
	}
	return t
}

func (o TermsOverview) gapsTable() report.Table {
	t := report.Table{Name: "Cover", Columns: termColumns(
		report.TableColumn{Name: "lessons_held", Meaning: "Lessons that took place."},
		report.TableColumn{Name: "too_few_adults", Meaning: "Of those, lessons with fewer adults than the studio's rule of today asks for, before anybody spots. Who was not noted as away counts as here."},
		report.TableColumn{Name: "spotted", Meaning: "Of those, lessons with a rung, marked or planned, that needs a spotter."},
		report.TableColumn{Name: "too_few_watching", Meaning: "Of those spotted, lessons with adults enough, of whom too few were left to watch while one such rung was spotted."},
		report.TableColumn{Name: "not_signed_off", Meaning: "Of those spotted, lessons in which too few of the people here were signed off, on that day, for one such rung."},
		report.TableColumn{Name: "rungs", Meaning: "Names of those rungs, the most often first."},
		report.TableColumn{Name: "lessons_ahead", Meaning: "Lessons still to come, judged by who is expected and by their plans."},
		report.TableColumn{Name: "ahead_too_few", Meaning: "Of those, lessons with too few adults."},
		report.TableColumn{Name: "ahead_gap", Meaning: "Of the others ahead, lessons whose plan has a rung with too few people signed off or too few left to watch."})}
	for _, g := range o.Gaps {
		t.Rows = append(t.Rows, g.cells(g.Held, g.Few, g.Spotted, g.Thin, g.Unsigned, strings.Join(g.Rungs, "; "), g.Ahead, g.AheadFew, g.AheadGap))
	}
	return t
}

func (o TermsOverview) endingTable() report.Table {
	t := report.Table{Name: "Sign-offs", Columns: []report.TableColumn{
		{Name: "person", Meaning: "Whose sign-offs end."},
		{Name: "ends_on", Meaning: "Their last day, from today to the end of the next term."},
		{Name: "term", Meaning: "The term in which they end; empty between terms."},
		{Name: "rungs", Meaning: "Rungs that the person may spot until then, and not beyond."},
		{Name: "child_rungs", Meaning: "What they carry: for each of these rungs the children of today's classes who are ready for it (open, in work, or due another look)."},
		{Name: "alone", Meaning: "Of the rungs, those for which nobody else is signed off beyond that day."},
		{Name: "alone_child_rungs", Meaning: "What those carry."}}}
	for _, e := range o.Ending {
		t.Rows = append(t.Rows, []any{e.Person, e.Until, e.Term, e.Rungs, e.ChildRungs, e.Alone, e.AloneChildRungs})
	}
	return t
}

func (o TermsOverview) coverageTable() report.Table {
	t := report.Table{Name: "Library", Columns: termColumns(
		report.TableColumn{Name: "ladder", Meaning: "The ladder's name."},
		report.TableColumn{Name: "family", Meaning: "Its family."},
		report.TableColumn{Name: "rungs", Meaning: "Rungs that it has today."},
		report.TableColumn{Name: "taught", Meaning: "Of those, rungs in the plan of a lesson that was held, or marked in one."},
		report.TableColumn{Name: "marked", Meaning: "Of those, rungs that were marked in a lesson."},
		report.TableColumn{Name: "secured", Meaning: "Rungs that some child made secure for the first time on a day of the term."})}
	for _, c := range o.Coverage {
		t.Rows = append(t.Rows, c.cells(c.Ladder, string(c.Family), c.Rungs, c.Taught, c.Marked, c.Secured))
	}
	return t
}

func (o TermsOverview) unusedTable() report.Table {
	t := report.Table{Name: "Library gaps", Columns: []report.TableColumn{
		{Name: "ladder", Meaning: "The ladder's name."},
		{Name: "rung", Meaning: "The rung's name."},
		{Name: "never_used", Meaning: "yes when nobody was ever marked at it and no plan ever had it."},
		{Name: "no_figure", Meaning: "yes when it has no figure."},
		{Name: "no_drill", Meaning: "yes when no drill leads to it."},
		{Name: "no_fault", Meaning: "yes when no fault is described."}}}
	yes := func(is bool) any { return known(is, "yes") }
	for _, u := range o.Unused {
		t.Rows = append(t.Rows, []any{u.Ladder, u.Rung, yes(u.Never), yes(u.NoFigure), yes(u.NoDrill), yes(u.NoFault)})
	}
	return t
}
