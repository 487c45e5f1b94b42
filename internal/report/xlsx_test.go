package report

import (
	"archive/zip"
	"bytes"
	"encoding/xml"
	"fmt"
	"io"
	"slices"
	"strconv"
	"testing"
	"time"
)

// readXLSX reads the cells of a sheet by the standard library alone, as ECMA-376 part 1 lays them out: xl/worksheets/sheetN.xml in
// SpreadsheetML (18.3), text inline (18.3.1.53) or in xl/sharedStrings.xml (18.4).
func readXLSX(t *testing.T, file []byte, sheet int) [][]xlsxCell {
	t.Helper()
	z, err := zip.NewReader(bytes.NewReader(file), int64(len(file)))
	if err != nil {
		t.Fatal(err)
	}
	var shared struct {
		Items []struct {
			Text string `xml:"t"`
		} `xml:"si"`
	}
	var page struct {
		Rows []struct {
			Cells []xlsxCell `xml:"c"`
		} `xml:"sheetData>row"`
	}
	for _, f := range z.File {
		var into any
		switch f.Name {
		case "xl/sharedStrings.xml":
			into = &shared
		case fmt.Sprintf("xl/worksheets/sheet%d.xml", sheet):
			into = &page
		default:
			continue
		}
		r, err := f.Open()
		if err != nil {
			t.Fatal(err)
		}
		text, err := io.ReadAll(r)
		if err == nil {
			err = xml.Unmarshal(text, into)
		}
		if err != nil {
			t.Fatalf("%s: %v", f.Name, err)
		}
	}
	var rows [][]xlsxCell
	for _, r := range page.Rows {
		for i, c := range r.Cells {
			if c.Kind == "s" {
				at, err := strconv.Atoi(c.Value)
				if err != nil {
					t.Fatal(err)
				}
				r.Cells[i].Inline = shared.Items[at].Text
			}
		}
		rows = append(rows, r.Cells)
	}
	return rows
}

type xlsxCell struct {
	At      string `xml:"r,attr"`
	Kind    string `xml:"t,attr"`
	Formula string `xml:"f"`
	Value   string `xml:"v"`
	Inline  string `xml:"is>t"`
}

func (c xlsxCell) text() string {
	if c.Inline != "" {
		return c.Inline
	}
	return c.Value
}

func workbookOf(t *testing.T, r TermReport) []byte {
	t.Helper()
	var file bytes.Buffer
	if err := WriteXLSX(&file, r); err != nil {
		t.Fatal(err)
	}
	return file.Bytes()
}

// in finds the cell of a row below the column called name.
func in(rows [][]xlsxCell, row int, name string) xlsxCell {
	at := slices.IndexFunc(rows[0], func(c xlsxCell) bool { return c.text() == name })
	letter := rows[0][at].At[:len(rows[0][at].At)-1]
	want := letter + strconv.Itoa(row+1)
	if i := slices.IndexFunc(rows[row], func(c xlsxCell) bool { return c.At == want }); i >= 0 {
		return rows[row][i]
	}
	return xlsxCell{}
}

func TestWorkbookReadsBack(t *testing.T) {
	r := sample()
	file := workbookOf(t, r)
	children, rungs := readXLSX(t, file, 2), readXLSX(t, file, 3)
	if len(children) != 1+len(r.Children) {
		t.Fatalf("%d rows of children, want a head and %d", len(children), len(r.Children))
	}
	for column, want := range map[string]string{"child": "Zoë Okonkwo-Lindqvist", "attended": "9", "lessons": "11", "secured": "3", "working": "4", "recheck": "1", "studio": "Gullwing Room",
		"next": "Kick up to a wall, two legs; Wheel to a lunge finish", "note": r.Children[0].Note} {
		if got := in(children, 1, column).text(); got != want {
			t.Errorf("%s is %q, want %q", column, got, want)
		}
	}
	if got := in(children, 2, "child").text(); got != "Ngọc Ánh Strauẞ" {
		t.Errorf("the second child is %q", got)
	}
	// A day is a number since 1900 (ECMA-376 part 1, 18.17.4.1): 46035 is 13 January 2026, 45658 being 1 January 2025.
	if from := in(children, 1, "from"); from.Value != "46035" || from.Kind == "s" {
		t.Errorf("from is %+v", from)
	}
	first := in(rungs, 2, "rung").text()
	if first != "Bunny hop with tall hips" || in(rungs, 2, "marks").Value != "16" || in(rungs, 2, "secured_on").Value != "46056" {
		t.Errorf("second rung: %s, %+v, %+v", first, in(rungs, 2, "marks"), in(rungs, 2, "secured_on"))
	}
}

