package postgres

import (
	"context"
	"fmt"
	"strings"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"
	"rungbook/internal/studio"
)

// The register classes every column of every table: what a guardian's copy of a child's data holds, what it withholds and why, and
// which tables are not about a child at all. A test over the catalog fails for a table or column without a class.

// register is a table. Where, about rows x of the child $1, is "" for a table that is not about a child; then None says what it is.
type register struct {
	Name    string
	Title   string
	Where   string
	None    string
	Columns []class
}

// class is what becomes of a column in a copy: given as SQL over x, or withheld for a reason.
type class struct {
	Name     string // of the column
	Label    string // as people read it
	SQL      string // "" where it is withheld
	Withheld string
}

// given are columns that the copy holds as they are.
func given(names string) []class {
	var all []class
	for name := range strings.FieldsSeq(names) {
		all = append(all, class{Name: name, Label: strings.ReplaceAll(name, "_", " "), SQL: "x." + name})
	}
	return all
}

// shown is a column of which the copy holds something to read in its place.
func shown(name, label, sql string) []class { return []class{{Name: name, Label: label, SQL: sql}} }

// withheld are columns that the copy leaves out.
func withheld(why, names string) []class {
	var all []class
	for name := range strings.FieldsSeq(names) {
		all = append(all, class{Name: name, Label: strings.ReplaceAll(name, "_", " "), Withheld: why})
	}
	return all
}

func columns(parts ...[]class) []class {
	var all []class
	for _, p := range parts {
		all = append(all, p...)
	}
	return all
}

// DataOf reads what a copy of a child's data holds, as far as the actor may read it, and what is left out. The transaction must be
// open for it (OpenExport).
func (t *Tx) DataOf(ctx context.Context, child uuid.UUID) ([]studio.DataTable, []studio.DataWithheld, error) {
	var tables []studio.DataTable
	var out []studio.DataWithheld
	batch := &pgx.Batch{}
	for _, r := range registers() {
		if r.Where == "" {
			continue
		}
		table, sql := r.copy()
		out = append(out, r.left()...)
		if len(table.Labels) == 0 {
			continue
		}
		tables = append(tables, table)
		at := len(tables) - 1
		batch.Queue(sql, child).Query(func(rows pgx.Rows) error {
			var err error
			tables[at].Rows, err = pgx.CollectRows(rows, pgx.RowTo[[]*string])
			return err
		})
	}
	return tables, out, t.tx.SendBatch(ctx, batch).Close()
}

// copy is the part of a copy that the table gives, without rows, and the SQL that reads them.
func (r register) copy() (studio.DataTable, string) {
	table := studio.DataTable{Title: r.Title}
	var texts []string
	for _, c := range r.Columns {
		if c.SQL != "" {
			table.Labels = append(table.Labels, c.Label)
			texts = append(texts, "("+c.SQL+")::text")
		}
	}
	return table, fmt.Sprintf(`select array[%s] from %s x where %s order by 1`, strings.Join(texts, ", "), r.Name, r.Where)
}

// left is what the table withholds, a line for each reason.
func (r register) left() []studio.DataWithheld {
	var lines []studio.DataWithheld
	for _, c := range r.Columns {
		if c.Withheld == "" {
			continue
		}
		if n := len(lines); n > 0 && lines[n-1].Why == c.Withheld {
			lines[n-1].What += ", " + c.Label
			continue
		}
		lines = append(lines, studio.DataWithheld{Title: r.Title, What: c.Label, Why: c.Withheld})
	}
	return lines
}
