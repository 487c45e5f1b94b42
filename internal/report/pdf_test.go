package report

import (
	"bytes"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"golang.org/x/text/unicode/norm"
)

func writePDF(t testing.TB, r TermReport) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := WritePDF(&b, r); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// pages reads the pages with poppler's pdftotext, a reader of its own; each page's blanks are made single.
func pages(t testing.TB, file []byte) []string {
	t.Helper()
	tool, err := exec.LookPath("pdftotext")
	if err != nil {
		t.Skip("pdftotext (poppler-utils) is not here")
	}
	path := filepath.Join(t.TempDir(), "report.pdf")
	if err := os.WriteFile(path, file, 0o600); err != nil {
		t.Fatal(err)
	}
	out, err := exec.Command(tool, "-enc", "UTF-8", path, "-").Output()
	if err != nil {
		t.Fatalf("pdftotext: %v", err)
	}
	var all []string
	for page := range strings.SplitSeq(strings.TrimSuffix(string(out), "\f"), "\f") {
		all = append(all, strings.Join(strings.Fields(page), " "))
	}
	return all
}

func TestPDFSaysWhatTheValuesSay(t *testing.T) {
	all := pages(t, writePDF(t, sample()))
	if len(all) != 4 {
		t.Fatalf("%d pages, want 2 + 1 + 1", len(all))
	}
	for page, wants := range [][]string{
		{"Zoë Okonkwo-Lindqvist", "Gullwing Room · Tuesday Swifts · Spring term", "13 January to 31 March 2026. Prepared on 2 April 2026.",
			"Came to 9 of 11 lessons. 3 rungs secured, 4 being worked on, 1 to recheck.", "3 February: 5 of the last 5 clean, in 3 lessons.",
			"18 of 20 turns clean; over many more, likely 69% to 98%.",
			"8 of 10 turns clean: a first impression; over many more, anywhere from 49% to 95%.",
			"Not marked yet this term.", "Last seen on 20 January 2026.", "Everything before it is secure.", "2 times 8",
			"The ladders", "Working, 18 of 20 clean", "Recheck, 1 of 3 clean", "Waiting", "page 1 of 2"},
		{"Zoë Okonkwo-Lindqvist, continued", "Working, 8 of 10 clean", "call the emergency services, even if it eases", "The teacher who is present decides", "page 2 of 2"},
		{"Ngọc Ánh Strauẞ", "No lesson of this class was held for this child. No rung secured, none being worked on. No turn was marked in this term.", "No rung was secured in this term.",
			"call the emergency services", "page 1 of 1"},
		{"Łucja Ðorić", "Came to 1 of 10 lessons. No rung secured, 1 being worked on. This rests on only 2 turns marked: a first impression.", "1 of 2 turns clean: a first impression",
			"call the emergency services", "page 1 of 1"},
	} {
		for _, want := range wants {
			if !strings.Contains(norm.NFC.String(all[page]), want) {
				t.Errorf("page %d does not say %q; it says: %s", page+1, want, all[page])
			}
		}
	}
	if strings.Contains(all[2], "Zoë") || strings.Contains(all[3], "Ngọc") {
		t.Error("a child's page names another child")
	}
}

func TestPDFIsTheSameForTheSameValues(t *testing.T) {
	first := writePDF(t, sample())
	for range 3 {
		if !bytes.Equal(first, writePDF(t, sample())) {
			t.Fatal("the same values gave other bytes")
		}
	}
	later := sample()
	later.Prepared = later.Prepared.AddDate(0, 0, 1)
	if bytes.Equal(first, writePDF(t, later)) {
		t.Error("another day gave the same bytes")
	}
}

func TestPDFTakesAnyText(t *testing.T) {
	for name, text := range map[string]string{
		"emoji": "Ana 🌟👩‍👧", "beyond the plane": "Lin \U00020000", "not UTF-8": "a\xffb", "NUL": "a\x00b", "right to left": "נועם בן־דוד and عائشة",
		"Chinese": "田中", "long word": strings.Repeat("W", 500), "long": strings.Repeat("word ", 3000), "nothing": "", "brackets": `\(a)\ {nb}`,
		"marks": strings.Repeat("e\u0301\u0323\u0300", 50), "lines": "a\r\nb\nc\n\n\nd",
	} {
		r := sample()
		c := fullChild()
		c.Name, c.Note = text, text
		c.Secured[0].Rung, c.Working[0].Ladder, c.Next[0].Why, c.HomeDrills[0].Dose = text, text, text, text
		c.Ladders[0].Name, c.Ladders[0].Rungs[0].Name = text, text
		r.Studio, r.Class, r.Term, r.Children = text, text, text, []Child{c}
		all := pages(t, writePDF(t, r))
		if last := all[len(all)-1]; !strings.Contains(last, fmt.Sprintf("page %d of %d", len(all), len(all))) || !strings.Contains(last, "emergency services") {
			t.Errorf("%s: the last of %d pages has no number or no caution: %s", name, len(all), last)
		}
	}
}

func TestPDFSaysWhenLettersAreLost(t *testing.T) {
	const said = "Some letters cannot be printed"
	r := sample()
	r.Children = []Child{{Name: "田中 Mira"}, {Name: "Zoë 🌟"}}
	all := pages(t, writePDF(t, r))
	if !strings.Contains(all[0], said) || !strings.Contains(all[0], "�� Mira") {
		t.Errorf("lost letters are not named: %s", all[0])
	}
	if strings.Contains(all[1], said) {
		t.Errorf("nothing but an emoji was left out, yet: %s", all[1])
	}
}

