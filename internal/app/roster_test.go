package app

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"io"
	"slices"
	"strings"
	"testing"
	"unicode/utf8"

	"rungbook/internal/studio"
	"rungbook/internal/testkit"
)

const rosterHead = "ref,given_name,family_name,birth_date,joined_on,left_on,contact,class,guardian_name,guardian_email\n"

func TestReadRosterNamesRowColumnAndReason(t *testing.T) {
	long := strings.Repeat("x", 81)
	cases := map[string]struct {
		file, column, reason string
		row                  int
	}{
		"no file":                   {"", "", "first line must name the columns", 1},
		"only the head":             {rosterHead, "", "no child in the file", 0},
		"unknown column":            {"ref,given_name,family_name,birth_date,shoe\n", "shoe", "no such column", 1},
		"column twice":              {"ref,ref,given_name,family_name,birth_date\n", "ref", "twice", 1},
		"missing column":            {"ref,given_name,family_name\n", "birth_date", "missing", 1},
		"no ref":                    {rosterHead + ",Ada,Quill,2016-01-02,,,,,,\n", "ref", "Fill this in", 2},
		"ref twice":                 {rosterHead + "1,Ada,Quill,2016-01-02,,,,,,\n1,Bo,Quill,2016-01-02,,,,,,\n", "ref", "row 2", 3},
		"no first name":             {rosterHead + "1, ,Quill,2016-01-02,,,,,,\n", "given_name", "Fill this in", 2},
		"long family name":          {rosterHead + "1,Ada," + long + ",2016-01-02,,,,,,\n", "family_name", "At most 80", 2},
		"day first":                 {rosterHead + "1,Ada,Quill,02/01/2016,,,,,,\n", "birth_date", "is no day", 2},
		"29 February of 2015":       {rosterHead + "1,Ada,Quill,2015-02-29,,,,,,\n", "birth_date", "is no day", 2},
		"born tomorrow":             {rosterHead + "1,Ada,Quill,2026-03-05,,,,,,\n", "birth_date", "check the year", 2},
		"left before joining":       {rosterHead + "1,Ada,Quill,2016-01-02,2025-09-01,2025-08-31,,,,\n", "left_on", "Not before", 2},
		"more names":                {rosterHead + "1,Ada,Quill,2016-01-02,,,,,A;B,a@b.example\n", "guardian_email", "Fewer addresses", 2},
		"no address":                {rosterHead + "1,Ada,Quill,2016-01-02,,,,,,nobody\n", "guardian_email", "no e-mail address", 2},
		"open quotation mark":       {rosterHead + "1,\"Ada,Quill\n", "", "Quotation marks", 2},
		"after a note in two lines": {rosterHead + "1,Ada,Quill,2016-01-02,,,\"two\nlines\",,,\n2,,Quill,2016-01-02,,,,,,\n", "given_name", "Fill this in", 4},
		"not UTF-8":                 {rosterHead + "1,Ad\xe9,Quill,2016-01-02,,,,,,\n", "", "not UTF-8", 0},
		"NUL":                       {rosterHead + "1,Ad\x00a,Quill,2016-01-02,,,,,,\n", "", "NUL", 0},
		"too large":                 {rosterHead + strings.Repeat("x", RosterBytes), "", "larger than 1 MiB", 0},
		"too many lines":            {rosterHead + strings.Repeat("1,A,B,2016-01-02,,,,,,\n", RosterRows+1), "", "More than 5000 lines", RosterRows + 2},
	}
	for name, c := range cases {
		_, problems := ReadRoster(strings.NewReader(c.file), date("2026-03-04"))
		if !slices.ContainsFunc(problems, func(p RosterProblem) bool {
			return p.Row == c.row && p.Column == c.column && strings.Contains(strings.ToLower(p.Reason), strings.ToLower(c.reason))
		}) {
			t.Errorf("%s: want row %d, column %q, %q; got %v", name, c.row, c.column, c.reason, problems[:min(3, len(problems))])
		}
	}
}

