package family_test

import (
	"net/http"
	"net/url"
	"testing"

	"rungbook/web/sitetest"
)

// Giving and withdrawing are the same: two buttons of one form, one tap each.
func TestConsentIsWithdrawnAsEasilyAsGiven(t *testing.T) {
	s := sitetest.Open(t)
	p := s.Must(s.Get(parentA, own+"/consents"), http.StatusOK)
	if n := p.Find(`#photos button[name="answer"]`).Length(); n != 2 {
		t.Fatalf("%d buttons for photos, want yes and no", n)
	}
	s.Says(p, "#photos", "You have not answered, so it counts as no.")
	for _, answer := range []struct{ value, says string }{{"yes", "You said yes."}, {"no", "You said no."}} {
		s.Must(s.Post(parentA, own+"/consents/photos", url.Values{"answer": {answer.value}}), http.StatusSeeOther)
		s.Says(s.Must(s.Get(parentA, own+"/consents"), http.StatusOK), "#photos", answer.says)
	}
	p = s.Must(s.Get(parentA, own+"/consents"), http.StatusOK)
	if n := p.Find("#photos .disclosure li").Length(); n != 2 {
		t.Errorf("%d answers in the ledger, want both", n)
	}
	s.Must(s.Post(parentA, own+"/consents/photos", url.Values{}), http.StatusUnprocessableEntity)
	for _, path := range []string{"/consents", "/data"} {
		s.Must(s.Get(parentB, own+path), http.StatusNotFound)
		s.Must(s.Get(teacherA, own+path), http.StatusNotFound)
	}
}

func TestFamilyReadsWhoReadHealthData(t *testing.T) {
	s := sitetest.Open(t)
	p := s.Must(s.Get(parentA, own+"/data"), http.StatusOK)
	s.Says(p, "#reads", "Tove Arkle read the reason of a care limit.")
	s.Says(p, "#erase", "The studio has not answered yet.")
	p = s.Must(s.Post(parentA, own+"/data/copy", url.Values{"as": {"paper"}}), http.StatusUnprocessableEntity)
	s.Says(p, "#copy", "Choose one of those offered.")
	s.Must(s.Post(parentA, own+"/data/erase", url.Values{}), http.StatusConflict) // asked already
}
