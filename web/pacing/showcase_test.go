package pacing_test

import (
	"net/http"
	"strings"
	"testing"

	"rungbook/internal/testkit"
	"rungbook/web/sitetest"
)

// The sample's pieces: class A's Amberpiece at the showcase, everybody does hs-hold and Aliquot alone sp-shape; it was accepted that
// Aliquot stands in the picture for hs-hold. Nobody has either rung secure.
var (
	showcaseA = "/classes/" + testkit.SampleID("c0a0").String() + "/showcase"
	pieceA    = showcaseA + "/" + testkit.SampleID("71a0").String()
	partA     = pieceA + "/parts/" + testkit.SampleID("72a1").String()
	azimuth   = testkit.SampleID("c1a2").String()
)

func TestShowcasePages(t *testing.T) {
	s := sitetest.Open(t)
	p := s.Must(s.Get(teacherA, showcaseA), http.StatusOK)
	s.Says(p, ".piece-line h2", "Amberpiece")
	s.Says(p, ".piece-line .hint", "Showcase on Saturday 28 March")
	p = s.Must(s.Get(teacherA, pieceA), http.StatusOK)
	s.Says(p, "h1", "Amberpiece")
	s.Says(p, "#ready .table", "Hold")
	s.Says(p, "#children", "Accepted in its place: Stands in the picture.")
	s.Says(p, "#adults", "Hanne Anvil")
	s.Says(p, "#parts", "Everybody in the class: Hold.")
	s.Says(p, ".cautions", "The teacher who is present decides on the day")
	if n := p.Find("[style], main script").Length(); n != 0 {
		t.Errorf("%d inline styles or scripts", n)
	}
	sheet := s.Must(s.Get(teacherA, pieceA+"/print"), http.StatusOK)
	s.Says(sheet, ".piece-sheet", "Aliquot A.")
	for _, word := range []string{"Alderleak", "Cedarleak", "pieceleak", "care limit:"} {
		if strings.Contains(sheet.Find("main").Text(), word) {
			t.Errorf("the list for the dressing room shows %q", word)
		}
	}
	for _, path := range []string{showcaseA, pieceA, pieceA + "/print", pieceA + "/edit", partA} {
		for _, other := range []string{teacherB, "ac04", "ac06"} { // another class's teacher, an assistant, a parent
			s.Must(s.Get(other, path), http.StatusNotFound)
		}
	}
	s.Must(s.Get(teacherA, showcaseA+"/"+testkit.SampleID("71b0").String()), http.StatusNotFound)    // of another class
	s.Must(s.Get(teacherA, pieceA+"/parts/"+testkit.SampleID("72b0").String()), http.StatusNotFound) // of another piece
}

// A swap is accepted, shown and taken back; what is not offered is refused, and so is a change on an older version.
func TestSwaps(t *testing.T) {
	s := sitetest.Open(t)
	s.Must(s.Post(teacherA, pieceA+"/swap", form("1", "child", azimuth, "rung", "hs-hold", "instead", "hs-return")), http.StatusConflict) // not secure: not offered
	s.Must(s.Post(teacherA, pieceA+"/swap", form("1", "child", azimuth, "rung", "sp-shape")), http.StatusNotFound)                        // does not do it
	s.Must(s.Post(teacherA, pieceA+"/swap", form("1", "child", testkit.SampleID("c1b1").String(), "rung", "hs-hold")), http.StatusNotFound)
	s.Must(s.Post(teacherA, pieceA+"/swap", form("1", "child", azimuth, "rung", "hs-hold")), http.StatusSeeOther)
	if n := s.Get(teacherA, pieceA).Find("#children form[action$='/undo']").Length(); n != 2 {
		t.Errorf("%d swaps can be taken back, want 2", n)
	}
	p := s.Must(s.Post(teacherA, pieceA+"/undo", form("1", "child", azimuth, "rung", "hs-hold")), http.StatusConflict)
	s.Says(p, "[role=alert]", "Somebody else changed this piece meanwhile.")
	s.Must(s.Post(teacherA, pieceA+"/undo", form("2", "child", azimuth, "rung", "hs-hold")), http.StatusSeeOther)
	s.Must(s.Post(teacherA, pieceA+"/undo", form("3", "child", azimuth, "rung", "hs-hold")), http.StatusNotFound)
}

func TestPieceForms(t *testing.T) {
	s := sitetest.Open(t)
	p := s.Must(s.Post(teacherA, showcaseA+"/new", form("", "name", "amberpiece", "on_day", "2027-01-01", "rung", "hs-hold")), http.StatusUnprocessableEntity)
	s.Says(p, "form", "Another piece of this class has this name.")
	s.Says(p, "form", "A day of the term, from 5 January to 3 April 2026.")
	if p.Find("input[value=hs-hold][checked]").Length() != 1 {
		t.Error("the tick is gone")
	}
	s.Must(s.Post(teacherA, showcaseA+"/new", form("", "name", "Third bell")), http.StatusUnprocessableEntity) // no rung
	s.Must(s.Post(teacherA, showcaseA+"/new", form("", "name", "Third bell", "rung", "no-such")), http.StatusNotFound)
	s.Must(s.Post(teacherA, showcaseA+"/new", form("", "name", "Third bell", "on_day", "2026-03-20", "rung", "sp-shape")), http.StatusSeeOther)
	s.Says(s.Get(teacherA, showcaseA), ".plain-list", "Day of the piece on Friday 20 March")

	s.Must(s.Post(teacherA, partA, form("1", "part", "Middle", "rung", "sp-shape")), http.StatusUnprocessableEntity) // nobody in it
	s.Must(s.Post(teacherA, partA, form("1", "part", "Middle", "rung", "sp-shape", "child", azimuth)), http.StatusSeeOther)
	s.Says(s.Get(teacherA, pieceA), "#parts", "Azimuth Cedarleak: Dish.")
	s.Must(s.Post(teacherA, partA, form("2", "part", "Middle", "rung", "sp-shape", "child", testkit.SampleID("c1b1").String())), http.StatusNotFound)
	s.Must(s.Post(teacherA, partA+"/remove", form("2")), http.StatusSeeOther)
	s.Must(s.Post(teacherA, pieceA+"/edit", form("3", "name", "Amber light", "note", "slowly")), http.StatusSeeOther)
	s.Says(s.Get(teacherA, pieceA), ".piece-note", "slowly")
	s.Must(s.Post(teacherA, pieceA+"/remove", form("4")), http.StatusSeeOther)
	s.Must(s.Get(teacherA, pieceA), http.StatusNotFound)
}

// The forecast says how many will be ready for each piece, as a class and each for itself, the same each time.
func TestForecastOfPieces(t *testing.T) {
	s := sitetest.Open(t)
	id := "#piece-" + testkit.SampleID("71a0").String()
	p := s.Get(teacherA, term+"/forecast")
	s.Says(p, id, "How many will be ready for Amberpiece")
	s.Says(p, id, "Nobody is likely to be ready for Amberpiece by 28 March")
	if n := p.Find(id + " .odds-bar").Length(); n != 3 {
		t.Errorf("%d bars, want 0, 1 and 2 children", n)
	}
	if p.Find(id).Text() != s.Get(teacherA, term+"/forecast").Find(id).Text() {
		t.Error("the same class gets another answer")
	}
}