func TestReadRosterReadsWhatSpreadsheetsWrite(t *testing.T) {
	// RFC 4180 (CSV) as encoding/csv writes it: quotation marks, commas and line ends within a cell come back.
	var file bytes.Buffer
	w := csv.NewWriter(&file)
	names := []string{"ref", "given_name", "family_name", "birth_date", "contact"}
	if err := w.WriteAll([][]string{names, {"7", "Zoë", "O \"Neil\", jr", "2016-02-29", "first\nsecond"}}); err != nil {
		t.Fatal(err)
	}
	for name, text := range map[string]string{
		"plain":            file.String(),
		"byte-order mark":  "\ufeff" + file.String(),
		"other line ends":  strings.ReplaceAll(file.String(), "\n", "\r\n"),
		"capitals in head": strings.Replace(file.String(), "given_name", " Given_Name ", 1),
	} {
		rows, problems := ReadRoster(strings.NewReader(text), date("2026-03-04"))
		if len(problems) > 0 || len(rows) != 1 {
			t.Errorf("%s: %d rows, %v", name, len(rows), problems)
			continue
		}
		c := rows[0].Child
		if c.GivenName != "Zoë" || c.FamilyName != `O "Neil", jr` || c.Initial != "O" || c.Contact != "first\nsecond" || !c.BirthDate.Equal(date("2016-02-29")) {
			t.Errorf("%s: %+v", name, c)
		}
	}
	rows, problems := ReadRoster(strings.NewReader("ref;given_name;family_name;birth_date;class\n7;Ada;Quill;2016-01-02;\"A; B\"\n\n;;;;\n"), date("2026-03-04"))
	if len(problems) > 0 || len(rows) != 1 || len(rows[0].Classes) != 2 {
		t.Errorf("semicolons: %v %v", rows, problems)
	}
	if rows, problems := ReadRoster(bytes.NewReader(RosterTemplate()), date("2026-03-04")); len(problems) > 0 || len(rows) != 1 {
		t.Errorf("the template cannot be read: %v", problems)
	}
}

func FuzzReadRoster(f *testing.F) {
	f.Add(rosterHead + "1,Ada,Quill,2016-01-02,,,,A;B,,a@b.example\n")
	f.Add("ref;given_name;family_name;birth_date\n\"1\";;;\n")
	f.Add(string(RosterTemplate()))
	f.Fuzz(func(t *testing.T, text string) {
		rows, problems := ReadRoster(strings.NewReader(text), date("2026-03-04"))
		if len(rows) == 0 && len(problems) == 0 {
			t.Error("neither a row nor a problem")
		}
		for _, r := range rows {
			if r.Row < 2 || len(r.Child.Validate(date("2026-03-04"))) > 0 && !r.Child.JoinedOn.IsZero() {
				t.Errorf("a row that breaks a rule: %+v", r)
			}
			if !utf8.ValidString(r.Child.FullName()) {
				t.Error("a name that is not UTF-8")
			}
		}
	})
}

