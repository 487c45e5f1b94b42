package standing_test

import (
	"net/http"
	"net/url"
	"strings"
	"testing"

	"github.com/PuerkitoBio/goquery"
	"rungbook/web/sitetest"
)

const (
	owner    = "ac01"
	teacherA = "ac02"
	teacherB = "ac03"
	class    = "/classes/00000000-0000-4000-8000-00000000c0a0"
	child    = "/children/00000000-0000-4000-8000-00000000c1a1"
	mark     = "00000000-0000-4000-8000-00000000a0a1"
	limit    = child + "/limits/00000000-0000-4000-8000-00000000ca01"
	given    = child + "/home/00000000-0000-4000-8000-0000000040a1"
)

func TestClassPageDrawsEveryChild(t *testing.T) {
	s := sitetest.Open(t)
	p := s.Must(s.Get(teacherA, class), http.StatusOK)
	s.Says(p, "h1", "Amberclass")
	if n := p.Find(".stand-grid tbody tr").Length(); n != 2 {
		t.Errorf("%d rows, want one a child", n)
	}
	if n := p.Find(".stand-grid td svg.ladder-tiny").Length(); n != 2 {
		t.Errorf("%d tiny ladders, want one a child and ladder of the term", n)
	}
	s.Says(p, ".stand-grid th .tag-warm", "limitdo-a1")
	s.Says(p, "#spread", "Small kick and return")
	if n := p.Find(`#lessons a[href="/lessons/00000000-0000-4000-8000-000000001ea0"]`).Length(); n != 1 {
		t.Errorf("the lesson that is on stands %d times in the list", n)
	}
	s.Must(s.Get(teacherB, class), http.StatusNotFound)
	s.Must(s.Get(owner, "/classes/no-id"), http.StatusNotFound)
}

// The grid shows the ladders asked for, each child's state in words beside each drawing, and drawings that are on the page.
func TestGridShowsAndSortsWhatIsAskedFor(t *testing.T) {
	s := sitetest.Open(t)
	all := s.Must(s.Get(teacherA, class+"?ladders=all&sort=ready"), http.StatusOK)
	if n := all.Find(".stand-grid td svg.ladder-tiny").Length(); n != 4 {
		t.Errorf("%d tiny ladders with all shown, want two a child", n)
	}
	all.Find(".ladder-tiny use").Each(func(_ int, use *goquery.Selection) {
		if all.Find("symbol"+use.AttrOr("href", "#none")).Length() != 1 {
			t.Errorf("the drawing %s is not on the page once", use.AttrOr("href", ""))
		}
	})
	all.Find(".stand-grid td a").Each(func(_ int, cell *goquery.Selection) {
		// WCAG 2.2, 2.5.3: what is seen is in the name.
		if seen := strings.Join(strings.Fields(cell.Text()), " "); seen == "" || !strings.Contains(cell.AttrOr("aria-label", ""), seen) {
			t.Errorf("a cell says %q and is called %q", cell.Text(), cell.AttrOr("aria-label", ""))
		}
	})
	if n := all.Find(`.stand-grid [aria-sort="descending"] a[href*="sort=ready"]`).Length(); n != 1 {
		t.Error("the column of the order does not say so")
	}
	// Aliquot has a missed turn at the first rung and the second ladder open; Azimuth a clean one, and the same.
	s.Says(all, `.stand-grid td[data-label="ready"]`, "1 open, 0 close")
	tonight := s.Must(s.Get(teacherA, class+"?ladders=tonight&sort=handstand"), http.StatusOK)
	if n := tonight.Find(".stand-grid td svg.ladder-tiny").Length(); n != 2 {
		t.Errorf("%d tiny ladders, want those of the station of the lesson that is on", n)
	}
	s.Must(s.Get(teacherA, class+"?ladders=%00&sort=%ff"), http.StatusOK)
}