func TestPDFSplitsALongLadder(t *testing.T) {
	r := sample()
	long := Ladder{Name: "Long"}
	for i := range 40 {
		long.Rungs = append(long.Rungs, Rung{fmt.Sprintf("Step %d", i+1), StateWorking, i, 40})
	}
	r.Children = []Child{{Name: "Mira", Ladders: []Ladder{long}}}
	text := strings.Join(pages(t, writePDF(t, r)), " ")
	for _, want := range []string{"Long, rungs 1 to 14", "Long, rungs 15 to 28", "Long, rungs 29 to 40"} {
		if !strings.Contains(text, want) {
			t.Errorf("no %q in %s", want, text)
		}
	}
	for _, rung := range long.Rungs {
		if !strings.Contains(text, rung.Name+" ") || !strings.Contains(text, fmt.Sprintf("Working, %d of 40 clean", rung.Clean)) {
			t.Errorf("%s is not drawn", rung.Name)
		}
	}
}

func TestPDFOfNobody(t *testing.T) {
	r := sample()
	r.Children = nil
	if all := pages(t, writePDF(t, r)); len(all) != 1 || !strings.Contains(all[0], "Nobody was in this class") {
		t.Errorf("pages: %q", all)
	}
}

func TestPrintable(t *testing.T) {
	known, err := newLetters()
	if err != nil {
		t.Fatal(err)
	}
	for text, want := range map[string]string{
		"Zoe\u0308":            "Zoë",
		"Thu\u031b\u0323":      "Thụ\u031b",
		" a \t b\r\nc ":        "a b c",
		"Ana 🌟":                "Ana",
		"a\u200db\ufe0f":       "ab",
		"田":                    "\ufffd",
		"\U00020000":           "\ufffd",
		"\xff":                 "\ufffd",
		"Łucja Ðorić Strauẞ ✓": "Łucja Ðorić Strauẞ ✓",
	} {
		if got := known.printable(text); got != norm.NFC.String(want) {
			t.Errorf("printable(%+q) = %+q, want %+q", text, got, want)
		}
	}
}

// The order is that of the Unicode Bidirectional Algorithm (UAX 9) for a paragraph from left to right.
func TestVisual(t *testing.T) {
	for line, want := range map[string]string{
		"Mira":          "Mira",
		"אבג":           "גבא",
		"אב גד and x":   "דג בא and x",
		"Mira אבג, end": "Mira גבא, end",
	} {
		if got := visual(line); got != want {
			t.Errorf("visual(%q) = %q, want %q", line, got, want)
		}
	}
}

// Whole percentages keep their value, others are rounded outwards.
func TestWorkingWords(t *testing.T) {
	for _, c := range []struct {
		w    Working
		want string
	}{
		{Working{Clean: 0, Marks: 1, Low: 0, High: .7935}, "0 of 1 turn clean: a first impression; over many more, anywhere from 0% to 80%."},
		{Working{Clean: 10, Marks: 10, Low: .7224672, High: 1}, "10 of 10 turns clean; over many more, likely 72% to 100%."},
		{Working{Clean: 57, Marks: 100, Low: .29, High: .58}, "57 of 100 turns clean; over many more, likely 29% to 58%."},
		{Working{}, "Not marked yet this term."},
	} {
		if got := c.w.words(); got != c.want {
			t.Errorf("%+v: %q, want %q", c.w, got, c.want)
		}
	}
}

func TestAttendanceWords(t *testing.T) {
	for _, c := range []struct {
		child Child
		want  string
	}{
		{Child{Attended: 1, Lessons: 1}, "Came to 1 of 1 lesson."},
		{Child{Attended: 9, Lessons: 11, Unnoted: 2}, "Came to 9 of 11 lessons; attendance was not noted for 2 more."},
		{Child{Unnoted: 1}, "Attendance was not noted for 1 lesson."},
		{Child{}, "No lesson of this class was held for this child."},
	} {
		if got := c.child.attendance(); got != c.want {
			t.Errorf("%+v: %q, want %q", c.child, got, c.want)
		}
	}
}

func TestSpan(t *testing.T) {
	if got, want := span(on(2025, 11, 3), on(2026, 1, 30)), "3 November 2025 to 30 January 2026"; got != want {
		t.Errorf("span over a new year = %q, want %q", got, want)
	}
}

func BenchmarkPDF(b *testing.B) {
	b.Run("300 children in one file", func(b *testing.B) {
		r := bigClass(300)
		b.ReportAllocs()
		for b.Loop() {
			if err := WritePDF(io.Discard, r); err != nil {
				b.Fatal(err)
			}
		}
	})
	b.Run("300 files", func(b *testing.B) {
		r := bigClass(300)
		b.ReportAllocs()
		for b.Loop() {
			for i := range r.Children {
				one := r
				one.Children = r.Children[i : i+1]
				if err := WritePDF(io.Discard, one); err != nil {
					b.Fatal(err)
				}
			}
		}
	})
}

func BenchmarkCSV(b *testing.B) {
	r := bigClass(300)
	for b.Loop() {
		if err := WriteCSV(io.Discard, r); err != nil {
			b.Fatal(err)
		}
	}
}
