package kit

import (
	"math"
	"strings"
	"testing"

	"github.com/PuerkitoBio/goquery"
	"github.com/a-h/templ"
)

func samplePage() Page {
	return Page{Title: "Mirela", Section: SectionChildren, Studio: "Saltholm Steps", UserName: "Ines", UserRoles: "Teacher",
		Nav: NavFor(nil, NavRoles{Teacher: true}), Crumbs: []Crumb{{Label: "Children", URL: "/children"}}, SignOutURL: "/sign-out",
		Flash: &Notice{Kind: Done, Text: "Saved."}, Footnote: "The teacher present decides."}
}

func TestLayoutHasItsLandmarks(t *testing.T) {
	doc := renderWith(t, Layout(samplePage()), Hidden("a", "b"))
	if got := textOf(one(t, doc, "h1")); got != "Mirela" {
		t.Errorf("h1 reads %q", got)
	}
	if got := attr(t, doc.Find("body a").First(), "href"); got != "#main" {
		t.Errorf("first link leads to %q, want the skip link", got)
	}
	one(t, doc, "main#main h1")
	one(t, doc, "main#main input")
	one(t, doc, "#live[role=status]")
	if got := textOf(one(t, doc, "nav[aria-label=Main] [aria-current]")); got != "Children" {
		t.Errorf("current section: %q", got)
	}
	if got := textOf(one(t, doc, "#flash")); got != "Done: Saved." {
		t.Errorf("flash reads %q", got)
	}
	if attr(t, one(t, doc, ".menu form"), "method") != "post" {
		t.Error("sign-out is not a post")
	}
	if got := one(t, doc, "title").Text(); got != "Mirela – Saltholm Steps" {
		t.Errorf("tab title %q", got)
	}
	if attr(t, one(t, doc, "html"), "lang") != "en-GB" {
		t.Error("language is missing")
	}
}

func TestBarePageShowsNoNavigation(t *testing.T) {
	doc := render(t, Bare(samplePage()))
	if doc.Find("nav, .menu").Length() != 0 {
		t.Error("navigation is drawn")
	}
	one(t, doc, "main h1")
}

// A strict content security policy drops styles and scripts inside a page.
func TestNothingIsInline(t *testing.T) {
	pages := map[string]*goquery.Document{
		"layout": renderWith(t, Layout(samplePage()), LadderDrawing(sampleLadder())),
		"print":  renderWith(t, Print(samplePage()), Board(sampleBoard())),
		"bare":   renderWith(t, Bare(samplePage()), Bars(BarsView{Title: "Turns", Bars: []Bar{{Label: "A", Value: 1, Text: "1"}}})),
	}
	for name, doc := range pages {
		doc.Find("*").Each(func(_ int, s *goquery.Selection) {
			for _, a := range s.Nodes[0].Attr {
				if a.Key == "style" || strings.HasPrefix(a.Key, "on") {
					t.Errorf("%s: %s has %s", name, goquery.NodeName(s), a.Key)
				}
			}
		})
		doc.Find("style, script:not([src])").Each(func(_ int, s *goquery.Selection) {
			t.Errorf("%s: inline %s", name, goquery.NodeName(s))
		})
		doc.Find("[src], link[href]").Each(func(_ int, s *goquery.Selection) {
			if url := s.AttrOr("src", s.AttrOr("href", "")); !strings.HasPrefix(url, "/static/") {
				t.Errorf("%s: loads %q", name, url)
			}
		})
	}
}

func TestNavigationFollowsTheRole(t *testing.T) {
	for _, c := range []struct {
		name  string
		roles NavRoles
		want  string
	}{
		{"owner", NavRoles{Owner: true}, "Today Classes Children Ladders Reports Studio"},
		{"teacher", NavRoles{Teacher: true}, "Today Classes Children Ladders Reports"},
		{"assistant sees today only", NavRoles{Assistant: true}, "Today"},
		{"parent sees home only", NavRoles{Parent: true}, "Home"},
		{"owner with a child in class", NavRoles{Owner: true, Teacher: true, Parent: true}, "Today Classes Children Ladders Reports Studio Home"},
		{"nobody", NavRoles{}, ""},
	} {
		var labels []string
		for _, item := range NavFor(nil, c.roles) {
			labels = append(labels, item.Label)
		}
		if got := strings.Join(labels, " "); got != c.want {
			t.Errorf("%s: %q, want %q", c.name, got, c.want)
		}
	}
}

func TestTableNamesEachCell(t *testing.T) {
	doc := render(t, Table(TableView{Caption: "Children", Columns: []Column{{Label: "Name"}, {Label: "Lessons", Numeric: true}},
		Rows: []Row{{Cells: []Cell{Link("Jun", "/c/1"), Text("12")}}}}))
	if got := textOf(one(t, doc, "caption")); got != "Children" {
		t.Errorf("caption reads %q", got)
	}
	if got := attr(t, one(t, doc, "td[role=cell].numeric"), "data-label"); got != "Lessons" {
		t.Errorf("cell is labelled %q", got)
	}
	if got := textOf(one(t, doc, "th[scope=row]")); got != "Jun" {
		t.Errorf("row is named %q", got)
	}
}

