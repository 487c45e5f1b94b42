package kit

import (
	"reflect"
	"strconv"
	"strings"
	"testing"

	"github.com/PuerkitoBio/goquery"
)

func sampleLadder() LadderView {
	return LadderView{Name: "Wheels", Who: "Mirela", Rungs: []Rung{
		{Name: "Side lunge and reach", State: Secure, Clean: 1, Evidence: "5 of the last 5 clean", URL: "/r/1"},
		{Name: "Cartwheel along a line", State: Recheck, Clean: 0.6, URL: "/r/2"},
		{Name: "Cartwheel into a step-through with the far hand first", State: Working, Clean: 0.5, Next: true, URL: "/r/3"},
		{Name: "One-handed cartwheel", State: Open, Clean: -1},
		{Name: "Running cartwheel", State: Waiting, Clean: -1},
	}}
}

func TestSplitWords(t *testing.T) {
	for _, c := range []struct {
		text  string
		width int
		limit int
		want  []string
	}{
		{"", 10, 2, nil},
		{"short", 10, 2, []string{"short"}},
		{"exactly ten", 11, 2, []string{"exactly ten"}},
		{"two words here", 9, 2, []string{"two words", "here"}},
		{"one-handed cartwheel", 8, 4, []string{"one-", "handed", "cartwhee", "l"}},
		{"step-through", 8, 2, []string{"step-", "through"}},
		{"a b c d e f", 3, 2, []string{"a b", "c…"}},
		{"  spaces   between ", 20, 2, []string{"spaces between"}},
		{"Þórsdóttir Ośko", 10, 2, []string{"Þórsdóttir", "Ośko"}},
		{"abcdefghij", 4, 2, []string{"abcd", "efg…"}},
	} {
		if got := SplitWords(c.text, c.width, c.limit); !reflect.DeepEqual(got, c.want) {
			t.Errorf("SplitWords(%q, %d, %d) = %q, want %q", c.text, c.width, c.limit, got, c.want)
		}
	}
}

func FuzzSplitWords(f *testing.F) {
	f.Add("Cartwheel into a step-through", 12, 3)
	f.Add("-", 1, 1)
	f.Fuzz(func(t *testing.T, text string, width, limit int) {
		if width < 1 || width > 200 || limit < 1 || limit > 20 {
			return
		}
		lines := SplitWords(text, width, limit)
		if len(lines) > limit {
			t.Fatalf("%d lines, limit %d", len(lines), limit)
		}
		for _, line := range lines {
			if n := len([]rune(line)); n > width {
				t.Fatalf("line of %d, width %d", n, width)
			}
		}
	})
}

func TestLadderTextAlternatives(t *testing.T) {
	l := sampleLadder()
	doc := render(t, LadderDrawing(l))
	want := "Mirela, Wheels: 1 of 5 rungs secure; working on Cartwheel into a step-through with the far hand first; to recheck: Cartwheel along a line."
	if got := attr(t, one(t, doc, "svg.ladder"), "aria-label"); got != want {
		t.Errorf("summary reads %q", got)
	}
	small := render(t, LadderSmall(l))
	if got := one(t, small, "svg[role=img] > title").Text(); got != want {
		t.Errorf("small title reads %q", got)
	}
	if got := attr(t, doc.Find("a.rung-link").First(), "aria-label"); got != "Side lunge and reach, secure, 5 of the last 5 clean" {
		t.Errorf("rung reads %q", got)
	}
}

func TestLadderClimbsFromTheBottom(t *testing.T) {
	doc := render(t, LadderDrawing(sampleLadder()))
	last := 1 << 30
	doc.Find("rect.rung-bar").Each(func(_ int, bar *goquery.Selection) {
		y, err := strconv.Atoi(attr(t, bar, "y"))
		if err != nil || y < 0 || y >= last {
			t.Errorf("bar at %d after one at %d (%v)", y, last, err)
		}
		last = y
	})
}

func TestRungsDoNotOverlap(t *testing.T) {
	placed, total := sampleLadder().place()
	top := total
	for _, p := range placed {
		if p.Y+p.H > top {
			t.Errorf("%q reaches to %d, the one above or the edge begins at %d", p.Name, p.Y+p.H, top)
		}
		if p.Y < 0 || p.H < barHeight {
			t.Errorf("%q: y %d, height %d", p.Name, p.Y, p.H)
		}
		top = p.Y
	}
}

func TestEachStateHasAWordAndItsOwnShape(t *testing.T) {
	shapes := map[string]State{}
	for _, s := range []State{Waiting, Open, Working, Secure, Recheck} {
		doc := render(t, Tag(s))
		if got := textOf(one(t, doc, ".tag")); got != s.word(nil) || got == "" {
			t.Errorf("%s: reads %q", s, got)
		}
		shape, err := one(t, doc, "svg").Html()
		if err != nil {
			t.Fatal(err)
		}
		if other, taken := shapes[shape]; taken {
			t.Errorf("%s and %s have the same shape", s, other)
		}
		shapes[shape] = s
	}
}

func TestCleanRateIsALength(t *testing.T) {
	for _, c := range []struct {
		clean float64
		want  string
	}{{0, "0"}, {0.5, "134"}, {1, "268"}, {7, "268"}} {
		doc := render(t, LadderDrawing(LadderView{Name: "X", Rungs: []Rung{{Name: "A", State: Working, Clean: c.clean}}}))
		if got := attr(t, one(t, doc, "rect.rate-fill"), "width"); got != c.want {
			t.Errorf("%.1f fills %s, want %s", c.clean, got, c.want)
		}
	}
	unseen := render(t, LadderDrawing(LadderView{Name: "X", Rungs: []Rung{{Name: "A", State: Open, Clean: -1}}}))
	if unseen.Find(".rate-track").Length() != 0 {
		t.Error("a rate is drawn where nothing was seen")
	}
}

func TestPlainLadderClaimsNothing(t *testing.T) {
	doc := render(t, LadderDrawing(LadderView{Name: "Rolls", Plain: true, Rungs: []Rung{{Name: "Rock and stand"}}}))
	if doc.Find(".rung-word, .state-shape, .rate-fill").Length() != 0 {
		t.Error("a library ladder shows a state")
	}
	if got := attr(t, one(t, doc, "svg.ladder"), "aria-label"); got != "Rolls: 1 rung." {
		t.Errorf("summary reads %q", got)
	}
}

func TestSmallLadderStaysInItsFrame(t *testing.T) {
	for _, n := range []int{0, 1, 5, 12, 40} {
		l := LadderView{Name: strings.Repeat("x", n), Rungs: make([]Rung, n)}
		for _, r := range l.placeSmall() {
			if r.Y < 0 || r.Y+r.H > smallHeight {
				t.Errorf("%d rungs: bar from %.1f to %.1f", n, r.Y, r.Y+r.H)
			}
		}
	}
}
