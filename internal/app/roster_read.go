package app

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"
	"time"
	"unicode/utf8"

	"rungbook/internal/studio"
)

// Bounds of a roster file.
const (
	RosterBytes = 1 << 20
	RosterRows  = 5000
)

// RosterColumn is a column of a roster file.
type RosterColumn struct {
	Name     string
	Required bool
	Meaning  string
	Sample   string
}

// RosterColumns are the columns of a roster file, in the order of the template. The first line of a file names them, in any order.
func RosterColumns() []RosterColumn {
	return []RosterColumn{
		{"ref", true, "Your own number or code for the child. It never changes, so that the same file can be imported again.", "A-104"},
		{"given_name", true, "First name.", "Elin"},
		{"family_name", true, "Family name.", "Tarrow"},
		{"birth_date", true, "Year-month-day.", "2016-03-29"},
		{"joined_on", false, "First day at the studio; today when empty and the child is new.", "2025-09-01"},
		{"left_on", false, "Last day at the studio; empty while the child is there.", ""},
		{"contact", false, "Phone, address, whatever you need. Seen by the child's teachers and guardians.", "Tarrow family, 0555 0104"},
		{"class", false, "Name of a class of a term that is not over; several with ; between them.", "Sandpipers"},
		{"guardian_name", false, "Name of a guardian; several with ; between them.", "Maren Tarrow"},
		{"guardian_email", false, "The guardians' e-mail addresses in the same order.", "maren.tarrow@post.example"},
	}
}

// RosterTemplate is a roster file with the names of the columns and one line to go by.
func RosterTemplate() []byte {
	var out bytes.Buffer
	w := csv.NewWriter(&out)
	var names, samples []string
	for _, c := range RosterColumns() {
		names, samples = append(names, c.Name), append(samples, c.Sample)
	}
	w.WriteAll([][]string{names, samples}) // writes to memory: cannot fail
	return out.Bytes()
}

// RosterRow is a line of a roster that keeps the rules of a file.
type RosterRow struct {
	Row       int // line in the file; the names of the columns are line 1
	Child     studio.ChildDetail
	Classes   []string
	Guardians []RosterGuardian
}

// RosterGuardian is a guardian named in a roster. Name may be empty.
type RosterGuardian struct{ Name, Email string }

// RosterProblem says what is wrong where. Row 0 is the file as a whole; Column may be empty.
type RosterProblem struct {
	Row    int
	Column string
	Reason string
}

func (p RosterProblem) String() string {
	switch {
	case p.Row == 0:
		return p.Reason
	case p.Column == "":
		return fmt.Sprintf("row %d: %s", p.Row, p.Reason)
	}
	return fmt.Sprintf("row %d, %s: %s", p.Row, p.Column, p.Reason)
}

// ReadRoster reads a roster file: CSV in UTF-8 with commas or semicolons. It reports every line that breaks a rule; today bounds
// birth dates. It knows nothing of the studio's classes and children.
func ReadRoster(r io.Reader, today time.Time) ([]RosterRow, []RosterProblem) {
	text, err := io.ReadAll(io.LimitReader(r, RosterBytes+1))
	switch {
	case err != nil:
		return nil, []RosterProblem{{Reason: "The file could not be read to its end."}}
	case len(text) > RosterBytes:
		return nil, []RosterProblem{{Reason: "The file is larger than 1 MiB. Split it and import the parts one after the other."}}
	case !utf8.Valid(text):
		return nil, []RosterProblem{{Reason: "The file is not UTF-8 text. Save it as CSV UTF-8 and try again."}}
	case bytes.IndexByte(text, 0) >= 0:
		return nil, []RosterProblem{{Reason: "The file holds NUL bytes, so it is no CSV text."}}
	}
	f := rosterFile{today: today, refs: map[string]int{}}
	f.read(bytes.TrimPrefix(text, []byte("\ufeff")))
	return f.rows, f.problems
}

// rosterFile is a roster while it is read.
type rosterFile struct {
	today    time.Time
	at       map[string]int // column by name
	refs     map[string]int // first row of each ref
	record   []string
	row      int
	rows     []RosterRow
	problems []RosterProblem
}

func (f *rosterFile) refuse(column, reason string) {
	f.problems = append(f.problems, RosterProblem{f.row, column, reason})
}

func (f *rosterFile) read(text []byte) {
	r := csv.NewReader(bytes.NewReader(text))
	r.FieldsPerRecord = -1
	r.Comma = separator(text)
	f.row = 1
	names, err := r.Read()
	if err != nil {
		f.refuse("", "The first line must name the columns, such as ref,given_name,family_name,birth_date.")
		return
	}
	if f.head(names); len(f.problems) > 0 {
		return
	}
	for count := 0; ; count++ {
		record, err := r.Read()
		if errors.Is(err, io.EOF) {
			break
		}
		var broken *csv.ParseError
		if errors.As(err, &broken) {
			f.row = broken.StartLine
			f.refuse("", "Quotation marks that do not match; nothing after this line was read.")
			return
		}
		f.row, _ = r.FieldPos(0)
		if count == RosterRows {
			f.refuse("", fmt.Sprintf("More than %d lines. Split the file and import the parts one after the other.", RosterRows))
			return
		}
		f.record = record
		f.line()
	}
	if len(f.rows) == 0 && len(f.problems) == 0 {
		f.row = 0
		f.refuse("", "There is no child in the file, only the names of the columns.")
	}
}

