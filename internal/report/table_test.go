package report

import (
	"bytes"
	"encoding/csv"
	"reflect"
	"strings"
	"testing"
	"time"
)

func someTable() Table {
	return Table{Name: "Stays", Columns: []TableColumn{{"term", "The term's name."}, {"children", "How many."}, {"share", "0 to 1."}, {"until", "A day."}},
		Rows: [][]any{{"=1+1", 12, 0.75, time.Date(2026, 3, 4, 0, 0, 0, 0, time.UTC)}, {"Žofie, \"spring\"", 0, nil, nil}}}
}

// RFC 4180 as the standard library's reader reads it back; a formula is made text.
func TestTableAsCSV(t *testing.T) {
	var b bytes.Buffer
	if err := WriteTable(&b, someTable()); err != nil {
		t.Fatal(err)
	}
	got, err := csv.NewReader(strings.NewReader(b.String())).ReadAll()
	want := [][]string{{"term", "children", "share", "until"}, {"'=1+1", "12", "0.7500", "2026-03-04"}, {"Žofie, \"spring\"", "0", "", ""}}
	if err != nil || !reflect.DeepEqual(got, want) {
		t.Errorf("%q, %v", got, err)
	}
	if strings.Count(b.String(), "\r\n") != 3 {
		t.Error("lines do not end in CR LF")
	}
}

// Sheets as ECMA-376 lays them out, read by the standard library: text is no formula, numbers are numbers, every column is explained.
func TestTablesAsWorkbook(t *testing.T) {
	var b bytes.Buffer
	second := someTable()
	second.Name = "Again"
	if err := WriteTables(&b, []Table{someTable(), second}); err != nil {
		t.Fatal(err)
	}
	if explained := readXLSX(t, b.Bytes(), 1); len(explained) != 1+2*4 || explained[1][0].text() != "Stays" || explained[8][1].text() != "until" {
		t.Errorf("columns: %v", explained)
	}
	for sheet := 2; sheet <= 3; sheet++ {
		rows := readXLSX(t, b.Bytes(), sheet)
		if len(rows) != 3 || rows[1][0].text() != "=1+1" || rows[1][0].Formula != "" || rows[1][0].Kind == "" || rows[1][1].Value != "12" || rows[1][2].Value != "0.75" {
			t.Fatalf("sheet %d: %v", sheet, rows)
		}
		// 4 March 2026 is day 46085 of the 1900 date system: 1 January 2026 is 46023 (from memory), and 31 + 28 + 3 days go on.
		if rows[1][3].Value != "46085" {
			t.Errorf("the day is %v", rows[1][3])
		}
	}
}

func TestTableRefusesRaggedRows(t *testing.T) {
	ragged := someTable()
	ragged.Rows[1] = ragged.Rows[1][:2]
	if WriteTable(&bytes.Buffer{}, ragged) == nil || WriteTables(&bytes.Buffer{}, []Table{ragged}) == nil {
		t.Error("a row is short of cells")
	}
}
