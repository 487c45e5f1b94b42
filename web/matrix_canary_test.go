package web_test

import (
	"bytes"
	"compress/zlib"
	"io"
	"net/http"
	"net/url"
	"slices"
	"strings"
	"testing"

	"rungbook/internal/app"
)

// canary is a text that occurs in one sensitive field of the sample studio and nowhere else, with those who may meet it.
type canary struct {
	text string
	may  []who
}

var canaries = []canary{
	// Names: assistants know the children of tonight by first name; parents their own only.
	{"Aliquot", []who{owner, teacherA, helperNow, parentA}},
	{"Azimuth", []who{owner, teacherA, helperNow}},
	{"Bolide", []who{owner, teacherB, parentB}},
	{"Alderleak", []who{owner, teacherA, parentA}},
	{"Cedarleak", []who{owner, teacherA}},
	{"Birchleak", []who{owner, teacherB, parentB}},
	// Contacts and the roster's own numbers.
	{"contactleak-a1", []who{owner, teacherA, parentA}},
	{"contactleak-a2", []who{owner, teacherA}},
	{"contactleak-b1", []who{owner, teacherB, parentB}},
	{"refleak-a1", []who{owner, teacherA, parentA}},
	{"refleak-a2", []who{owner, teacherA}},
	{"refleak-b1", []who{owner, teacherB, parentB}},
	// Birth dates, in the ways that people and machines write them.
	{"2015-05-17", []who{owner, teacherA, parentA}}, {"17 May 2015", []who{owner, teacherA, parentA}}, {"17/05/2015", []who{owner, teacherA, parentA}},
	{"2015-06-18", []who{owner, teacherA}}, {"18 June 2015", []who{owner, teacherA}}, {"18/06/2015", []who{owner, teacherA}},
	{"2015-07-19", []who{owner, teacherB, parentB}}, {"19 July 2015", []who{owner, teacherB, parentB}}, {"19/07/2015", []who{owner, teacherB, parentB}},
	// Care: the action goes to whoever works with the child, the reason never to assistants or parents.
	{"limitdo-a1", []who{owner, teacherA, helperNow, parentA}},
	{"limitdo-p1", []who{owner, teacherA, helperNow, parentA}},
	{"limitdo-b1", []who{owner, teacherB, parentB}},
	{"reasonleak-a1", []who{owner, teacherA}},
	{"reasonleak-b1", []who{owner, teacherB}},
	{"changeleak-a1", []who{owner, teacherA}},
	{"changeleak-b1", []who{owner, teacherB}},
	{"eraseleak-a1", []who{owner, parentA}},
	{"eraseleak-b1", []who{owner, parentB}},
	{"Personleak", []who{owner}},
	{"oldleak-b", []who{owner, teacherB}},
	{"soreleak-a1", []who{owner, teacherA, parentA}},
	{"soreleak-b1", []who{owner, teacherB, parentB}},
	{"homewhy-a1", []who{owner, teacherA, parentA}},
	{"homewhy-b1", []who{owner, teacherB, parentB}},
	// Lessons: a note is the teacher's own.
	{"noteleak-a", []who{owner, teacherA}},
	{"noteleak-p", []who{owner, teacherA}},
	{"noteleak-b", []who{owner, teacherB}},
	// The class sheet: what was sent and noted is for teachers of the class; incident records too.
	{"itemleak-a", []who{owner, teacherA}},
	{"itemleak-b", []who{owner, teacherB}},
	{"waitleak-a", []who{owner, teacherA}},
	{"waitleak-b", []who{owner, teacherB}},
	{"hallleak-a", []who{owner, teacherA}},
	{"hallleak-b", []who{owner, teacherB}},
	{"whatleak-a", []who{owner, teacherA}}, {"doneleak-a", []who{owner, teacherA}}, {"toldleak-a", []who{owner, teacherA}}, {"addleak-a", []who{owner, teacherA}},
	{"whatleak-b", []who{owner, teacherB}}, {"doneleak-b", []who{owner, teacherB}}, {"toldleak-b", []who{owner, teacherB}}, {"addleak-b", []who{owner, teacherB}},
	{"askleak-a", []who{owner, teacherA, teacherB, helperNow}},
	{"askleak-b", []who{owner, teacherA, teacherB, helperLater}},
	{"aboutleak-a1", []who{owner, teacherA}},
	{"aboutleak-b1", []who{owner, teacherB}},
	// What teachers write to families and release to them; what was taken back is theirs again.
	{"messageleak-a1", []who{owner, teacherA, parentA}},
	{"messageleak-ca", []who{owner, teacherA, parentA}},
	{"messagegone-a1", []who{owner, teacherA}},
	{"messageearly-ca", []who{owner, teacherA}}, // from before the child was in the class
	{"messageleak-b1", []who{owner, teacherB, parentB}},
	{"messageleak-cb", []who{owner, teacherB, parentB}},
	{"reportleak-a1", []who{owner, teacherA, parentA}},
	{"reportleak-b1", []who{owner, teacherB, parentB}},
	{"parentnote-a1", []who{owner, teacherA}}, // until the report is released
	{"parentnote-b1", []who{owner, teacherB}},
	{"bundleleak-bd01", []who{owner}},
	{"bundleleak-bd09", nil}, // another owner's
	// Staff and accounts.
	{"phoneleak-01", []who{owner, teacherA, teacherB}},
	{"phoneleak-03", []who{owner, teacherA, teacherB}},
	{"phoneleak-04", []who{owner, teacherA, teacherB, helperNow}},
	{"phoneleak-05", []who{owner, teacherA, teacherB, helperLater}},
	{"ownmail@", []who{owner}},
	{"teachmail-a@", []who{owner, teacherA}},
	{"teachmail-b@", []who{owner, teacherB}},
	{"helpmail-a@", []who{owner, helperNow}},
	{"helpmail-b@", []who{owner, helperLater}},
	{"parentmail-a@", []who{owner, parentA}},
	{"parentmail-b@", []who{owner, parentB}},
	{"parentmail-c@", []who{owner}},
	{"lockedmail@", []who{owner}},
	{"invitemail@", []who{owner}},
	{"invitemail-a@", []who{owner, parentA}},
	{"invitemail-b@", []who{owner, parentB}},
	{"calledleak-06", []who{owner, parentA}},
	{"calledleak-07", []who{owner, parentB}},
	{"calledleak-08", []who{owner, parentA}},
	{"browserleak-01", []who{owner}}, {"browserleak-02", []who{teacherA}}, {"browserleak-04", []who{helperNow}}, {"browserleak-06", []who{parentA}}, {"browserleak-07", []who{parentB}},
	{"keynameleak-06", []who{parentA}}, {"keynameleak-07", []who{parentB}},
	{"movedmail-06", []who{owner, parentA}}, {"movedmail-07", []who{owner, parentB}},
	{"toldleak-06", []who{parentA}}, {"toldleak-07", []who{parentB}},
	{"trailleak", []who{owner}},
	// Secrets: nobody, ever.
	{"argon2id", nil},
	{"sample-session-", nil},
}

