package family_test

import (
	"bytes"
	"compress/gzip"
	"net/http"
	"net/url"
	"testing"
	"time"

	"github.com/PuerkitoBio/goquery"
	"github.com/a-h/templ"
	"rungbook/internal/app"
	"rungbook/internal/studio"
	"rungbook/internal/words"
	"rungbook/web/family"
	"rungbook/web/kit"
	"rungbook/web/sitetest"
)

// sampleNames are data of the sample studio that no language changes: the studio, people, a child, a drill, rungs.
var sampleNames = []string{"Rungbook", "Sample", "Petra Alder", "Aliquot", "Wall press", "Small kick and return", "Hold"}

// The pseudo-language is common practice, no source.
func TestEveryWordForFamiliesIsInTheCatalogue(t *testing.T) {
	s := sitetest.OpenIn(t, sitetest.Pseudo(t))
	s.Language = sitetest.PseudoTag
	urgent := url.Values{"place": {"Back"}, "how-much": {"lots"}, "since": {"never"}, "doing": {"Aliquot"}, "signs": {"numb"}}
	report := url.Values{"place": {"Head"}, "how-much": {"3"}, "since": {"2026-03-03"}, "signs": {"night"}}
	check := func(name string, p sitetest.Page, status int) {
		t.Helper()
		s.Must(p, status)
		if got := p.Find("html").AttrOr("lang", ""); got != sitetest.PseudoTag {
			t.Errorf("%s: the page is in %q", name, got)
		}
		for _, said := range sitetest.Unspoken(p.Document, sampleNames...) {
			t.Errorf("%s says outside the catalogue: %s", name, said)
		}
	}
	see := func(path string) {
		t.Helper()
		check(path, s.Get(parentA, own+path), http.StatusOK)
	}
	send := func(path string, form url.Values) {
		t.Helper()
		s.Must(s.Post(parentA, own+path, form), http.StatusSeeOther)
	}
	for _, path := range []string{"", "/hurt", "/help", "/consents", "/data", "/messages"} {
		see(path)
	}
	check("a link of before", s.Get(parentA, "/home/calendar"), http.StatusOK)
	check("a new link", s.Post(parentA, "/home/calendar", nil), http.StatusOK)
	s.Must(s.Post(parentA, "/home/calendar/end", nil), http.StatusSeeOther)
	check("no link", s.Get(parentA, "/home/calendar"), http.StatusOK)
	check("a wrong report", s.Post(parentA, own+"/hurt", urgent), http.StatusUnprocessableEntity)
	send("/hurt", report)
	see("")
	send("/consents/photos", url.Values{"answer": {"yes"}})
	see("/consents")
	check("no answer", s.Post(parentA, own+"/consents/photos", url.Values{}), http.StatusUnprocessableEntity)
	check("a wrong copy", s.Post(parentA, own+"/data/copy", url.Values{"as": {"paper"}}), http.StatusUnprocessableEntity)
	check("asked already", s.Post(parentA, own+"/data/erase", url.Values{}), http.StatusConflict)
	drill := s.Get(parentA, own).Find(`#drills input[name="drill"]`).First().AttrOr("value", "00000000-0000-4000-8000-000000000000")
	check("a wrong day", s.Post(parentA, own+"/practice", url.Values{"drill": {drill}, "day": {"2026-03-09"}}), http.StatusUnprocessableEntity)
	check("another's child", s.Get(parentA, lost), http.StatusNotFound)
	check("a page for staff", s.Get(parentA, "/classes"), http.StatusNotFound)
	check("no page", s.Get(parentA, "/nowhere"), http.StatusNotFound)
}

// Pages as a new family sees them, and a copy to keep.
func TestEveryWordOfEmptyPagesIsInTheCatalogue(t *testing.T) {
	b := sitetest.Pseudo(t).Match(sitetest.PseudoTag, "")
	now := time.Date(2026, 3, 4, 17, 0, 0, 0, time.UTC)
	page, day := kit.Page{Title: "[x]", Lang: b.Lang()}, app.Day{Zone: time.UTC}
	erased := true
	asked := []studio.ErasureRequest{{AskedAt: now, DecidedAt: &now, Erased: new(bool), Answer: "Answer"}, {AskedAt: now, DecidedAt: &now, Erased: &erased}}
	for name, c := range map[string]templ.Component{
		"no child":    family.HomePage(page, nil),
		"two":         family.HomePage(page, []app.FamilyChild{{Name: "Aliquot", Drills: 1, Fresh: 2, Limits: []app.HomeLimit{{Text: "Own", Own: true}}, Language: "en-GB"}, {Name: "Aliquot"}}),
		"nothing yet": family.ChildPage(page, family.NewModel(app.FamilyView{Name: "Aliquot", Today: now}, "")),
		"no messages": family.MessagesPage(page, app.FamilyMessages{}),
		"answered":    family.DataPage(page, app.DataView{Name: "Aliquot", Day: day, Requests: asked, Language: "en-GB"}, kit.Reader{}),
		"copy":        family.CopyPage(app.ChildData{Name: "Aliquot", Studio: "Sample", MadeAt: now, Tables: []studio.DataTable{{Title: "Table"}}}),
	} {
		var body bytes.Buffer
		if err := c.Render(words.With(t.Context(), b), &body); err != nil {
			t.Fatal(err)
		}
		doc, err := goquery.NewDocumentFromReader(&body)
		if err != nil {
			t.Fatal(err)
		}
		for _, said := range sitetest.Unspoken(doc, sampleNames...) {
			t.Errorf("%s says outside the catalogue: %s", name, said)
		}
	}
}

