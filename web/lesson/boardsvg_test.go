package lesson_test

import (
	"encoding/xml"
	"errors"
	"io"
	"os"
	"strings"
	"testing"

	"rungbook/web/lesson"
)

// The picture in the project's introduction is made by the program: RUNGBOOK_UPDATE=1 writes it anew.
func TestPlanPictureIsUpToDate(t *testing.T) {
	const file = "../../deploy/plan-board.svg"
	picture := lesson.BoardSVG(sampleSheet())
	if os.Getenv("RUNGBOOK_UPDATE") == "1" {
		if err := os.WriteFile(file, []byte(picture), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	kept, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if string(kept) != picture {
		t.Error("deploy/plan-board.svg is not what the program draws: run this test with RUNGBOOK_UPDATE=1")
	}
}

// The picture is well-formed XML whatever the names hold, says everybody's name, and asks for nothing from elsewhere.
func TestPlanPicture(t *testing.T) {
	sheet := sampleSheet()
	sheet.Class.Name = `Terns & "co" <b>`
	sheet.Plan.Broken = 1
	sheet.Plan.Rows[2].Cells[0].Breaches = []string{"Bridge from lying needs a signed-off spotter, and nobody spots here."}
	picture := lesson.BoardSVG(sheet)
	var text strings.Builder
	for d := xml.NewDecoder(strings.NewReader(picture)); ; {
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			t.Fatalf("the picture is not well-formed: %v", err)
		}
		if chars, ok := token.(xml.CharData); ok {
			text.Write(chars)
		}
	}
	for _, c := range sheet.Children {
		if !strings.Contains(text.String(), c.Name) {
			t.Errorf("%s is not in the picture", c.Name)
		}
	}
	for _, want := range []string{sheet.Class.Name, "This plan breaks 1 rule", "5 turns each", "waits 4 min 40 s at most", "Bridge from lying needs a", "Mind: No weight on the hands", "Group 2, pinned"} {
		if !strings.Contains(text.String(), want) {
			t.Errorf("the picture does not say %q", want)
		}
	}
	for _, foreign := range []string{"href", "url(", "@import", "<script", "style="} {
		if strings.Contains(picture, foreign) {
			t.Errorf("the picture holds %s", foreign)
		}
	}
}
