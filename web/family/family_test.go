package family_test

import (
	"net/http"
	"net/url"
	"strings"
	"testing"

	"github.com/PuerkitoBio/goquery"
	"rungbook/web/sitetest"
)

const (
	teacherA = "ac02"
	parentA  = "ac06"
	parentB  = "ac07"
	own      = "/home/00000000-0000-4000-8000-00000000c1a1"
	lost     = "/home/00000000-0000-4000-8000-00000000c1b1" // parentA was removed as a guardian
	care     = "/children/00000000-0000-4000-8000-00000000c1a1/care"
)

func TestParentReadsWhatIsForParents(t *testing.T) {
	s := sitetest.Open(t)
	if p := s.Must(s.Get(parentA, "/home"), http.StatusSeeOther); p.To != own {
		t.Errorf("one child: leads to %s", p.To)
	}
	p := s.Must(s.Get(parentA, own), http.StatusOK)
	s.Says(p, ".cautions", "call emergency services")
	s.Says(p, "#drills article", "Wall press")
	s.Says(p, "#drills article", "2 sets of 6, on 4 days a week")
	s.Says(p, "#drills article", "homewhy-a1")
	s.Says(p, "#next", "Small kick and return")
	if p.Find("#ladders svg.ladder").Length() != 1 {
		t.Error("the ladder is not drawn")
	}
	for _, secret := range []string{"reasonleak", "noteleak", "contactleak", "Azimuth", "Bolide", "A fault that can hurt"} {
		if strings.Contains(p.Text(), secret) {
			t.Errorf("the page shows %q", secret)
		}
	}
	for _, path := range []string{lost, lost + "/hurt", lost + "/help"} {
		s.Must(s.Get(parentA, path), http.StatusNotFound)
	}
	s.Must(s.Get(parentB, own), http.StatusNotFound)
	s.Must(s.Get(teacherA, own), http.StatusNotFound)
	s.Must(s.Post(parentB, own+"/hurt", url.Values{"place": {"Back"}, "how-much": {"3"}, "since": {"2026-03-04"}}), http.StatusNotFound)
}

func TestUrgentReportLeadsToHelpFirst(t *testing.T) {
	s := sitetest.Open(t)
	if s.Must(s.Get(parentA, own+"/hurt"), http.StatusOK).Find("main .cautions-urgent").Length() != 1 {
		t.Error("the form does not begin with what to do at once")
	}
	urgent := url.Values{"place": {"Back"}, "how-much": {"lots"}, "doing": {"bridge"}, "since": {"2026-03-04"}, "signs": {"after-bend"}}
	p := s.Must(s.Post(parentA, own+"/hurt", urgent), http.StatusUnprocessableEntity)
	s.Says(p, "main .cautions-urgent", "Call emergency services now")
	if v, _ := p.Find(`input[name="how-much"]`).Attr("value"); v != "lots" {
		t.Errorf("what was typed is lost: %q", v)
	}
	urgent.Set("how-much", "2")
	if p := s.Must(s.Post(parentA, own+"/hurt", urgent), http.StatusSeeOther); p.To != own+"/help" {
		t.Errorf("leads to %s", p.To)
	}
	p = s.Must(s.Get(parentA, own+"/help"), http.StatusOK)
	s.Says(p, "main .cautions-urgent", "Call emergency services now, even if it eases.")
	s.Says(s.Get(parentA, own), "main .notice-warning", "until a teacher has looked")
	s.Says(s.Get(teacherA, care), "#limits", "put in place by a report that it hurt")
}

func TestOtherReportLeadsBack(t *testing.T) {
	s := sitetest.Open(t)
	p := s.Must(s.Post(parentA, own+"/hurt", url.Values{"place": {"Wrist or hand"}, "how-much": {"3"}, "since": {"2026-03-03"}}), http.StatusSeeOther)
	if p.To != own {
		t.Errorf("leads to %s", p.To)
	}
	p = s.Must(s.Get(parentA, own), http.StatusOK)
	s.Says(p, "#flash", "The teacher sees your report")
	s.Says(p, "#reports", "Wrist or hand, 3 of 10, since 3 March")
	s.Says(p, "#reports", "A limit is in place until a teacher has looked")
}

func TestKnockToTheHeadIsToldWhatToDo(t *testing.T) {
	s := sitetest.Open(t)
	s.Must(s.Post(parentA, own+"/hurt", url.Values{"place": {"Head"}, "how-much": {"1"}, "since": {"2026-03-04"}}), http.StatusSeeOther)
	s.Says(s.Get(parentA, own), "#flash", "within 24 hours")
}

func TestWhatADoctorShouldSeeIsSaid(t *testing.T) {
	s := sitetest.Open(t)
	report := url.Values{"place": {"Back"}, "how-much": {"2"}, "since": {"2026-03-04"}, "signs": {"night"}}
	if p := s.Must(s.Post(parentA, own+"/hurt", report), http.StatusSeeOther); p.To != own {
		t.Errorf("leads to %s", p.To)
	}
	s.Says(s.Get(parentA, own), "#flash", "for a doctor to look at")
}

