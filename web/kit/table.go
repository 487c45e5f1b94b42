package kit

import "github.com/a-h/templ"

// TableView is a table that becomes a list of blocks where the page is narrow.
type TableView struct {
	// ID allows the table to be replaced alone; may be empty.
	ID string
	// Caption names the table; it is read out and, unless HideCaption, shown.
	Caption     string
	HideCaption bool
	Columns     []Column
	Rows        []Row
}

// Column is the head of a column. Numeric sets it flush right in even figures.
type Column struct {
	Label   string
	Numeric bool
}

// Row is a line of a table; its first cell names it.
type Row struct {
	Cells []Cell
	// Quiet sets the row back, such as for people who have left.
	Quiet bool
}

// Cell holds text, a link, or a component; Part wins over Text.
type Cell struct {
	Text string
	URL  string
	Part templ.Component
}

// Text is a cell of plain text.
func Text(text string) Cell { return Cell{Text: text} }

// Link is a cell that leads somewhere.
func Link(text, url string) Cell { return Cell{Text: text, URL: url} }

// Part is a cell that is drawn by a component.
func Part(part templ.Component) Cell { return Cell{Part: part} }

// label is the head of the i-th column, for a narrow page.
func (t TableView) label(i int) string {
	if i < len(t.Columns) {
		return t.Columns[i].Label
	}
	return ""
}

func (t TableView) numeric(i int) bool {
	return i < len(t.Columns) && t.Columns[i].Numeric
}

// Tab is one of several views of the same thing; each has an address.
type Tab struct {
	Label, URL string
	Current    bool
	// Count is shown behind the label, or empty.
	Count string
}

// Stat is a number with its meaning.
type Stat struct {
	Value, Label string
	// Warm draws the value in the warning colour, with a mark.
	Warm bool
}

// Def is a term and what it means here.
type Def struct {
	Term string
	Text string
	// Part replaces Text.
	Part templ.Component
}
