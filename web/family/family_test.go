package family_test

import (
	"net/http"
	"net/url"
	"strings"
	"testing"

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
	s.Must(s.Post(parentB, own+"/hurt", url.Values{"place": {"Back"}, "how-much": {"3"}}), http.StatusNotFound)
}

func TestUrgentReportLeadsToHelpFirst(t *testing.T) {
	s := sitetest.Open(t)
	if s.Must(s.Get(parentA, own+"/hurt"), http.StatusOK).Find("main .cautions-urgent").Length() != 1 {
		t.Error("the form does not begin with what to do at once")
	}
	urgent := url.Values{"place": {"Back"}, "how-much": {"lots"}, "doing": {"bridge"}, "signs": {"after-bend"}}
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
	p := s.Must(s.Post(parentA, own+"/hurt", url.Values{"place": {"Wrist or hand"}, "how-much": {"3"}}), http.StatusSeeOther)
	if p.To != own {
		t.Errorf("leads to %s", p.To)
	}
	p = s.Must(s.Get(parentA, own), http.StatusOK)
	s.Says(p, "#flash", "The teacher sees your report")
	s.Says(p, "#reports", "Wrist or hand")
}

func TestKnockToTheHeadIsToldWhatToDo(t *testing.T) {
	s := sitetest.Open(t)
	s.Must(s.Post(parentA, own+"/hurt", url.Values{"place": {"Head"}, "how-much": {"1"}}), http.StatusSeeOther)
	s.Says(s.Get(parentA, own), "#flash", "within 24 hours")
}