// Every column of the sheets is explained, and those of the rungs are those of the CSV.
func TestWorkbookExplainsEveryColumn(t *testing.T) {
	file := workbookOf(t, sample())
	explained := map[string]bool{}
	for _, row := range readXLSX(t, file, 1)[1:] {
		if row[2].text() == "" {
			t.Errorf("%s of %s has no meaning", row[1].text(), row[0].text())
		}
		explained[row[0].text()+" "+row[1].text()] = true
	}
	var names []string
	for sheet, name := range map[int]string{2: childrenSheet, 3: rungsSheet} {
		for _, c := range readXLSX(t, file, sheet)[0] {
			if !explained[name+" "+c.text()] {
				t.Errorf("%s, column %s is not explained", name, c.text())
			}
			if sheet == 3 {
				names = append(names, c.text())
			}
		}
	}
	if !slices.Equal(names, Columns()) {
		t.Errorf("columns of rungs: %v, of the CSV: %v", names, Columns())
	}
}

// A name that begins like a formula stays text, and what XML cannot hold is replaced (XML 1.0, 2.2).
func TestWorkbookHoldsNoFormula(t *testing.T) {
	r := sample()
	r.Children = []Child{{Name: "=HYPERLINK(\"http://example.test\")", Note: "+1\x00\x1b & <b>"}}
	file := workbookOf(t, r)
	for sheet := 1; sheet <= 3; sheet++ {
		for _, row := range readXLSX(t, file, sheet) {
			for _, c := range row {
				if c.Formula != "" {
					t.Errorf("%s holds the formula %s", c.At, c.Formula)
				}
			}
		}
	}
	if got := in(readXLSX(t, file, 2), 1, "note").text(); got != "+1\uFFFD\uFFFD & <b>" {
		t.Errorf("note: %q", got)
	}
}

func TestWorkbookRefusesWhatTheOthersRefuse(t *testing.T) {
	r := sample()
	r.Cautions = nil
	if err := WriteXLSX(io.Discard, r); err == nil {
		t.Error("a report without cautions is written")
	}
	r = sample()
	r.To = time.Time{}
	if err := WriteXLSX(io.Discard, r); err == nil {
		t.Error("a report without days is written")
	}
}

// BenchmarkWorkbook writes 15 classes of 20 children.
func BenchmarkWorkbook(b *testing.B) {
	class := bigClass(20)
	for b.Loop() {
		book, err := NewWorkbook()
		if err != nil {
			b.Fatal(err)
		}
		for range 15 {
			if err := book.Add(class); err != nil {
				b.Fatal(err)
			}
		}
		if _, err := book.WriteTo(io.Discard); err != nil {
			b.Fatal(err)
		}
	}
}

// The meanings that are shown beside the CSV are those of its columns.
func TestMeaningsAreOfTheColumns(t *testing.T) {
	var names []string
	for _, m := range Meanings() {
		if names = append(names, m.Name); m.Meaning == "" {
			t.Errorf("%s has no meaning", m.Name)
		}
	}
	if !slices.Equal(names, Columns()) {
		t.Errorf("%v, want %v", names, Columns())
	}
}
