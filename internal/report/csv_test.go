package report

import (
	"bytes"
	"encoding/csv"
	"io"
	"strings"
	"testing"
	"unicode"
	"unicode/utf8"
)

func writeCSV(t testing.TB, r TermReport) string {
	t.Helper()
	var b bytes.Buffer
	if err := WriteCSV(&b, r); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// readCSV reads as a general-purpose reader does, and gives each row by its column names.
func readCSV(t testing.TB, file string) []map[string]string {
	t.Helper()
	all, err := csv.NewReader(strings.NewReader(file)).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var rows []map[string]string
	for _, cells := range all[1:] {
		row := map[string]string{}
		for i, column := range all[0] {
			row[column] = cells[i]
		}
		rows = append(rows, row)
	}
	return rows
}

// RFC 4180: lines end with CR LF (section 2.1), every line has as many fields as the header (2.4). No byte order mark.
func TestCSVIsRFC4180(t *testing.T) {
	file := writeCSV(t, sample())
	if !strings.HasPrefix(file, "studio,class,term,") {
		t.Errorf("begins with %q", file[:20])
	}
	if strings.Count(file, "\n") != strings.Count(file, "\r\n") || !strings.HasSuffix(file, "\r\n") {
		t.Error("a line does not end with CR LF")
	}
	if !utf8.ValidString(file) {
		t.Error("not UTF-8")
	}
	for i, line := range strings.Split(strings.TrimSuffix(file, "\r\n"), "\r\n") {
		cells, err := csv.NewReader(strings.NewReader(line)).Read()
		if err != nil || len(cells) != len(Columns()) {
			t.Errorf("line %d has %d fields (%v), want %d", i+1, len(cells), err, len(Columns()))
		}
	}
}

func TestCSVSaysWhatTheValuesSay(t *testing.T) {
	rows := readCSV(t, writeCSV(t, sample()))
	if want := 18 + 1 + 2; len(rows) != want { // the rungs of three children; the one without rungs has a row of its own
		t.Errorf("%d rows, want %d", len(rows), want)
	}
	find := func(child, rung string) map[string]string {
		for _, row := range rows {
			if row["child"] == child && row["rung"] == rung {
				return row
			}
		}
		t.Fatalf("no row for %s, %q", child, rung)
		return nil
	}
	for _, c := range []struct {
		child, rung string
		want        map[string]string
	}{
		{"Zoë Okonkwo-Lindqvist", "Low wheel over a rope", map[string]string{"studio": "Gullwing Room", "from": "2026-01-13", "to": "2026-03-31",
			"prepared": "2026-04-02", "attended": "9", "lessons": "11", "ladder": "Wheels", "position": "1", "state": "secure", "clean": "17",
			"marks": "21", "secured_on": "2026-03-10", "evidence": "4 of the last 5 clean on each side, in 2 lessons"}},
		{"Zoë Okonkwo-Lindqvist", "Wheel on a line", map[string]string{"state": "working", "clean": "18", "marks": "20", "rate_low": "0.6990",
			"rate_high": "0.9721", "secured_on": ""}},
		{"Zoë Okonkwo-Lindqvist", "Hollow hold", map[string]string{"state": "working", "clean": "0", "marks": "0", "rate_low": "", "rate_high": ""}},
		{"Zoë Okonkwo-Lindqvist", "Backward roll down a wedge", map[string]string{"state": "recheck", "last_seen": "2026-01-20",
			"why": "Secure last term, not seen for ten weeks."}},
		{"Zoë Okonkwo-Lindqvist", "Kick up to a wall, two legs", map[string]string{"state": "open", "why": "Everything before it is secure."}},
		{"Ngọc Ánh Strauẞ", "", map[string]string{"attended": "0", "lessons": "0", "ladder": "", "state": "", "marks": ""}},
	} {
		row := find(c.child, c.rung)
		for column, want := range c.want {
			if row[column] != want {
				t.Errorf("%s, %q: %s is %q, want %q", c.child, c.rung, column, row[column], want)
			}
		}
	}
}

// What stands only in a list, not in a ladder, has its row too.
func TestCSVKeepsRungsOutsideOfTheLadders(t *testing.T) {
	r := sample()
	r.Children[0].Ladders = nil
	states := map[string]int{}
	for _, row := range readCSV(t, writeCSV(t, r)) {
		if row["child"] == "Zoë Okonkwo-Lindqvist" {
			states[row["state"]]++
			if row["position"] != "" {
				t.Errorf("%s has position %q, want none", row["rung"], row["position"])
			}
		}
	}
	if states["secure"] != 3 || states["working"] != 4 || states["recheck"] != 1 || states["next"] != 2 {
		t.Errorf("rows by state: %v", states)
	}
}

// Names come back exactly: composed and decomposed, emoji, right to left, quotes and commas.
func TestCSVKeepsNames(t *testing.T) {
	for _, name := range []string{"Zoe\u0308", "Zo\u00eb", "Ana 🌟", "נועם", "田中", `Bo "Bee", Jr`, "O'Hara", "a-b+c=d", "  two  spaces "} {
		r := sample()
		r.Children = []Child{{Name: name, Lessons: 1}}
		if got := readCSV(t, writeCSV(t, r))[0]["child"]; got != name {
			t.Errorf("%+q comes back as %+q", name, got)
		}
	}
}

// The signs are those of OWASP's page on CSV injection (from memory); blanks before them and other separators: our own rule.
func TestGuard(t *testing.T) {
	for text, want := range map[string]string{
		"":                      "",
		"Mira":                  "Mira",
		"1 of 2":                "1 of 2",
		"a=b":                   "a=b",
		"Okonkwo-Lindqvist":     "Okonkwo-Lindqvist",
		"=1+1":                  "'=1+1",
		"+44":                   "'+44",
		"-2":                    "'-2",
		"@SUM(A1)":              "'@SUM(A1)",
		"=cmd|' /C calc'!A0":    "'=cmd|' /C calc'!A0",
		"  =1":                  "  '=1",
		"\u00a0=1":              "\u00a0'=1",
		"\ufeff=1":              "\ufeff'=1",
		"\u200b=1":              "\u200b'=1",
		"＝1":                    "'＝1",
		"\t=1":                  "'\t'=1",
		"\tx":                   "'\tx",
		"\rx":                   "'\rx",
		"\nx":                   "'\nx",
		"  \tx":                 "'  \tx",
		"Mira;=1":               "Mira;'=1",
		"Mira; =1":              "Mira; '=1",
		"Mira\t=1":              "Mira\t'=1",
		"Mira\n=1":              "Mira\n'=1",
		"\"=1":                  "\"=1",
		"'=1":                   "'=1",
		"a\x00b":                "a\ufffdb",
		"a\xffb":                "a\ufffdb",
		"\x00=1":                "\ufffd=1",
		"4 of 5; -1 since then": "4 of 5; '-1 since then",
	} {
		if got := guard(text); got != want {
			t.Errorf("guard(%q) = %q, want %q", text, got, want)
		}
	}
}

func TestCSVGuardsEveryText(t *testing.T) {
	const evil = "=HYPERLINK(\"http://x.example\")"
	r := sample()
	r.Studio, r.Class, r.Term = evil, evil, evil
	r.Children = []Child{{Name: evil, Secured: []Secured{{evil + "a", evil, on(2026, 2, 3), evil}},
		Working: []Working{{Ladder: evil + "b", Rung: evil}}, Recheck: []Recheck{{Ladder: evil + "c", Rung: evil, Why: evil}},
		Next: []Next{{evil + "d", evil, evil}}, Ladders: []Ladder{{evil, []Rung{{Name: evil, State: StateOpen}}}}}}
	for _, row := range readCSV(t, writeCSV(t, r)) {
		for column, cell := range row {
			if strings.HasPrefix(cell, "=") {
				t.Errorf("column %s begins with a sign: %q", column, cell)
			}
		}
	}
}

// However a spreadsheet splits the file, no cell begins like a formula.
func FuzzCSVGuard(f *testing.F) {
	for _, seed := range []string{"=1", " \t=1", "a;=1", "\"\n=1", "x\r\n-1", "'", "\xff=1", "\u200b@x", "a\"\n=1"} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, text string) {
		r := sample()
		r.Children = []Child{{Name: text, Lessons: 1}}
		file := writeCSV(t, r)
		rows, err := csv.NewReader(strings.NewReader(file)).ReadAll()
		if err != nil || len(rows) != 2 {
			t.Fatalf("%q: %d rows, %v", text, len(rows), err)
		}
		for _, cell := range strings.FieldsFunc(rows[1][6], func(r rune) bool { return r == ';' || r == '\t' || r == '\n' || r == '\r' }) {
			if first := strings.TrimLeftFunc(cell, isBlank); first != "" && strings.ContainsAny(first[:1], "=+-@") {
				t.Fatalf("%q has a cell that begins with a sign: %q", text, cell)
			}
		}
		if cell := rows[1][6]; cell != "" && strings.ContainsAny(strings.TrimLeftFunc(cell, func(r rune) bool { return r == ' ' })[:min(1, len(strings.TrimLeft(cell, " ")))], "\t\r\n") {
			t.Fatalf("%q begins with a tab or line break: %q", text, cell)
		}
		if kept := strings.ReplaceAll(rows[1][6], "'", ""); lettersOf(kept) != lettersOf(guard(text)) {
			t.Fatalf("%q lost letters: %q", text, kept)
		}
	})
}

