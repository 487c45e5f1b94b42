package web_test

import (
	"crypto/sha256"
	"net/http"
	"net/url"
	"regexp"
	"slices"
	"strings"
	"sync"
	"testing"

	"rungbook/internal/app"
	"rungbook/internal/testkit"
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
	{"2015-08-20", []who{owner}}, {"20 August 2015", []who{owner}}, {"20/08/2015", []who{owner}},
	{"oldleak-b", []who{owner, teacherB}}, {"olddone-b", []who{owner, teacherB}}, {"oldtold-b", []who{owner, teacherB}},
	{"seenleak-a", []who{owner, teacherA}}, {"seenleak-b", []who{owner, teacherB}},
	{"soreleak-a1", []who{owner, teacherA, parentA}},
	{"soreleak-b1", []who{owner, teacherB, parentB}},
	{"placeleak-a1", []who{owner, teacherA, parentA}}, {"signleak-a1", []who{owner, teacherA, parentA}},
	{"placeleak-b1", []who{owner, teacherB, parentB}}, {"signleak-b1", []who{owner, teacherB, parentB}},
	{"refuseleak-a1", []who{owner, parentA}}, {"refuseleak-b1", []who{owner, parentB}},
	{"homewhy-a1", []who{owner, teacherA, parentA}},
	{"homewhy-b1", []who{owner, teacherB, parentB}},
	{"tickedfor-a1", []who{owner, teacherA, parentA}},
	{"tickedfor-b1", []who{owner, teacherB, parentB}},
	// Lessons: a note is the teacher's own.
	{"noteleak-a", []who{owner, teacherA}},
	{"noteleak-p", []who{owner, teacherA}},
	{"noteleak-b", []who{owner, teacherB}},
	{"planwhy-b1", []who{owner, teacherB}},
	// Pieces for a showcase: a note is the teacher's own.
	{"pieceleak-a", []who{owner, teacherA}},
	{"pieceleak-b", []who{owner, teacherB}},
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
	{"answerleak-a", []who{owner, teacherA, teacherB, helperNow}},
	{"answerleak-b", []who{owner, teacherA, teacherB, helperLater}},
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
	{"phoneleak-02", []who{owner, teacherA, teacherB}},
	{"phoneleak-03", []who{owner, teacherA, teacherB}},
	{"phoneleak-04", []who{owner, teacherA, teacherB, helperNow}},
	{"phoneleak-05", []who{owner, teacherA, teacherB, helperLater}},
	{"phoneleak-09", []who{owner, teacherA, teacherB}},
	{"1981-09-13", []who{owner, teacherA}}, {"13 September 1981", []who{owner, teacherA}}, {"13/09/1981", []who{owner, teacherA}},
	{"1981-11-26", []who{owner, helperNow}}, {"26 November 1981", []who{owner, helperNow}}, {"26/11/1981", []who{owner, helperNow}},
	{"Petra Alder", []who{owner, teacherA, parentA}}, {"Una Alder", []who{owner, parentA}},
	{"Piet Birch", []who{owner, teacherB, parentB}}, {"Una Birch", []who{owner, parentB}},
	{"Pia Cedar", []who{owner, teacherA, parentA}},
	{"relationleak-08", []who{owner, teacherA}},
	{"Dag Locked", []who{owner, teacherA, teacherB, helperNow}},
	{"Ines Vited", []who{owner}},
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
	{"argon2id", nil}, {"hashleak-", nil},
	{sampleWords, nil},
	{records["token"][ofA], nil}, {records["feed"][ofA], nil}, {records["change"][ofA], nil}, {records["stop"][ofA], nil},
	{"sample-session-", nil},
}

// ear listens for all of them, whatever a text is packed in.
var ear = sync.OnceValue(func() *testkit.Ear {
	var all []testkit.Canary
	for _, c := range canaries {
		one := testkit.Canary{Text: c.text}
		for _, as := range c.may {
			one.May = append(one.May, as.account)
		}
		all = append(all, one)
	}
	return testkit.NewEar(all)
})

// heard are the canaries in a text, opened. The same text is opened once.
func (w *world) heard(text string) []testkit.Heard {
	key := sha256.Sum256([]byte(text))
	found, known := w.opened[key]
	if !known {
		var n int
		found, n = ear().Listen(text)
		w.opened[key] = found
		w.scanned.readings += n
	}
	return found
}

// sung lists the canaries in a text that the actor may not meet, each with what it was packed in. Besides are those that are in order
// here.
func (w *world) sung(as who, text string, besides ...string) []string {
	var found []string
	for _, h := range w.heard(text) {
		if !slices.Contains(h.May, as.account) && !slices.Contains(besides, h.Text) {
			found = append(found, strings.TrimSpace(h.Text+" "+h.From))
		}
	}
	return found
}

// leaks are the canaries of an answer that the actor may not meet: in its status and headers, the names of files among them, and in
// its body. What the request itself named, and the browser's own session, are left out.
func (w *world) leaks(as who, path string, got answer, besides ...string) []string {
	w.scanned.answers++
	besides = append(besides, "sample-session-") // see strange, which tells the own one from others
	leaked := w.sung(as, got.head(path), besides...)
	leaked = append(leaked, w.sung(as, got.text(path), besides...)...)
	if other := strange(as, got); other != "" {
		leaked = append(leaked, other)
	}
	return leaked
}

var sessionIDs = regexp.MustCompile(`sample-session-\w*`)

// strange is the id of a session in an answer that is not the actor's own.
func strange(as who, got answer) string {
	for _, found := range sessionIDs.FindAllString(got.head("")+got.body, -1) {
		if as == nobody || found != "sample-session-"+as.account {
			return found
		}
	}
	return ""
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
		{http.MethodPost, class + "/term-report.xlsx", "Aliquot"},
		{http.MethodPost, class + "/" + id("c1a1") + ".pdf", "parentnote-a1"},
		{http.MethodGet, "/classes/" + id("c0a0") + "/showcase/" + id("71a0"), "pieceleak-a"},
		{http.MethodGet, "/classes/" + id("c0a0") + "/showcase/" + id("71a0") + "/print", "Aliquot"},
		{http.MethodGet, "/lessons/" + id("1ea0") + "/plan.svg", "Aliquot"},
		{http.MethodGet, "/incidents/" + id("11a1"), "seenleak-a"},
		{http.MethodGet, child + "/care", "placeleak-a1"},
		{http.MethodGet, child + "/home", "tickedfor-a1"},
	} {
		got := m.ask(owner, c.method, c.path, formOf(url.Values{"passphrase": {sampleWords}}))
		if !slices.ContainsFunc(m.heard(got.body), func(h testkit.Heard) bool { return h.Text == c.text }) {
			t.Errorf("%s %s (%d) does not show %q to the owner", c.method, c.path, got.status, c.text)
		}
	}
}