// sung lists the canaries in a text that the actor may not meet.
func sung(as who, text string) []string {
	var found []string
	for _, c := range canaries {
		if !slices.Contains(c.may, as) && strings.Contains(text, c.text) {
			found = append(found, c.text)
		}
	}
	return found
}

// printed is the text of a PDF: its packed streams, opened, without the zero bytes between letters.
func printed(a answer) string {
	if a.header.Get("Content-Type") != "application/pdf" {
		return ""
	}
	var text bytes.Buffer
	for _, part := range strings.Split(a.body, "stream\n") {
		if packed, err := zlib.NewReader(strings.NewReader(part)); err == nil {
			io.Copy(&text, packed) // what follows a stream is no part of it, and ends it with an error
		}
	}
	return strings.ReplaceAll(text.String(), "\x00", "")
}

// The canaries can be heard: whoever may meet them does, on pages, in tables and in print.
func TestCanariesSing(t *testing.T) {
	t.Parallel()
	m := matrix{world: openWorld(t, line{policy: app.StudioPolicy()})}
	class, child := "/reports/"+id("c0a0"), "/children/"+id("c1a1")
	for _, c := range []struct{ method, path, text string }{
		{http.MethodGet, child, "Alderleak"},
		{http.MethodGet, child + "/care", "limitdo-a1"},
		{http.MethodGet, child + "/care", "soreleak-a1"},
		{http.MethodGet, child + "/care", "changeleak-a1"},
		{http.MethodPost, child + "/limits/" + id("ca01") + "/reason", "reasonleak-a1"},
		{http.MethodGet, child + "/home", "homewhy-a1"},
		{http.MethodGet, child + "/notes", "aboutleak-a1"},
		{http.MethodGet, child + "/messages", "messageleak-a1"},
		{http.MethodGet, "/classes/" + id("c0a0") + "/messages", "messageearly-ca"},
		{http.MethodGet, "/incidents/" + id("11a1"), "whatleak-a"},
		{http.MethodGet, "/incidents/" + id("11a1"), "addleak-a"},
		{http.MethodGet, "/lessons/" + id("1ea0") + "/review", "hallleak-a"},
		{http.MethodGet, "/lessons/" + id("1ea0") + "/review", "waitleak-a"},
		{http.MethodGet, "/sign-off-requests", "askleak-b"},
		{http.MethodGet, "/lessons/" + id("1ea0"), "noteleak-a"},
		{http.MethodPost, class + "/term-report.csv", "Aliquot"},
		{http.MethodPost, class + "/term-report.pdf", "Aliquot"},
		{http.MethodPost, class + "/term-report.pdf", "parentnote-a1"},
		{http.MethodGet, class + "/notes", "parentnote-a1"},
		{http.MethodPost, "/reports/all/" + id("bd01") + "/term-reports.zip", "bundleleak-bd01"},
		{http.MethodGet, "/studio/people", "parentmail-b@"},
		{http.MethodGet, "/studio/staff/" + id("5f02"), "phoneleak-02"},
	} {
		got := m.ask(owner, c.method, c.path, formOf(url.Values{"passphrase": {sampleWords}}))
		if !strings.Contains(got.body+printed(got), c.text) {
			t.Errorf("%s %s (%d) does not show %q to the owner", c.method, c.path, got.status, c.text)
		}
	}
}