func lettersOf(s string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsLetter(r) {
			return r
		}
		return -1
	}, s)
}

func TestWritersRefuseUntrueValues(t *testing.T) {
	for name, spoil := range map[string]func(*TermReport){
		"no cautions":               func(r *TermReport) { r.Cautions = nil },
		"no days":                   func(r *TermReport) { r.From, r.To = on(2026, 2, 1), on(2026, 1, 1) },
		"not prepared":              func(r *TermReport) { r.Prepared = r.Prepared.AddDate(-3000, 0, 0); r.Prepared = TermReport{}.Prepared },
		"came more often":           func(r *TermReport) { r.Children[0].Attended = 12 },
		"fewer than no lessons":     func(r *TermReport) { r.Children[0].Unnoted = -1 },
		"secure without evidence":   func(r *TermReport) { r.Children[0].Secured[0].Evidence = "" },
		"more clean than turns":     func(r *TermReport) { r.Children[0].Working[0].Clean = 21 },
		"rate outside the interval": func(r *TermReport) { r.Children[0].Working[0].High = .5 },
		"interval above 1":          func(r *TermReport) { r.Children[0].Working[0].High = 1.1 },
		"no such state":             func(r *TermReport) { r.Children[0].Ladders[0].Rungs[0].State = "done" },
		"rung with more clean":      func(r *TermReport) { r.Children[0].Ladders[0].Rungs[0].Clean = 13 },
	} {
		r := sample()
		spoil(&r)
		if err := WriteCSV(io.Discard, r); err == nil {
			t.Errorf("%s: the CSV was written", name)
		}
		if err := WritePDF(io.Discard, r); err == nil {
			t.Errorf("%s: the PDF was written", name)
		}
	}
}
