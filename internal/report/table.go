package report

import (
	"encoding/csv"
	"fmt"
	"io"
	"strconv"
	"time"

	"github.com/xuri/excelize/v2"
)

// Table is figures to keep: each row has a cell for every column, a string, an int, a float64, a day as time.Time, or nil for nothing.
type Table struct {
	Name    string // of its sheet: at most 31 characters, without : \ / ? * [ ]
	Columns []TableColumn
	Rows    [][]any
}

// TableColumn is a column with what stands in it.
type TableColumn struct{ Name, Meaning string }

func (t Table) check() error {
	for i, row := range t.Rows {
		if len(row) != len(t.Columns) {
			return fmt.Errorf("write the table %s: row %d has %d cells for %d columns", t.Name, i+1, len(row), len(t.Columns))
		}
	}
	return nil
}

// columns are the columns of the sheet, as wide as their names ask for.
func (t Table) columns() []column {
	out := make([]column, len(t.Columns))
	for i, c := range t.Columns {
		out[i] = column{c.Name, c.Meaning, max(10, float64(len(c.Name))+2)}
	}
	return out
}

// WriteTable writes a table as CSV: RFC 4180, UTF-8 without a byte order mark, CR LF. Text that a spreadsheet would take for a formula
// gets an apostrophe before it.
func WriteTable(w io.Writer, t Table) error {
	if err := t.check(); err != nil {
		return err
	}
	out := csv.NewWriter(w)
	out.UseCRLF = true
	names := make([]string, len(t.Columns))
	for i, c := range t.Columns {
		names[i] = c.Name
	}
	out.Write(names) // an error stays with the writer
	for _, row := range t.Rows {
		cells := make([]string, len(row))
		for i, cell := range row {
			cells[i] = csvCell(cell)
		}
		out.Write(cells)
	}
	out.Flush()
	if err := out.Error(); err != nil {
		return fmt.Errorf("write the table %s: %w", t.Name, err)
	}
	return nil
}

func csvCell(cell any) string {
	switch v := cell.(type) {
	case string:
		return guard(v)
	case int:
		return strconv.Itoa(v)
	case float64:
		return rate(v)
	case time.Time:
		return isoDay(v)
	}
	return ""
}

// WriteTables writes tables as a workbook, a sheet each, with a sheet before them that says what each column means. Text stays text: a
// cell never holds a formula.
func WriteTables(w io.Writer, tables []Table) error {
	b := &Workbook{file: excelize.NewFile()}
	if err := b.writeTables(tables); err != nil {
		return fmt.Errorf("write a workbook: %w", err)
	}
	if _, err := b.file.WriteTo(w); err != nil {
		return fmt.Errorf("write a workbook: %w", err)
	}
	return b.file.Close()
}

func (b *Workbook) writeTables(tables []Table) error {
	sheets := make([]sheetColumns, len(tables))
	for i, t := range tables {
		if err := t.check(); err != nil {
			return err
		}
		sheets[i] = sheetColumns{t.Name, t.columns()}
	}
	if err := b.open(sheets...); err != nil {
		return err
	}
	for i, t := range tables {
		to, err := b.sheet(t.Name, sheets[i].columns)
		if err != nil {
			return err
		}
		for _, row := range t.Rows {
			if err := to.write(b.cells(row)...); err != nil {
				return err
			}
		}
		if err := to.to.Flush(); err != nil {
			return err
		}
	}
	return nil
}

// cells are those of a row, days as such.
func (b *Workbook) cells(row []any) []any {
	out := make([]any, len(row))
	for i, cell := range row {
		out[i] = cell
		if day, ok := cell.(time.Time); ok {
			out[i] = b.dayCell(day)
		}
	}
	return out
}