func sampleBoard() BoardView {
	return BoardView{Caption: "Plan", Stations: []BoardStation{{Name: "Wheels"}, {Name: "Shapes"}}, Rows: []BoardRow{{Name: "Rotation 1", Time: "16:20", Cells: []BoardCell{
		{Group: "Group 1", Lead: "Ines", Spotter: "Noor", Pinned: true, Children: []BoardChild{{Name: "Jun", Activity: "Roll", State: Working, Limit: "no back-bends today"}}, Breaches: []string{"Noor is not signed off for this rung."}},
		{},
	}}}}
}

func TestBoardSaysWhatIsBroken(t *testing.T) {
	doc := render(t, Board(sampleBoard()))
	cell := one(t, doc, "td.board-broken")
	if got := textOf(cell.Find(".breach")); got != "Noor is not signed off for this rung." {
		t.Errorf("breach reads %q", got)
	}
	if cell.Find(".breach svg").Length() != 1 {
		t.Error("breach has no icon")
	}
	for _, want := range []string{"Runs it: Ines", "Spots: Noor", "Working: Roll", "no back-bends today", "pinned"} {
		if !strings.Contains(textOf(cell), want) {
			t.Errorf("cell does not say %q: %q", want, textOf(cell))
		}
	}
	if got := textOf(one(t, doc, "td.board-rest")); got != "No group" {
		t.Errorf("resting station reads %q", got)
	}
	if got := attr(t, cell, "data-label"); got != "Wheels" {
		t.Errorf("cell is labelled %q", got)
	}
}

func TestNoticesHaveAWord(t *testing.T) {
	for kind, word := range map[NoticeKind]string{"": "Note:", Info: "Note:", Warning: "Warning:", Failure: "Problem:", Done: "Done:"} {
		doc := render(t, NoticeBox(Notice{Kind: kind, Text: "Text."}))
		if got := textOf(one(t, doc, ".notice")); got != word+" Text." {
			t.Errorf("%q reads %q", kind, got)
		}
	}
}

func TestEveryIconIsDrawnAndHidden(t *testing.T) {
	for _, name := range []string{"mat", "spotter", "two-sides", "home", "stop", "clock", "back", "wrists", "landing", "warning", "check",
		"cross", "info", "plus", "print", "pin", "person", "people", "forward", "return", "up", "down", "offline", "note", "calendar", "ladder", "download", "lock"} {
		svg := one(t, render(t, Icon(name)), "svg")
		if svg.Children().Length() == 0 || attr(t, svg, "aria-hidden") != "true" {
			t.Errorf("icon %q is empty or read out", name)
		}
	}
}

func TestSparkLeavesGaps(t *testing.T) {
	doc := render(t, Spark(SparkView{Title: "Clean rate, 0 to 1", Values: []float64{0, 1, math.NaN(), 0.5}, Max: 1}))
	if n := doc.Find("path.spark-line").Length(); n != 2 {
		t.Errorf("%d lines, want 2", n)
	}
	if got := attr(t, doc.Find("path.spark-line").First(), "d"); got != "M4 28L41.33 4" {
		t.Errorf("first line is %q", got)
	}
	if got := attr(t, one(t, doc, "svg[role=img]"), "aria-label"); got != "Clean rate, 0 to 1" {
		t.Errorf("spark reads %q", got)
	}
	for _, values := range [][]float64{nil, {math.NaN()}, {3}, {2, 2}} {
		html, _ := render(t, Spark(SparkView{Title: "x", Values: values})).Html()
		if strings.Contains(html, "NaN") || strings.Contains(html, "Inf") {
			t.Errorf("%v draws no number: %s", values, html)
		}
	}
}

func TestBarsShareTheLongest(t *testing.T) {
	doc := render(t, Bars(BarsView{Title: "Turns", Bars: []Bar{{Label: "A", Value: 4, Text: "4"}, {Label: "B", Value: 1, Text: "1"}}}))
	var widths []string
	doc.Find("rect.bar-fill").Each(func(_ int, s *goquery.Selection) { widths = append(widths, attr(t, s, "width")) })
	if strings.Join(widths, " ") != "100 25" {
		t.Errorf("widths %v", widths)
	}
}

func TestEmptyTeachesTheNextStep(t *testing.T) {
	doc := render(t, Empty(EmptyState{Title: "No lesson is planned yet", Button: &Action{Label: "Plan a lesson", URL: "/plan"}}))
	if got := attr(t, one(t, doc, "a.button"), "href"); got != "/plan" {
		t.Errorf("button leads to %q", got)
	}
}

func TestDialogNeedsNoScript(t *testing.T) {
	doc := renderWith(t, Dialog("why", "How this was worked out"), templ.Raw("<p>By hand.</p>"))
	dialog := one(t, doc, "#why[popover][role=dialog]")
	if got := textOf(one(t, doc, "#"+attr(t, dialog, "aria-labelledby"))); got != "How this was worked out" {
		t.Errorf("dialog is named %q", got)
	}
	one(t, doc, "button[popovertarget=why]")
}