func TestListsLeadToTheirPages(t *testing.T) {
	s := sitetest.Open(t)
	p := s.Must(s.Get(teacherA, "/classes"), http.StatusOK)
	if n := p.Find(`table a[href="` + class + `"]`).Length(); n != 1 || p.Find("tbody tr").Length() != 1 {
		t.Error("a teacher's list holds the own class alone")
	}
	p = s.Must(s.Get(owner, "/children?q=alder"), http.StatusOK)
	if n := p.Find(`#children tbody a[href="` + child + `"]`).Length(); n != 1 || p.Find("#children tbody tr").Length() != 1 {
		t.Error("a search shows who is called so")
	}
	s.Says(s.Get(owner, "/children?q=nobody"), ".empty-title", "Nobody of that name")
	s.Must(s.Get(owner, "/children?q=%00"), http.StatusOK)
}

func TestChildPageSaysWhy(t *testing.T) {
	s := sitetest.Open(t)
	p := s.Must(s.Get(teacherA, child), http.StatusOK)
	s.Says(p, "h1", "Aliquot Alderleak")
	if n := p.Find("#ladder svg.ladder .rung").Length(); n != 2 {
		t.Errorf("%d rungs drawn, want the two of the ladder", n)
	}
	s.Says(p, "#ladder .plain-list", "A fault that can hurt was seen")
	s.Says(p, "#attendance", "There at 1 of 1 lesson noted")
	spare := s.Must(s.Get(teacherA, child+"?ladder=spare"), http.StatusOK)
	s.Says(spare, "#ladder h2", "Spare")
	s.Must(s.Get(teacherB, child), http.StatusNotFound)
}

func TestMarkFormKeepsWhatWasTyped(t *testing.T) {
	s := sitetest.Open(t)
	p := s.Must(s.Get(teacherA, child+"/marks?rung=hs-return"), http.StatusOK)
	if n := p.Find(`#write input[name="faults"][value="arms-bend"]`).Length(); n != 1 {
		t.Error("the form does not offer the fault of the rung")
	}
	if p.Find(`#write input[name="side"]`).Length() != 0 {
		t.Error("a rung without sides asks for one")
	}
	p = s.Must(s.Post(teacherA, child+"/marks", url.Values{"rung": {"hs-return"}, "faults": {"arms-bend"}}), http.StatusUnprocessableEntity)
	s.Says(p, "#write .error", "Say how the turn went.")
	if p.Find(`#write input[value="arms-bend"][checked]`).Length() != 1 {
		t.Error("the fault that was ticked is lost")
	}
	p = s.Must(s.Post(teacherA, child+"/marks", url.Values{"rung": {"hs-return"}, "outcome": {"clean"}}), http.StatusSeeOther)
	if p.To != child+"/marks" {
		t.Errorf("leads to %s", p.To)
	}
	correct := s.Must(s.Get(teacherA, child+"/marks?correct="+mark), http.StatusOK)
	if correct.Find(`#write input[name="outcome"][value="missed"][checked]`).Length() != 1 {
		t.Error("the form for a correction does not begin with the mark that it stands for")
	}
	s.Must(s.Post(teacherA, child+"/marks", url.Values{"rung": {"hs-return"}, "outcome": {"supported"}, "correct": {mark}, "why": {"Typed on the wrong row"}}), http.StatusSeeOther)
	s.Says(s.Get(teacherA, child+"/marks"), "#over-time tbody", "corrected")
	s.Must(s.Get(teacherA, child+"/marks?correct="+mark), http.StatusNotFound)
	s.Must(s.Get(teacherA, child+"/marks?rung=no-rung"), http.StatusNotFound)
}

