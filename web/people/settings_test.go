package people_test

import (
	"net/http"
	"net/url"
	"testing"

	"rungbook/web/sitetest"
)

const ownerOf = "ac01"

func TestSettingsAreKeptGroupByGroup(t *testing.T) {
	s := sitetest.Open(t)
	s.Must(s.Get("ac02", "/studio/settings"), http.StatusNotFound)
	form := url.Values{"group": {"secure"}, "secure-clean": {"3"}, "secure-window": {"4"}, "secure-lessons": {"2"}}
	s.Must(s.Post("ac02", "/studio/settings", form), http.StatusNotFound)
	p := s.Must(s.Post(ownerOf, "/studio/settings", form), http.StatusSeeOther)
	if p.To != "/studio/settings#secure" {
		t.Errorf("goes to %q", p.To)
	}
	p = s.Must(s.Get(ownerOf, "/studio/settings"), http.StatusOK)
	for name, want := range map[string]string{"secure-clean": "3", "secure-window": "4", "home-days": "4", "caps-week-1-wrists": "60", "memory-recheck": "50", "agreement": "0.6", "keep-incident-age": "21"} {
		if got, _ := p.Find(`input[name="` + name + `"]`).Attr("value"); got != want {
			t.Errorf("%s is %q, want %q", name, got, want)
		}
	}
	if n := p.Find("main section form").Length(); n < 9 {
		t.Errorf("%d groups, want 9 at least", n)
	}
	s.Says(s.Get(ownerOf, "/studio/trail"), "main tbody", "changed the settings")
}

func TestSettingsThatMakeNoSenseAreRefusedWithWhatWasTyped(t *testing.T) {
	s := sitetest.Open(t)
	for name, c := range map[string]struct {
		form        url.Values
		field, says string
	}{
		"more clean than looked at": {url.Values{"group": {"secure"}, "secure-clean": {"6"}, "secure-window": {"5"}, "secure-lessons": {"2"}}, "secure-clean", "no more than the marks looked at"},
		"no number":                 {url.Values{"group": {"marks"}, "agreement": {"often"}}, "agreement", "A number from 0 to 1."},
		"not a number":              {url.Values{"group": {"marks"}, "agreement": {"NaN"}}, "agreement", "A number from 0 to 1."},
		"bands out of order": {url.Values{"group": {"cover"}, "cover-adults": {"2"}, "cover-age-0": {"0"}, "cover-children-0": {"3"}, "cover-age-1": {"9"}, "cover-children-1": {"6"},
			"cover-age-2": {"4"}, "cover-children-2": {"6"}}, "cover-age-2", "higher age than the one before"},
		"fewer adults without a word": {url.Values{"group": {"cover"}, "cover-adults": {"1"}, "cover-age-0": {"0"}, "cover-children-0": {"3"}}, "cover-words", "Say which local rule allows it."},
		"a cap that is left out":      {url.Values{"group": {"caps"}, "caps-age-0": {"0"}, "caps-lesson-0-back": {""}}, "caps-lesson-0-back", "A whole number from 0 to 1000."},
		"seen again sooner than before": {url.Values{"group": {"pacing"}, "pacing-new": {"2"}, "pacing-spotted": {"1"}, "pacing-again": {"1"}, "pacing-quiet": {"1"},
			"pacing-after-0": {"3"}, "pacing-after-1": {"2"}}, "pacing-after-1", "more weeks than the time before"},
		"no band at all":               {url.Values{"group": {"caps"}}, "caps-age-0", "The first age band starts at 0."},
		"asked of others, not kept":    {url.Values{"group": {"sign-in"}, "guarded": {"yes"}}, "guarded", "Set up a code or a passkey for yourself first"},
		"a first band above the least": {url.Values{"group": {"caps"}, "caps-age-0": {"3"}}, "caps-age-0", "The first age band starts at 0."},
	} {
		p := s.Must(s.Post(ownerOf, "/studio/settings", c.form), http.StatusUnprocessableEntity)
		input := p.Find(`input[name="` + c.field + `"]`)
		if got, _ := input.Attr("value"); got != c.form.Get(c.field) {
			t.Errorf("%s: what was typed became %q", name, got)
		}
		if got, _ := input.Attr("aria-invalid"); got != "true" {
			t.Errorf("%s: the field is not marked", name)
		}
		s.Says(p, "#"+c.form.Get("group")+" .error", c.says)
	}
	s.Must(s.Post(ownerOf, "/studio/settings", url.Values{"group": {"no such group"}}), http.StatusUnprocessableEntity)
}

func TestABandIsAddedAndLeftOut(t *testing.T) {
	s := sitetest.Open(t)
	form := url.Values{"group": {"cover"}, "cover-adults": {"3"}, "cover-age-0": {"0"}, "cover-children-0": {"2"}, "cover-age-1": {""}, "cover-children-1": {"4"},
		"cover-age-2": {"5"}, "cover-children-2": {"5"}}
	s.Must(s.Post(ownerOf, "/studio/settings", form), http.StatusSeeOther)
	p := s.Get(ownerOf, "/studio/settings")
	s.Says(p, "#cover fieldset:nth-of-type(1) legend", "0 to 4 years")
	s.Says(p, "#cover fieldset:nth-of-type(2) legend", "From 5 years")
	s.Says(p, "#cover fieldset:nth-of-type(3) legend", "Another band")
}