func TestImportRosterIsAllOrNothingAndHarmlessAgain(t *testing.T) {
	d, ctx := openDesk(t), t.Context()
	file := rosterHead + "R-1,Ada,Quill,2016-02-29,,,Quay 1,Amberclass,Queenie Quill,q@sample.example\n" +
		"R-2,Adi,Quince,2016-03-01,,,,amberclass;Berylclass,,\n" +
		"refleak-a1,Aliquot,Newname,2015-05-17,,,,,,parentmail-a@sample.example\n"
	run := func(text string, dry bool) (RosterResult, error) {
		return d.ImportRoster(ctx, d.owner, strings.NewReader(text), dry)
	}
	bad, err := run(file+"R-3,Bo,Bright,2016-01-01,,,,Noclass,,\n", false)
	wantCode(t, "an unknown class", err, studio.Invalid)
	if len(bad.Problems) != 1 || bad.Problems[0] != (RosterProblem{5, "class", `There is no class called “Noclass” in a term that is not over.`}) {
		t.Errorf("problems: %v", bad.Problems)
	}
	for _, dry := range []bool{true, true, false} {
		got, err := run(file, dry)
		if err != nil {
			t.Fatal(err)
		}
		if got.Added != 2 || got.Changed != 1 || got.Same != 0 || got.Enrolled != 3 || got.Guardians != 1 || len(got.Accounts) != 1 {
			t.Fatalf("dry run %v: %s", dry, got.Summary())
		}
		if !slices.ContainsFunc(got.Warnings, func(w string) bool { return strings.Contains(w, "Ada Q. and Adi Q.") }) {
			t.Errorf("no warning of names that look alike: %v", got.Warnings)
		}
	}
	again, err := run(file, false)
	if err != nil || again.Added+again.Changed+again.Enrolled+again.Guardians != 0 || again.Same != 3 {
		t.Errorf("the same file again: %s, %v", again.Summary(), err)
	}
	people, err := d.People(ctx, d.owner)
	if err != nil {
		t.Fatal(err)
	}
	if len(people.Children) != 5 {
		t.Errorf("%d children", len(people.Children))
	}
	changed, err := d.ChildRecord(ctx, d.owner, testkit.SampleID("c1a1"))
	if err != nil || changed.FamilyName != "Newname" || changed.Initial != "N" || changed.Contact != "contactleak-a1" || changed.JoinedOn.IsZero() {
		t.Errorf("what the file leaves empty must stay: %+v, %v", changed.ChildDetail, err)
	}
}

func TestRosterDoesNotBringBackARemovedGuardian(t *testing.T) {
	d, ctx := openDesk(t), t.Context()
	file := rosterHead + "refleak-b1,Bolide,Birchleak,2015-07-19,,,,,,parentmail-a@sample.example\n" // removed on 1 February
	got, err := d.ImportRoster(ctx, d.owner, strings.NewReader(file), false)
	if err != nil || got.Guardians != 0 || len(got.Warnings) != 1 {
		t.Errorf("%s, %v", got.Summary(), err)
	}
	child, err := d.ChildRecord(ctx, d.owner, testkit.SampleID("c1b1"))
	if err != nil || len(child.Guardians) != 1 {
		t.Errorf("guardians: %+v, %v", child.Guardians, err)
	}
}

func TestRosterKnowsAChildTypedInByHand(t *testing.T) {
	d, ctx := openDesk(t), t.Context()
	id, err := d.AddChild(ctx, d.owner, aChild("Ida", "Moss"))
	if err != nil {
		t.Fatal(err)
	}
	got, err := d.ImportRoster(ctx, d.owner, strings.NewReader(rosterHead+"R-9,Ida,Moss,2015-01-01,,,,,,\n"), false)
	if err != nil || got.Added != 0 || got.Changed != 1 {
		t.Errorf("%s, %v", got.Summary(), err)
	}
	if c, err := d.ChildRecord(ctx, d.owner, id); err != nil || c.RosterRef != "R-9" {
		t.Errorf("%+v, %v", c.ChildDetail, err)
	}
}

func BenchmarkReadRoster(b *testing.B) {
	var text strings.Builder
	text.WriteString(rosterHead)
	for i := range RosterRows {
		fmt.Fprintf(&text, "R-%d,Ada,Quill,2016-01-02,2025-09-01,,Quay %d,Amberclass,Queenie Quill,q%d@sample.example\n", i, i, i)
	}
	for b.Loop() {
		rows, problems := ReadRoster(io.LimitReader(strings.NewReader(text.String()), 1<<30), date("2026-03-04"))
		if len(rows) != RosterRows || len(problems) > 0 {
			b.Fatal(len(rows), problems)
		}
	}
}
