package sheet_test

import (
	"strings"
	"testing"

	"github.com/PuerkitoBio/goquery"
)

// Each button names the outcome and the child, since a reader hears it alone (WCAG 2.2, 2.4.6 Headings and Labels).
func TestMarkButtonsNameTheChild(t *testing.T) {
	h := open(t)
	page := h.page(teacherA, "/lessons/"+id("1ea0")+"/sheet", 200)
	row := page.Find(".sheet-row[data-child='" + id("c1a1") + "']")
	name, _ := row.Attr("data-name")
	var labels []string
	row.Find(".mark-button").Each(func(_ int, b *goquery.Selection) { labels = append(labels, b.AttrOr("aria-label", "")) })
	if got, want := strings.Join(labels, "; "), "Missed for "+name+"; Supported for "+name+"; Clean for "+name; name == "" || got != want {
		t.Errorf("the buttons are called %q, want %q", got, want)
	}
	if n := page.Find(".sheet-cell:not([hidden])").Length(); n != 1 {
		t.Errorf("%d groups are open at once", n)
	}
	if page.Find(".stop-button[href$='/stop']").Length() != 1 {
		t.Error("the stop button is not there")
	}
	drill := page.Find(".sheet-row[data-child='" + id("c1a2") + "']")
	if drill.Find(".mark-button").Length() != 0 || !strings.Contains(drill.Text(), "nothing to mark") {
		t.Errorf("a drill is offered to be marked: %s", drill.Text())
	}
}

// Each form of the page carries an id of its own, so that sending it twice is one item and two of them are two.
func TestFormsOfTheSheetHaveIdsOfTheirOwn(t *testing.T) {
	seen := map[string]bool{}
	open(t).page(teacherA, "/lessons/"+id("1ea0")+"/sheet", 200).Find("#sheet input[name=id]").Each(func(_ int, in *goquery.Selection) {
		v := in.AttrOr("value", "")
		if len(v) != 36 || seen[v] {
			t.Errorf("id %q is none, or comes twice", v)
		}
		seen[v] = true
	})
	if len(seen) == 0 {
		t.Fatal("no form has an id")
	}
}

// What is kept on a device: first names with an initial, limits as actions. An assistant gets no staff to note and no way to plan.
func TestWhatTheSheetShowsAnAssistant(t *testing.T) {
	h := open(t)
	page := h.page(helperA, "/lessons/"+id("1ea0")+"/sheet", 200)
	if page.Find("[data-of=staff], #plan-again").Length() != 0 {
		t.Error("an assistant is offered what only a teacher may do")
	}
	var families []string
	rows, err := h.rows.Query(t.Context(), "select family_name from child_detail where child_id = any($1)", []string{id("c1a1"), id("c1a2")})
	if err != nil {
		t.Fatal(err)
	}
	for rows.Next() {
		var name string
		if err := rows.Scan(&name); err != nil {
			t.Fatal(err)
		}
		families = append(families, name)
	}
	for _, name := range families {
		if strings.Contains(page.Text(), name) {
			t.Errorf("the page has the family name %s", name)
		}
	}
	if len(families) != 2 {
		t.Fatalf("read %d families", len(families))
	}
	for _, who := range []string{teacherB, helperB, parentA} {
		h.page(who, "/lessons/"+id("1ea0")+"/sheet", 404)
	}
}
