package family_test

import (
	"net/http"
	"net/url"
	"strings"
	"testing"
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
	s := open(t)
	if p := s.must(s.get(parentA, "/home"), http.StatusSeeOther); p.to != own {
		t.Errorf("one child: leads to %s", p.to)
	}
	p := s.must(s.get(parentA, own), http.StatusOK)
	s.says(p, ".cautions", "call emergency services")
	s.says(p, "#drills article", "Wall press")
	s.says(p, "#drills article", "2 sets of 6, on 3 days a week")
	s.says(p, "#drills article", "homewhy-a1")
	s.says(p, "#next", "Small kick and return")
	if p.Find("#ladders svg.ladder").Length() != 1 {
		t.Error("the ladder is not drawn")
	}
	for _, secret := range []string{"reasonleak", "noteleak", "contactleak", "Azimuth", "Bolide", "A fault that can hurt"} {
		if strings.Contains(p.Text(), secret) {
			t.Errorf("the page shows %q", secret)
		}
	}
	for _, path := range []string{lost, lost + "/hurt", lost + "/help"} {
		s.must(s.get(parentA, path), http.StatusNotFound)
	}
	s.must(s.get(parentB, own), http.StatusNotFound)
	s.must(s.get(teacherA, own), http.StatusNotFound)
	s.must(s.post(parentB, own+"/hurt", url.Values{"place": {"Back"}, "how-much": {"3"}}), http.StatusNotFound)
}

func TestUrgentReportLeadsToHelpFirst(t *testing.T) {
	s := open(t)
	if s.must(s.get(parentA, own+"/hurt"), http.StatusOK).Find("main .cautions-urgent").Length() != 1 {
		t.Error("the form does not begin with what to do at once")
	}
	urgent := url.Values{"place": {"Back"}, "how-much": {"lots"}, "doing": {"bridge"}, "signs": {"after-bend"}}
	p := s.must(s.post(parentA, own+"/hurt", urgent), http.StatusUnprocessableEntity)
	s.says(p, "main .cautions-urgent", "Call emergency services now")
	if v, _ := p.Find(`input[name="how-much"]`).Attr("value"); v != "lots" {
		t.Errorf("what was typed is lost: %q", v)
	}
	urgent.Set("how-much", "2")
	if p := s.must(s.post(parentA, own+"/hurt", urgent), http.StatusSeeOther); p.to != own+"/help" {
		t.Errorf("leads to %s", p.to)
	}
	p = s.must(s.get(parentA, own+"/help"), http.StatusOK)
	s.says(p, "main .cautions-urgent", "Call emergency services now, even if it eases.")
	s.says(s.get(parentA, own), "main .notice-warning", "until a teacher has looked")
	s.says(s.get(teacherA, care), "#limits", "put in place by a report that it hurt")
}

func TestOtherReportLeadsBack(t *testing.T) {
	s := open(t)
	p := s.must(s.post(parentA, own+"/hurt", url.Values{"place": {"Wrist or hand"}, "how-much": {"3"}}), http.StatusSeeOther)
	if p.to != own {
		t.Errorf("leads to %s", p.to)
	}
	p = s.must(s.get(parentA, own), http.StatusOK)
	s.says(p, "#flash", "The teacher sees your report")
	s.says(p, "#reports", "Wrist or hand")
}

func TestKnockToTheHeadIsToldWhatToDo(t *testing.T) {
	s := open(t)
	s.must(s.post(parentA, own+"/hurt", url.Values{"place": {"Head"}, "how-much": {"1"}}), http.StatusSeeOther)
	s.says(s.get(parentA, own), "#flash", "within 24 hours")
}