func TestReasonShowsOnlyWhenAskedFor(t *testing.T) {
	s := sitetest.Open(t)
	p := s.Must(s.Get(teacherA, child+"/care"), http.StatusOK)
	if strings.Contains(p.Text(), "reasonleak-a1") {
		t.Error("the reason shows without being asked for")
	}
	s.Says(p, "#limits h3", "limitdo-a1")
	s.Says(p, "#soreness", "soreleak-a1")
	s.Says(s.Must(s.Post(teacherA, limit+"/reason", nil), http.StatusOK), "#limits .notice", "reasonleak-a1")
	s.Must(s.Post(teacherB, limit+"/reason", nil), http.StatusNotFound)
}

func TestCareLimitsAreSetAndCleared(t *testing.T) {
	s := sitetest.Open(t)
	form := url.Values{"action": {"No bridges"}, "from": {"2026-03-04"}}
	p := s.Must(s.Post(teacherA, child+"/limits", form), http.StatusUnprocessableEntity)
	s.Says(p, "#limits .error", "Tick at least one")
	if v, _ := p.Find(`input[name="action"]`).Attr("value"); v != "No bridges" {
		t.Errorf("what was typed is lost: %q", v)
	}
	form.Set("avoid", "back")
	s.Says(s.Must(s.Post(teacherA, child+"/limits", form), http.StatusUnprocessableEntity), "#limits .error", "when to look again")
	form.Set("review", "2026-03-18")
	s.Must(s.Post(teacherA, child+"/limits", form), http.StatusSeeOther)
	s.Says(s.Get(teacherA, child+"/care"), "#limits h3", "No bridges")
	s.Says(s.Get(teacherA, child+"/care"), "#limits .card", "Handstand: nothing is left (Small kick and return)")
	days := url.Values{"until": {"2026-04-10"}, "note": {"still stiff in the morning"}}
	s.Says(s.Must(s.Post(teacherA, limit+"/extend", url.Values{"until": {"2026-04-10"}}), http.StatusUnprocessableEntity), "#limits .error", "Fill this in")
	s.Must(s.Post(teacherA, limit+"/extend", days), http.StatusSeeOther)
	s.Says(s.Get(teacherA, child+"/care"), "#limits .disclosure", "still stiff in the morning")
	s.Says(s.Must(s.Post(teacherA, limit+"/clear", nil), http.StatusUnprocessableEntity), "#limits .error", "why it may end")
	s.Must(s.Post(teacherA, limit+"/clear", url.Values{"note": {"cleared by the doctor"}}), http.StatusSeeOther)
	s.Says(s.Get(teacherA, child+"/care"), "#limits .disclosure", "cleared by the doctor")
}

func TestHomePageRefusesWithTheRule(t *testing.T) {
	s := sitetest.Open(t)
	p := s.Must(s.Get(teacherA, child+"/home?drill=d-dish"), http.StatusOK)
	s.Says(p, "#send h2", "Dish hold")
	s.Says(p, "#given", "Wall press")
	s.Says(p, "#refused", "Kick at the wall is not for home")
	s.Says(p, ".cautions", "call emergency services")
	form := url.Values{"drill": {"d-kick"}, "sets": {"1"}, "repeats": {"5"}, "hold": {"0"}, "from": {"2026-03-04"}, "until": {"2026-03-10"}}
	s.Says(s.Must(s.Post(teacherA, child+"/home", form), http.StatusUnprocessableEntity), "#send .breach", "not for home")
	form.Set("drill", "d-dish")
	form.Set("sets", "many")
	p = s.Must(s.Post(teacherA, child+"/home", form), http.StatusUnprocessableEntity)
	if v, _ := p.Find(`input[name="sets"]`).Attr("value"); v != "many" {
		t.Errorf("what was typed is lost: %q", v)
	}
	form.Set("sets", "2")
	s.Must(s.Post(teacherA, child+"/home", form), http.StatusSeeOther)
	s.Must(s.Post(teacherA, given+"/withdraw", nil), http.StatusSeeOther)
	s.Says(s.Get(teacherA, child+"/home"), "#given .disclosure", "Wall press")
	s.Must(s.Post(teacherB, child+"/home", form), http.StatusNotFound)
}
