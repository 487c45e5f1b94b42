package report

import (
	"encoding/csv"
	"fmt"
	"io"
	"strconv"
	"time"
)

// Columns names the columns of the CSV in their order:
//
//	studio, class, term    as typed
//	from, to, prepared     days, 2026-01-31
//	child                  the name
//	attended, lessons      lessons that the child came to, of those held and noted
//	ladder, rung           names; empty on the one row of a child without rungs
//	position               1 for the lowest rung of the ladder; empty when the ladder is not in the report
//	state                  waiting, open, working, secure, recheck, or next for a rung that is only named as next
//	clean, marks           turns of this term; empty when not in the report
//	rate_low, rate_high    95% interval of the clean rate, 0 to 1; only for rungs in work that were marked
//	secured_on, last_seen  days; empty when not known
//	evidence               what "secure" rests on
//	why                    why the rung is to be seen again or comes next
func Columns() []string {
	return []string{"studio", "class", "term", "from", "to", "prepared", "child", "attended", "lessons", "ladder", "rung", "position",
		"state", "clean", "marks", "rate_low", "rate_high", "secured_on", "last_seen", "evidence", "why"}
}

// RungTable is a CSV of term reports, as RFC 4180: UTF-8 without a byte order mark, commas, CR LF; a row per child and rung. Rows are
// written as they come. Text that a spreadsheet would take for a formula gets an apostrophe before it.
type RungTable struct{ out *csv.Writer }

// NewRungTable begins a table with the names of its columns.
func NewRungTable(w io.Writer) (*RungTable, error) {
	t := &RungTable{out: csv.NewWriter(w)}
	t.out.UseCRLF = true
	if err := t.out.Write(Columns()); err != nil {
		return nil, fmt.Errorf("begin a table: %w", err)
	}
	return t, nil
}

// Add writes the rows of a class's report.
func (t *RungTable) Add(r TermReport) error {
	if err := r.check(); err != nil {
		return err
	}
	head := []string{guard(r.Studio), guard(r.Class), guard(r.Term), isoDay(r.From), isoDay(r.To), isoDay(r.Prepared)}
	for _, c := range r.Children {
		for _, rung := range c.rows() {
			row := append(head[:len(head):len(head)], guard(c.Name), strconv.Itoa(c.Attended), strconv.Itoa(c.Lessons))
			if err := t.out.Write(append(row, rung.cells()...)); err != nil {
				return fmt.Errorf("write term report of %s: %w", r.Class, err)
			}
		}
	}
	return nil
}

// Flush writes what is left.
func (t *RungTable) Flush() error {
	t.out.Flush()
	if err := t.out.Error(); err != nil {
		return fmt.Errorf("write a table: %w", err)
	}
	return nil
}

// WriteCSV writes the report of one class as a table.
func WriteCSV(w io.Writer, r TermReport) error {
	t, err := NewRungTable(w)
	if err != nil {
		return err
	}
	if err := t.Add(r); err != nil {
		return err
	}
	return t.Flush()
}

// place finds a rung by its names, which is all that a report knows of it.
type place struct{ ladder, rung string }

// rungRow is what the report says of one rung of one child, as cells; "" is not known.
type rungRow struct {
	place
	position, state, clean, marks, low, high, securedOn, lastSeen, evidence, why string
}

func (r rungRow) cells() []string {
	return []string{guard(r.ladder), guard(r.rung), r.position, r.state, r.clean, r.marks, r.low, r.high, r.securedOn, r.lastSeen,
		guard(r.evidence), guard(r.why)}
}

// rows gathers the rungs of the ladders from the bottom, then those that stand only in a list; one empty row when there is
// no rung at all, so that the attendance is not lost.
func (c Child) rows() []*rungRow {
	var rows []*rungRow
	known := map[place]*rungRow{}
	at := func(ladder, rung, state string) *rungRow {
		p := place{ladder, rung}
		if known[p] == nil {
			known[p] = &rungRow{place: p, state: state}
			rows = append(rows, known[p])
		}
		return known[p]
	}
	for _, l := range c.Ladders {
		for i, r := range l.Rungs {
			row := at(l.Name, r.Name, string(r.State))
			row.position, row.clean, row.marks = strconv.Itoa(i+1), strconv.Itoa(r.Clean), strconv.Itoa(r.Marks)
		}
	}
	for _, s := range c.Secured {
		row := at(s.Ladder, s.Rung, string(StateSecure))
		row.securedOn, row.evidence = isoDay(s.On), s.Evidence
	}
	for _, w := range c.Working {
		row := at(w.Ladder, w.Rung, string(StateWorking))
		row.clean, row.marks = strconv.Itoa(w.Clean), strconv.Itoa(w.Marks)
		if w.Marks > 0 {
			row.low, row.high = rate(w.Low), rate(w.High)
		}
	}
	for _, r := range c.Recheck {
		row := at(r.Ladder, r.Rung, string(StateRecheck))
		row.lastSeen, row.why = isoDay(r.LastSeen), r.Why
	}
	for _, n := range c.Next {
		at(n.Ladder, n.Rung, "next").why = n.Why
	}
	if len(rows) == 0 {
		return []*rungRow{{}}
	}
	return rows
}

func isoDay(t time.Time) string {
	if t.IsZero() {
		return ""
	}
	return t.Format(time.DateOnly)
}

func rate(p float64) string { return strconv.FormatFloat(p, 'f', 4, 64) }
