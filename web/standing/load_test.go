package standing_test

import (
	"net/http"
	"net/url"
	"testing"

	"rungbook/web/sitetest"
)

func TestLoadIsDrawnTabledAndToldInWords(t *testing.T) {
	s := sitetest.Open(t)
	p := s.Must(s.Get(teacherA, child+"/load"), http.StatusOK)
	// 9 planned turns of 2 on the wrists this week; one marked last week.
	s.Says(p, "#load .load-chart:nth-of-type(2) figcaption", "Wrists Load 18, well above the mean of the week before (2).")
	if title, _ := p.Find("#load .load-chart:nth-of-type(2) svg").Attr("aria-label"); title != "Wrists by week, oldest first: 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 2, 18. The cap for a week is 96." {
		t.Errorf("the chart is called %q", title)
	}
	if n := p.Find("#load .load-chart rect.load-done").Length(); n != 36 {
		t.Errorf("%d columns, want 12 weeks of 3 kinds", n)
	}
	s.Says(p, "#weeks tbody tr:first-child td:nth-child(3)", "18")
	s.Says(p, "#weeks tbody tr:first-child td:nth-child(5)", "9")
	s.Says(p, "#sides", "No turn of a rung with two sides.")
	// 8 x 60 minutes; strain is 480 / sqrt(7) = 181.
	for column, want := range map[string]string{"2": "1", "3": "480", "4": "0.38", "5": "181"} {
		s.Says(p, "#effort tbody tr:first-child td:nth-child("+column+")", want)
	}
	s.Says(p, "#missing", "1 lesson without a note of who was there")
	s.Says(p, "#missing", "1 lesson without a plan: only marked turns are counted")
	s.Says(p, "#load", "No published limit for back-bends or wrist loads at these ages was found.")
	if n := p.Find("[style], main script").Length(); n > 0 {
		t.Errorf("%d parts with inline style or script", n)
	}
}

func TestLoadSaysWhenItIsAboveTheCap(t *testing.T) {
	s := sitetest.Open(t)
	form := url.Values{"group": {"caps"}, "caps-age-0": {"0"}}
	for _, span := range []string{"lesson", "week"} {
		for _, kind := range []string{"back", "wrists", "landing"} {
			form.Set("caps-"+span+"-0-"+kind, "10")
		}
	}
	s.Must(s.Post("ac01", "/studio/settings", form), http.StatusSeeOther)
	p := s.Get(teacherA, child+"/load")
	s.Says(p, "#load", "This week, as planned, is above the cap for the wrists.")
	s.Says(p, "#weeks tbody tr:first-child", "18, above the cap")
	s.Says(p, "#load .load-over .load-value", "18")
}
