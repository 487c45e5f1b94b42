package kit

import (
	"strings"
	"testing"
)

func TestFigure(t *testing.T) {
	doc := render(t, Figure([]string{"tall-lunge", "handstand", "nonsense"}, FigureLarge))
	svg := doc.Find("svg.figure[role=img]")
	want := "Figure: from a tall lunge, arms by the ears, to a straight handstand."
	if got := svg.AttrOr("aria-label", ""); got != want || svg.Find("title").Text() != want {
		t.Errorf("the text is %q", got)
	}
	if heads := svg.Find("circle").Length(); heads != 2 {
		t.Errorf("%d heads", heads)
	}
	if doc.Find("[style]").Length() > 0 {
		t.Error("an inline style, which the pages forbid")
	}
	if nothing := render(t, Figure([]string{"nonsense"}, FigureSmall)); nothing.Find("svg").Length() > 0 {
		t.Error("an unknown pose is drawn")
	}
}

func TestPoseNames(t *testing.T) {
	for _, p := range Poses() {
		plain, turned := PlainPose(TurnedPose(p.Name))
		if plain != p.Name || !turned || !KnownPose(TurnedPose(p.Name)) || strings.TrimSpace(p.Says) == "" {
			t.Errorf("%q does not come back: %q", p.Name, plain)
		}
	}
}

func BenchmarkFigure(b *testing.B) {
	for b.Loop() {
		if err := Figure([]string{"tall-lunge", "wheel-in", "wheel-over", "tall-lunge-turned"}, FigureSmall).Render(b.Context(), &strings.Builder{}); err != nil {
			b.Fatal(err)
		}
	}
}
