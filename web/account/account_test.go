package account_test

import (
	"net/url"
	"strings"
	"testing"

	"rungbook/internal/testkit"
	"rungbook/web/sitetest"
)

const (
	nobody  = "-" // a cookie that opens nothing
	teacher = "ac02"
	parentA = "ac06"
	parentB = "ac07"
)

func TestAccountPage(t *testing.T) {
	t.Parallel()
	s := sitetest.Open(t)
	page := s.Must(s.Get(parentA, "/account"), 200)
	s.Says(page, "#browsers", "browserleak-06")
	s.Says(page, "#browsers", "This browser")
	s.Says(page, "#children", "invite other guardians")
	if page.Find("#codes").Length() != 0 {
		t.Error("a parent is offered a code")
	}
	if page.Find("#passkeys").Length() != 0 {
		t.Error("passkeys are offered on an address without https")
	}
	if page.Find("#browsers form[action$='/end-others']").Length() != 0 {
		t.Error("others are offered to be signed out where there are none")
	}
	if s.Must(s.Get(teacher, "/account"), 200).Find("#codes form").Length() != 1 {
		t.Error("a teacher is not offered a code")
	}
	page = s.Must(s.Post(parentA, "/account/email", url.Values{"email": {"moved"}, "email-present": {"x"}}), 422)
	if value, _ := page.Find("#f-email").Attr("value"); value != "moved" || page.Find("details[open] #f-email").Length() != 1 {
		t.Errorf("what was typed is lost: %q", value)
	}
}

func TestForgottenWithoutAMailServer(t *testing.T) {
	t.Parallel()
	s := sitetest.Open(t)
	s.Says(s.Must(s.Get(nobody, "/sign-in"), 200), "main", "Ask the studio for a link")
	s.Says(s.Must(s.Get(nobody, "/forgotten"), 200), "main", "sends no e-mail")
	one := s.Must(s.Post(nobody, "/forgotten", url.Values{"email": {"parentmail-a@sample.example"}}), 200)
	none := s.Must(s.Post(nobody, "/forgotten", url.Values{"email": {"nobody@sample.example"}}), 200)
	if one.Text() != none.Text() {
		t.Error("the answers differ")
	}
}

func TestCodeIsAskedOnlyAfterAPassphrase(t *testing.T) {
	t.Parallel()
	s := sitetest.Open(t)
	if page := s.Must(s.Get(nobody, "/sign-in/code?next=/children"), 303); page.To != "/sign-in?next=%2Fchildren" {
		t.Errorf("leads to %s", page.To)
	}
	if page := s.Must(s.Post(nobody, "/sign-in/code", url.Values{"code": {"123456"}}), 303); !strings.HasPrefix(page.To, "/sign-in") {
		t.Errorf("leads to %s", page.To)
	}
}

func TestGuardianLetsSomebodyIn(t *testing.T) {
	t.Parallel()
	s := sitetest.Open(t)
	at := "/account/children/" + testkit.SampleID("c1a1").String()
	page := s.Must(s.Get(parentA, at), 200)
	s.Says(page, "h1", "Guardians of Aliquot")
	s.Says(page, "main", "let in by you")
	if strings.Contains(page.Text(), "parentmail-c@") {
		t.Error("the address of another guardian is shown")
	}
	s.Must(s.Get(parentB, at), 404)
	s.Must(s.Get(teacher, at), 404)
	page = s.Must(s.Post(parentA, at, url.Values{"name": {""}, "email": {"third@sample.example"}}), 422)
	if value, _ := page.Find("#f-email").Attr("value"); value != "third@sample.example" {
		t.Error("what was typed is lost")
	}
	page = s.Must(s.Post(parentA, at, url.Values{"name": {"Piet"}, "email": {"parentmail-b@sample.example"}, "rights": {"hurt"}}), 200)
	link := strings.TrimPrefix(strings.TrimSpace(page.Find("textarea").Text()), "http://sample.example")

	// The address has an account: it accepts when it is signed in, and no second account is made.
	s.Says(s.Must(s.Get(nobody, link), 200), "main", "There is an account with this address already")
	if s.Get(parentB, link).Find("input[type=password]").Length() != 0 {
		t.Error("a passphrase is asked of somebody who has one")
	}
	s.Must(s.Post(teacher, link, nil), 409)
	if page := s.Must(s.Post(parentB, link, nil), 303); page.To != "/home" {
		t.Errorf("leads to %s", page.To)
	}
	s.Must(s.Get(parentB, "/home/"+testkit.SampleID("c1a1").String()), 200)

	// Taken away again: the very next request sees nothing.
	s.Must(s.Post(parentA, at+"/guardians/"+testkit.SampleID(parentB).String()+"/remove", nil), 303)
	s.Must(s.Get(parentB, "/home/"+testkit.SampleID("c1a1").String()), 404)
}

func TestBrowserIsSignedOut(t *testing.T) {
	t.Parallel()
	s := sitetest.Open(t)
	end := func(who, session string) sitetest.Page {
		return s.Post(who, "/account/sessions/"+testkit.SampleID(session).String()+"/end", nil)
	}
	s.Must(end(parentB, "de06"), 404)
	s.Must(s.Get(parentA, "/account"), 200)
	if page := s.Must(end(parentA, "de06"), 303); page.To != "/sign-in" { // its own
		t.Errorf("leads to %s", page.To)
	}
	s.Must(s.Get(parentA, "/account"), 303)
}
