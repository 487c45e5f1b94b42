package report

import (
	"fmt"
	"io"
	"strings"
	"time"

	"github.com/xuri/excelize/v2"
)

// The sheets of a workbook.
const (
	columnsSheet  = "Columns"
	childrenSheet = "Children"
	rungsSheet    = "Rungs"
)

// column is a column of a sheet and what stands in it.
type column struct {
	name, meaning string
	width         float64 // in characters
}

// childColumns are the columns of the sheet "Children", a row a child of a class.
func childColumns() []column {
	return append(headColumns(),
		column{"child", "The child's name.", 24},
		column{"attended", "Lessons that the child came to, of those in the column lessons.", 10},
		column{"lessons", "Lessons held while the child was in the class for which somebody noted who was there.", 10},
		column{"unnoted", "Lessons held besides, for which nobody noted whether the child was there.", 10},
		column{"turns", "Turns marked in this term.", 8},
		column{"secured", "Rungs secured in this term.", 9},
		column{"working", "Rungs in work.", 9},
		column{"recheck", "Rungs that were secure and have to be seen again.", 9},
		column{"next", "Names of the rungs that come next.", 50},
		column{"home_drills", "Names of the drills to do at home, as of the day in the column prepared.", 50},
		column{"note", "What the teacher wrote to the parents.", 60})
}

// rungColumns are those of the sheet "Rungs", a row a child and rung: the columns of the CSV, which Columns names.
func rungColumns() []column {
	return append(headColumns(),
		column{"child", "The child's name.", 24},
		column{"attended", "Lessons that the child came to, of those in the column lessons.", 10},
		column{"lessons", "Lessons held while the child was in the class for which somebody noted who was there.", 10},
		column{"ladder", "Name of the ladder; empty on the one row of a child without rungs.", 22},
		column{"rung", "Name of the rung.", 34},
		column{"position", "1 for the lowest rung of the ladder; empty when the ladder is not in the report.", 9},
		column{"state", "waiting, open, working, secure, recheck, or next for a rung that is only named as next.", 10},
		column{"clean", "Clean turns of this term; empty when not in the report.", 8},
		column{"marks", "Turns of this term; empty when not in the report.", 8},
		column{"rate_low", "Lower end of the 95% interval of the clean rate, 0 to 1; only for rungs in work that were marked.", 9},
		column{"rate_high", "Upper end of that interval.", 9},
		column{"secured_on", "Day on which the studio's rule was first met.", 12},
		column{"last_seen", "Day of the last turn, of rungs to be seen again.", 12},
		column{"evidence", "What \"secure\" rests on.", 50},
		column{"why", "Why the rung is to be seen again or comes next.", 50})
}

// Meanings says what stands in the columns of a CSV, in the order of Columns.
func Meanings() []TableColumn {
	var all []TableColumn
	for _, c := range rungColumns() {
		all = append(all, TableColumn{c.name, c.meaning})
	}
	return all
}

func headColumns() []column {
	return []column{
		{"studio", "The studio's name.", 22},
		{"class", "The class's name.", 22},
		{"term", "The term's name.", 16},
		{"from", "First day of the term.", 12},
		{"to", "Last day of the term.", 12},
		{"prepared", "Day on which the report was made; marks until then, or until the end of the term, count.", 12},
	}
}

// Workbook is an XLSX of term reports with a sheet that says what each column means. Rows are written as they come, so that its
// memory does not grow with the studio. Text stays text: a cell never holds a formula.
type Workbook struct {
	file            *excelize.File
	day, head       int // styles
	children, rungs *sheetWriter
}

// sheetWriter writes a sheet from the top.
type sheetWriter struct {
	to  *excelize.StreamWriter
	row int
}

// NewWorkbook begins a workbook.
func NewWorkbook() (*Workbook, error) {
	b := &Workbook{file: excelize.NewFile()}
	if err := b.begin(); err != nil {
		return nil, fmt.Errorf("begin a workbook: %w", err)
	}
	return b, nil
}

func (b *Workbook) begin() error {
	if err := b.open(sheetColumns{childrenSheet, childColumns()}, sheetColumns{rungsSheet, rungColumns()}); err != nil {
		return err
	}
	var err error
	if b.children, err = b.sheet(childrenSheet, childColumns()); err != nil {
		return err
	}
	b.rungs, err = b.sheet(rungsSheet, rungColumns())
	return err
}

// sheetColumns is a sheet with its columns.
type sheetColumns struct {
	name    string
	columns []column
}

// open makes the styles, and writes the sheet "Columns" about the sheets to come.
func (b *Workbook) open(sheets ...sheetColumns) error {
	isoFormat := "yyyy-mm-dd"
	var err error
	if b.day, err = b.file.NewStyle(&excelize.Style{CustomNumFmt: &isoFormat}); err != nil {
		return err
	}
	if b.head, err = b.file.NewStyle(&excelize.Style{Font: &excelize.Font{Bold: true}}); err != nil {
		return err
	}
	if err := b.file.SetSheetName("Sheet1", columnsSheet); err != nil {
		return err
	}
	to, err := b.sheetOf(columnsSheet, []column{{"sheet", "", 12}, {"column", "", 14}, {"meaning", "", 100}})
	if err != nil {
		return err
	}
	for _, s := range sheets {
		for _, c := range s.columns {
			if err := to.write(s.name, c.name, c.meaning); err != nil {
				return err
			}
		}
	}
	return to.to.Flush()
}