// separator is a semicolon where the first line has more of them than commas, as spreadsheets of some countries write.
func separator(text []byte) rune {
	first, _, _ := bytes.Cut(text, []byte("\n"))
	if bytes.Count(first, []byte(";")) > bytes.Count(first, []byte(",")) {
		return ';'
	}
	return ','
}

func (f *rosterFile) head(names []string) {
	f.at = map[string]int{}
	for i, name := range names {
		name = strings.ToLower(strings.TrimSpace(name))
		_, twice := f.at[name]
		switch {
		case name == "":
			continue
		case !slices.ContainsFunc(RosterColumns(), func(c RosterColumn) bool { return c.Name == name }):
			f.refuse(name, "There is no such column. Rename it or take it out.")
		case twice:
			f.refuse(name, "The column is there twice.")
		}
		f.at[name] = i
	}
	for _, c := range RosterColumns() {
		if _, there := f.at[c.Name]; c.Required && !there {
			f.refuse(c.Name, "This column is missing.")
		}
	}
}

func (f *rosterFile) cell(column string) string {
	i, ok := f.at[column]
	if !ok || i >= len(f.record) {
		return ""
	}
	return strings.TrimSpace(f.record[i])
}

func (f *rosterFile) line() {
	if !slices.ContainsFunc(f.record, func(s string) bool { return strings.TrimSpace(s) != "" }) {
		return
	}
	known := len(f.problems)
	row := RosterRow{Row: f.row, Classes: list(f.cell("class")), Guardians: f.guardians()}
	row.Child = studio.ChildDetail{FamilyName: f.cell("family_name"), BirthDate: f.date("birth_date"), Contact: f.cell("contact"), RosterRef: f.cell("ref")}
	row.Child.GivenName, row.Child.JoinedOn = f.cell("given_name"), f.date("joined_on")
	if left := f.date("left_on"); !left.IsZero() {
		row.Child.LeftOn = &left
	}
	row.Child = row.Child.Tidy()
	f.check(row.Child)
	if len(f.problems) == known {
		f.rows = append(f.rows, row)
	}
}

func (f *rosterFile) check(c studio.ChildDetail) {
	if c.RosterRef == "" {
		f.refuse("ref", "Fill this in: your own number for the child.")
	} else if first, twice := f.refs[c.RosterRef]; twice {
		f.refuse("ref", fmt.Sprintf("The same number is in row %d.", first))
	} else {
		f.refs[c.RosterRef] = f.row
	}
	undated := f.badDate("birth_date")
	if c.JoinedOn.IsZero() {
		c.JoinedOn = f.today
		if c.LeftOn != nil && c.LeftOn.Before(f.today) {
			c.JoinedOn = *c.LeftOn
		}
	}
	for _, p := range c.Validate(f.today) {
		if column := strings.Replace(p.Field, "roster_ref", "ref", 1); column != "birth_date" || !undated {
			f.refuse(column, sentence(p.Problem))
		}
	}
}

// badDate reports whether the cell of this row was refused as a date already.
func (f *rosterFile) badDate(column string) bool {
	return slices.ContainsFunc(f.problems, func(p RosterProblem) bool { return p.Row == f.row && p.Column == column })
}

func (f *rosterFile) date(column string) time.Time {
	text := f.cell(column)
	if text == "" {
		return time.Time{}
	}
	day, err := time.Parse(time.DateOnly, text)
	if err != nil || day.Year() < 1900 || day.Year() > 2200 {
		f.refuse(column, fmt.Sprintf("“%s” is no day. Write year-month-day, such as 2016-03-29.", short(text)))
		return time.Time{}
	}
	return day
}

func (f *rosterFile) guardians() []RosterGuardian {
	names, emails := list(f.cell("guardian_name")), list(f.cell("guardian_email"))
	if len(names) > len(emails) {
		f.refuse("guardian_email", "Fewer addresses than names. A guardian is known by an address.")
		return nil
	}
	var guardians []RosterGuardian
	for i, email := range emails {
		g := RosterGuardian{Email: lowerEmail(email)}
		if i < len(names) {
			g.Name = names[i]
		}
		if problems := studio.ValidateEmail(g.Email); len(problems) > 0 {
			f.refuse("guardian_email", fmt.Sprintf("“%s” is no e-mail address.", short(email)))
		}
		if utf8.RuneCountInString(g.Name) > 120 {
			f.refuse("guardian_name", "At most 120 characters.")
		}
		guardians = append(guardians, g)
	}
	return guardians
}

// list splits a cell at semicolons and leaves out what is empty.
func list(cell string) []string {
	var parts []string
	for part := range strings.SplitSeq(cell, ";") {
		if part = strings.TrimSpace(part); part != "" && !slices.Contains(parts, part) {
			parts = append(parts, part)
		}
	}
	return parts
}

func short(text string) string {
	if r := []rune(text); len(r) > 40 {
		return string(r[:40]) + "…"
	}
	return text
}

// sentence writes a few words as a sentence.
func sentence(words string) string {
	if words == "" {
		return ""
	}
	return strings.ToUpper(words[:1]) + strings.TrimSuffix(words[1:], ".") + "."
}