func TestADrillIsDoneByOneTap(t *testing.T) {
	s := sitetest.Open(t)
	p := s.Must(s.Get(parentA, own), http.StatusOK)
	s.Says(p, "#drills .home-week", "Practised on 1 day this week")
	form := p.Find(`#drills article form[action$="/practice"]`)
	done := url.Values{"drill": {form.Find(`input[name="drill"]`).AttrOr("value", "")}}
	if to := s.Must(s.Post(parentA, form.AttrOr("action", ""), done), http.StatusSeeOther).To; to != own+"#drills" {
		t.Errorf("leads to %s", to)
	}
	p = s.Must(s.Get(parentA, own), http.StatusOK)
	s.Says(p, "#flash", "Noted for today")
	s.Says(p, "#drills article .home-done", "done today")
	s.Says(p, "#drills .home-week", "Practised on 2 days this week")
	s.Says(p, "#drills .disclosure", "Today: Wall press")
	if p.Find("[data-timer][data-sets='2'][data-repeats='6'].needs-script").Length() != 1 {
		t.Error("the timer does not know what to count, or shows where no script runs")
	}
	forgotten := url.Values{"drill": done["drill"], "day": {"2026-03-01"}}
	s.Must(s.Post(parentA, own+"/practice", forgotten), http.StatusSeeOther)
	s.Says(s.Get(parentA, own), "#drills .disclosure", "Sunday 1 March: Wall press")
	s.Must(s.Post(parentA, own+"/practice/strike", done), http.StatusSeeOther)
	s.Must(s.Post(parentB, own+"/practice", done), http.StatusNotFound)
	forgotten.Set("day", "2026-03-09")
	s.Must(s.Post(parentA, own+"/practice", forgotten), http.StatusUnprocessableEntity)
}

func TestMessagesAreReadOnAPageOfTheirOwn(t *testing.T) {
	s := sitetest.Open(t)
	s.Says(s.Get(parentA, own), "main .notice", "A new message")
	p := s.Must(s.Get(parentA, own+"/messages"), http.StatusOK)
	s.Says(p, "main", "messageleak-a1")
	s.Says(p, "main", "Tove Arkle Tuesday 3 March 2026, 18:10, to all families of Amberclass")
	if p := s.Get(parentA, own); p.Find("main .notice").FilterFunction(func(_ int, n *goquery.Selection) bool { return strings.Contains(n.Text(), "new message") }).Length() != 0 {
		t.Error("a message that was read is new still")
	}
	for _, path := range []string{lost + "/messages", lost + "/reports/00000000-0000-4000-8000-00000000c0b0.pdf"} {
		s.Must(s.Get(parentA, path), http.StatusNotFound)
	}
}

func TestACalendarLinkIsShownOnce(t *testing.T) {
	s := sitetest.Open(t)
	s.Says(s.Must(s.Get(parentA, "/home/calendar"), http.StatusOK), "main", "You have a link, made on 1 March 2026. No calendar program has looked yet.")
	p := s.Must(s.Post(parentA, "/home/calendar", nil), http.StatusOK)
	link := p.Find(`input[name="link"]`).AttrOr("value", "")
	if !strings.HasPrefix(link, "http://sample.example/calendar/") || !strings.HasSuffix(link, ".ics") {
		t.Fatalf("the link is %q", link)
	}
	if s.Get(parentA, "/home/calendar").Find(`input[name="link"]`).Length() != 0 {
		t.Error("the link is shown again")
	}
	path := strings.TrimPrefix(link, "http://sample.example")
	s.Says(s.Must(s.Get("nobody", path), http.StatusOK), "body", "BEGIN:VCALENDAR")
	if to := s.Must(s.Post(parentA, "/home/calendar/end", nil), http.StatusSeeOther).To; to != "/home/calendar" {
		t.Errorf("leads to %s", to)
	}
	s.Must(s.Get("nobody", path), http.StatusNotFound)
	s.Must(s.Get(teacherA, "/home/calendar"), http.StatusNotFound)
}

func TestAReportIsReadOnceReleased(t *testing.T) {
	s := sitetest.Open(t)
	p := s.Must(s.Get(parentA, own), http.StatusOK)
	link := p.Find(`#papers a[href$=".pdf"]`).AttrOr("href", "")
	s.Says(p, "#papers", "Term report: Amberclass, Spring (PDF)")
	s.Says(s.Must(s.Get(parentA, link), http.StatusOK), "body", "reportleak-a1")
	reports := "/reports/00000000-0000-4000-8000-00000000c0a0"
	s.Says(s.Must(s.Get(teacherA, reports), http.StatusOK), "#releases", "marks up to 3 March 2026, released on 3 March 2026")
	s.Must(s.Post(teacherA, reports+"/00000000-0000-4000-8000-00000000c1a1/take-back", nil), http.StatusSeeOther)
	s.Must(s.Get(parentA, link), http.StatusNotFound)
	s.Says(s.Get(parentA, own), "#papers", "once the teacher has released them")
}

func TestALessonCalledOffIsSaid(t *testing.T) {
	s := sitetest.Open(t)
	lesson := "/lessons/00000000-0000-4000-8000-000000001eb0"
	s.Says(s.Must(s.Get("ac03", lesson), http.StatusOK), "#calendar", "Call this lesson off")
	s.Must(s.Post("ac03", lesson+"/call-off", nil), http.StatusSeeOther)
	s.Says(s.Get("ac03", lesson), "#calendar", "It takes place after all")
	s.Says(s.Get(parentB, "/home/00000000-0000-4000-8000-00000000c1b1"), "#lessons", "called off")
	s.Must(s.Post(teacherA, "/lessons/00000000-0000-4000-8000-000000001ea0/call-off", nil), http.StatusConflict)
}