// The staff read the same titles and gates in English, from their nouns.
func TestPurposesReadTheSameForStaffAndFamilies(t *testing.T) {
	var b *words.Book
	for _, p := range studio.Purposes() {
		if b.Say("purpose."+string(p)) != p.Title() || b.Say("gates."+string(p)) != p.Gates() {
			t.Errorf("%s differs", p)
		}
	}
}

func TestAFamilyReadsGerman(t *testing.T) {
	s := sitetest.Open(t)
	s.Language = "de-AT,de;q=0.8"
	p := s.Must(s.Get(parentA, own), http.StatusOK)
	if got := p.Find("html").AttrOr("lang", ""); got != "de" {
		t.Errorf("the page is in %q", got)
	}
	s.Says(p, "#drills article", "2 Sätze mit je 6 Wiederholungen, an 4 Tagen pro Woche")
	if got := p.Find("#drills article h3").AttrOr("lang", ""); got != "en-GB" {
		t.Errorf("the studio's own words are marked as %q", got)
	}
	s.Must(s.Post(parentA, own+"/hurt", url.Values{"place": {"Back"}, "how-much": {"3"}, "since": {"2026-03-03"}}), http.StatusSeeOther)
	p = s.Get(parentA, own)
	s.Says(p, "#flash", "eine Schonregel gilt, bis eine Lehrkraft nachgesehen hat")
	s.Says(p, "main .notice-warning", "Nicht erlaubt, bis eine Lehrkraft nachgesehen hat: Rückbeugen, Sprünge und Landungen oder alles kopfüber")
	s.Says(s.Get(parentA, own+"/help"), "main .cautions-urgent", "Rufen Sie jetzt den Rettungsdienst, auch wenn es nachlässt.")
	s.Says(s.Get(teacherA, care), "#limits", "No back-bends, jumps or landings or going upside down until a teacher has looked")
	if got := s.Must(s.Get(teacherA, "/classes"), http.StatusOK).Find("html").AttrOr("lang", ""); got != "en-GB" {
		t.Errorf("a page for staff is in %q", got)
	}
}

func TestAChosenLanguageGoesBeforeTheBrowsers(t *testing.T) {
	s := sitetest.Open(t)
	s.Language = "en"
	s.Must(s.Post(parentA, "/account/language", url.Values{"language": {"xx"}}), http.StatusUnprocessableEntity)
	s.Must(s.Post(parentA, "/account/language", url.Values{"language": {"de"}}), http.StatusSeeOther)
	s.Says(s.Get(parentA, own), "#drills h2", "Diese Woche zu Hause")
	link := s.Post(parentA, "/home/calendar", nil).Find(`input[name="link"]`).AttrOr("value", "")
	if at, err := url.Parse(link); err != nil || at.Path == "" {
		t.Fatalf("the link is %q", link)
	} else {
		s.Says(s.Must(s.Get("nobody", at.Path), http.StatusOK), "body", "SUMMARY:Aufführung")
	}
	s.Must(s.Post(parentA, "/account/language", url.Values{"language": {""}}), http.StatusSeeOther)
	s.Says(s.Get(parentA, own), "#drills h2", "This week at home")
}

// 60 KiB is a bound of ours.
func TestAGermanPageIsSmall(t *testing.T) {
	s := sitetest.Open(t)
	s.Language = "de"
	html, err := s.Must(s.Get(parentA, own), http.StatusOK).Html()
	if err != nil {
		t.Fatal(err)
	}
	var packed bytes.Buffer
	w := gzip.NewWriter(&packed)
	w.Write([]byte(html))
	w.Close()
	if packed.Len() > 60<<10 {
		t.Errorf("%d bytes", packed.Len())
	}
}
