package report

import (
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"golang.org/x/text/unicode/norm"
)

// poppler runs one of its programs over a file; its readers know nothing of this package.
func poppler(t *testing.T, file []byte, program string, options ...string) string {
	t.Helper()
	tool, err := exec.LookPath(program)
	if err != nil {
		t.Skip(program + " (poppler-utils) is not here")
	}
	path := filepath.Join(t.TempDir(), "report.pdf")
	if err := os.WriteFile(path, file, 0o600); err != nil {
		t.Fatal(err)
	}
	args := append(options, path)
	if program == "pdftotext" {
		args = append(args, "-")
	}
	var complaints bytes.Buffer
	read := exec.Command(tool, args...)
	read.Stderr = &complaints
	out, err := read.Output()
	if err != nil || complaints.Len() > 0 {
		t.Fatalf("%s: %v %s", program, err, &complaints)
	}
	return norm.NFC.String(string(out))
}

// inOrder reports the first text that does not come after the one before it.
func inOrder(text string, wants []string) string {
	for _, want := range wants {
		_, after, found := strings.Cut(text, want)
		if !found {
			return want
		}
		text = after
	}
	return ""
}

// The order of reading aloud: what a child's part says, from its name to its cautions; ladders and rungs on them as drawn.
func readingOrder() []string {
	return []string{"Zoë Okonkwo-Lindqvist", "13 January to 31 March 2026", "Came to 9 of 11 lessons", "From the", "teacher", "listens with her whole body", "Next term we",
		"Secured", "Bunny hop with tall hips", "3 February: 5 of the last 5", "Low wheel over a rope", "Working on", "Wheel on a line", "18 of 20 turns", "Recheck",
		"Backward roll down a wedge", "What comes", "Kick up to a wall, two legs", "At home", "Tabletop rocks", "2 times 8", "stop if the wrists ache", "The ladders"}
}

// Poppler reads the structure as ISO 32000-1, 14.7 and 14.8 have it, and the content in the order in which it stands in the file.
func TestPDFReadsInOrder(t *testing.T) {
	r := sample()
	r.Children = r.Children[:1]
	file := writePDF(t, r)
	info := poppler(t, file, "pdfinfo")
	for _, want := range []string{"Tagged:          yes", "Title:           Term report, Tuesday Swifts, Spring term"} {
		if !strings.Contains(info, want) {
			t.Errorf("no %q in %s", want, info)
		}
	}
	structure, content := poppler(t, file, "pdfinfo", "-struct-text"), poppler(t, file, "pdftotext", "-raw")
	if missing := inOrder(structure, readingOrder()); missing != "" {
		t.Errorf("the structure lacks %q in its place: %s", missing, structure)
	}
	if missing := inOrder(content, readingOrder()); missing != "" {
		t.Errorf("the content lacks %q in its place: %s", missing, content)
	}
	var roles []string
	for line := range strings.SplitSeq(poppler(t, file, "pdfinfo", "-struct"), "\n") {
		if role, _, _ := strings.Cut(strings.TrimSpace(line), " "); strings.HasPrefix(role, "H") || strings.HasPrefix(role, "Figure") {
			roles = append(roles, role)
		}
	}
	want := []string{"H1", "H2", "H2", "H2", "H2", "H2", "H2", "H2"} // the name; six blocks and the ladders
	for range r.Children[0].Ladders {
		want = append(want, "H3", "Figure")
	}
	if want = append(want, "H2", "H2"); !slices.Equal(roles, want) { // how to read it, with care
		t.Errorf("headings and figures %v, want %v", roles, want)
	}
	for _, ornament := range []string{"continued", "page 1 of 2"} {
		if strings.Contains(structure, ornament) {
			t.Errorf("the structure holds the running line %q", ornament)
		}
	}
}

// What a ladder says to those who do not see it, all rungs with their state, also those left out of the drawing.
func TestLadderIsTold(t *testing.T) {
	got := fullChild().Ladders[1].told(0, 4)
	want := "Wheels, from the bottom. Low wheel over a rope: secure, 17 of 21 clean; Wheel on a line: working, 18 of 20 clean; Wheel to a lunge finish: waiting; One-handed wheel, near hand: waiting."
	if got != want {
		t.Errorf("%q, want %q", got, want)
	}
	r := sample()
	r.Children = r.Children[:1]
	if file := writePDF(t, r); !bytes.Contains(file, []byte("/Alt "+hexText(want))) {
		t.Error("the figure does not say so")
	}
}

// A line from right to left is drawn turned and told as it is read.
func TestRightToLeftIsTold(t *testing.T) {
	r := sample()
	r.Children = []Child{{Name: "נועם"}}
	if file := poppler(t, writePDF(t, r), "pdftotext", "-raw"); !strings.Contains(file, "נועם") {
		t.Error(file)
	}
}

func TestTagsNeedAFileOfTheLibrary(t *testing.T) {
	for _, file := range []string{"", "%PDF-1.7\n", "trailer\n/Size 3\n/Root 1 0 R\n/Info 2 0 R\nstartxref\n9\n%%EOF\n", "trailer\n/Size 900\n/Root 1 0 R\n/Info 2 0 R\nstartxref\n0\n%%EOF\n"} {
		if _, err := addTags([]byte(file), newTags()); err == nil {
			t.Errorf("%q was tagged", file)
		}
	}
}
