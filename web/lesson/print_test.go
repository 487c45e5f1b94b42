package lesson_test

import (
	"fmt"
	"net/http"
	"net/http/httptest"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"testing"

	"rungbook/internal/app"
	"rungbook/internal/studio"
	"rungbook/web/lesson"
	"rungbook/web/static"
)

// A full evening fits one A4 page: 16 children, three stations, three rotations, three broken rules, every fourth child with a limit.
func TestPrintFitsOnePage(t *testing.T) {
	chromium, err := exec.LookPath("chromium")
	if err != nil {
		t.Skip("there is no Chromium on this machine to print with")
	}
	sheet := fullSheet()
	mux := http.NewServeMux()
	mux.Handle("/static/", static.Handler())
	mux.HandleFunc("/", func(w http.ResponseWriter, r *http.Request) {
		if err := lesson.PrintPage(sheet).Render(r.Context(), w); err != nil {
			t.Error(err)
		}
	})
	server := httptest.NewServer(mux)
	defer server.Close()
	file := filepath.Join(t.TempDir(), "plan.pdf")
	out, err := exec.CommandContext(t.Context(), chromium, "--headless", "--no-sandbox", "--disable-gpu", "--user-data-dir="+t.TempDir(),
		"--no-pdf-header-footer", "--print-to-pdf="+file, server.URL).CombinedOutput()
	if err != nil {
		t.Fatalf("print: %v\n%s", err, out)
	}
	pdf, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if keep := os.Getenv("RUNGBOOK_KEEP_PDF"); keep != "" {
		if err := os.WriteFile(keep, pdf, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	if n := len(regexp.MustCompile(`/Type\s*/Page\b[^s]`).FindAll(pdf, -1)); n != 1 {
		t.Errorf("the plan takes %d pages", n)
	}
	if !regexp.MustCompile(`/MediaBox\s*\[0 0 841\.\d+ 59[45]`).Match(pdf) {
		t.Error("the page is not A4 across")
	}
}

func fullSheet() app.LessonSheet {
	s := sampleSheet()
	for i := range 4 {
		c := s.Children[i]
		c.ID, c.Name = sampleID(60+i), fmt.Sprintf("Konstantina %c.", 'A'+i)
		s.Children = append(s.Children, c)
	}
	for i := range s.Children {
		s.Children[i].Group = i%3 + 1
		if i%4 == 0 {
			s.Children[i].Limits = []string{"No back-bends today"}
		}
	}
	for _, k := range []studio.BlockKind{studio.ArriveBlock, studio.WarmUpBlock, studio.ConditioningBlock, studio.StationsBlock, studio.CoolDownBlock} {
		s.Blocks = append(s.Blocks, app.SheetBlock{Block: studio.Block{Kind: k, Minutes: 12}, From: s.Lesson.StartsAt, To: s.Lesson.StartsAt,
			Named: []studio.Drill{{Name: "Joint by joint"}, {Name: "Squat to tiptoe"}, {Name: "Leg swings"}}})
	}
	for r := range s.Plan.Rows {
		for g := range s.Plan.Rows[r].Cells {
			s.Plan.Rows[r].Cells[g] = sampleCell(s, r+1, g+1)
		}
		s.Plan.Rows[r].Cells[r].Breaches = []string{"Bridge from lying needs a signed-off spotter, and nobody spots here."}
	}
	s.Plan.Broken = 3
	return s
}