func (b *Workbook) sheet(name string, columns []column) (*sheetWriter, error) {
	if _, err := b.file.NewSheet(name); err != nil {
		return nil, err
	}
	return b.sheetOf(name, columns)
}

func (b *Workbook) sheetOf(name string, columns []column) (*sheetWriter, error) {
	to, err := b.file.NewStreamWriter(name)
	if err != nil {
		return nil, err
	}
	names := make([]any, len(columns))
	for i, c := range columns {
		if err := to.SetColWidth(i+1, i+1, c.width); err != nil {
			return nil, err
		}
		names[i] = excelize.Cell{StyleID: b.head, Value: c.name}
	}
	if err := to.SetPanes(&excelize.Panes{Freeze: true, YSplit: 1, TopLeftCell: "A2", ActivePane: "bottomLeft"}); err != nil {
		return nil, err
	}
	s := &sheetWriter{to: to}
	return s, s.write(names...)
}

func (s *sheetWriter) write(cells ...any) error {
	s.row++
	for i, c := range cells {
		if text, ok := c.(string); ok {
			cells[i] = cellText(text)
		}
	}
	return s.to.SetRow(fmt.Sprintf("A%d", s.row), cells)
}

// cellText is a text as a cell can hold it: at most 32,767 characters (ECMA-376 part 1, 18.3.1.4, as Excel limits it; from memory), none
// of them a control character that XML 1.0 (2.2) leaves out.
func cellText(text string) any {
	if text == "" {
		return nil
	}
	return strings.Map(func(r rune) rune {
		if r < ' ' && r != '\t' && r != '\n' && r != '\r' || r == '\uFFFE' || r == '\uFFFF' {
			return '\uFFFD'
		}
		return r
	}, strings.ToValidUTF8(text, "\uFFFD"))
}

// Add writes the report of a class.
func (b *Workbook) Add(r TermReport) error {
	if err := r.check(); err != nil {
		return err
	}
	for _, c := range r.Children {
		if err := b.add(r, c); err != nil {
			return fmt.Errorf("write term report of %s: %w", r.Class, err)
		}
	}
	return nil
}

func (b *Workbook) add(r TermReport, c Child) error {
	head := []any{r.Studio, r.Class, r.Term, b.dayCell(r.From), b.dayCell(r.To), b.dayCell(r.Prepared), c.Name, c.Attended, c.Lessons}
	err := b.children.write(append(head[:len(head):len(head)], c.Unnoted, c.Turns(), len(c.Secured), len(c.Working), len(c.Recheck),
		joinNames(c.Next, func(n Next) string { return n.Rung }), joinNames(c.HomeDrills, func(d HomeDrill) string { return d.Name }), c.Note)...)
	if err != nil {
		return err
	}
	for _, rung := range c.rows() {
		if err := b.rungs.write(append(head[:len(head):len(head)], b.rungCells(*rung)...)...); err != nil {
			return err
		}
	}
	return nil
}

// rungCells are the cells of a rung, numbers and days as such.
func (b *Workbook) rungCells(r rungRow) []any {
	return []any{r.ladder, r.rung, number(r.position), r.state, number(r.clean), number(r.marks), number(r.low), number(r.high),
		b.isoCell(r.securedOn), b.isoCell(r.lastSeen), r.evidence, r.why}
}

// WriteTo finishes the workbook and writes it; nothing can be added after that.
func (b *Workbook) WriteTo(w io.Writer) (int64, error) {
	for _, s := range []*sheetWriter{b.children, b.rungs} {
		if err := s.to.Flush(); err != nil {
			return 0, fmt.Errorf("finish a workbook: %w", err)
		}
	}
	n, err := b.file.WriteTo(w)
	if err != nil {
		return n, fmt.Errorf("write a workbook: %w", err)
	}
	return n, b.file.Close()
}

// WriteXLSX writes the report of one class as a workbook.
func WriteXLSX(w io.Writer, r TermReport) error {
	b, err := NewWorkbook()
	if err != nil {
		return err
	}
	if err := b.Add(r); err != nil {
		return err
	}
	_, err = b.WriteTo(w)
	return err
}

func (b *Workbook) dayCell(day time.Time) any {
	if day.IsZero() {
		return nil
	}
	return excelize.Cell{StyleID: b.day, Value: day}
}

func (b *Workbook) isoCell(text string) any {
	day, err := time.Parse(time.DateOnly, text)
	if err != nil {
		return nil // "" is no day
	}
	return b.dayCell(day)
}

// number is a written number as one; nil for "".
func number(text string) any {
	var n float64
	if _, err := fmt.Sscan(text, &n); err != nil {
		return nil
	}
	return n
}

func joinNames[T any](all []T, name func(T) string) string {
	names := make([]string, len(all))
	for i, v := range all {
		names[i] = name(v)
	}
	return strings.Join(names, "; ")
}
