package web_test

import (
	"net/http"
	"net/url"
	"regexp"
	"slices"
	"strings"
	"testing"

	"rungbook/internal/app"
	"rungbook/internal/testkit"
)

var feedPath = regexp.MustCompile(`/calendar/[A-Za-z0-9_-]+\.ics`)

// family is what one guardian takes home, as files and pages that the program makes for them: no word of another child, none of the
// staff among themselves.
type family struct {
	as, teacher   who
	child, class  string
	own           string   // the canary of the child's first name
	knows, report []string // canaries that their copy and their report must hold, so that both are known to be read
}

var families = []family{
	{parentA, teacherA, id("c1a1"), id("c0a0"), "Aliquot", []string{"Alderleak", "contactleak-a1", "2015-05-17", "reasonleak-a1", "soreleak-a1", "homewhy-a1"}, []string{"Alderleak", "parentnote-a1"}},
	{parentB, teacherB, id("c1b1"), id("c0b0"), "Bolide", []string{"Birchleak", "contactleak-b1", "2015-07-19", "reasonleak-b1", "soreleak-b1", "homewhy-b1"}, []string{"Birchleak", "parentnote-b1"}},
}

func TestFamiliesTakeHomeTheirOwn(t *testing.T) {
	t.Parallel()
	for name, l := range map[string]line{"both lines": {policy: app.StudioPolicy()}, "handlers alone": {policy: app.StudioPolicy(), bypassRLS: true}} {
		t.Run(name, func(t *testing.T) {
			w := openWorld(t, l)
			for _, f := range families {
				w.home(t, f)
				w.changed(t)
			}
			w.readLetters(t, "what families take home")
			w.readLog(t)
			t.Log(w.scanned)
		})
	}
}

func (w *world) home(t *testing.T, f family) {
	t.Helper()
	for _, as := range []string{"html", "json"} {
		w.takes(t, f, "a copy as "+as, w.copyOf(f, as), f.knows, copied(f.as)...)
	}
	w.takes(t, f, "the report", w.reportOf(t, f), f.report, f.report...)
	w.takes(t, f, "the calendar", w.calendarOf(t, f), []string{f.own})
	w.asForm(owner, "/studio/erasures/"+f.child+"/decline", "answer", "Not before the term ends.")
	answer := w.ask(f.as, http.MethodGet, "/home/"+f.child+"/data", nil)
	if !strings.Contains(answer.body, "Not before the term ends.") {
		t.Error("the answer to a request to erase is not shown")
	}
	w.takes(t, f, "the answer", answer, nil)
}

// takes holds that an answer sings the canaries that it must, and none that the guardian may not meet.
func (w *world) takes(t *testing.T, f family, what string, got answer, must []string, besides ...string) {
	t.Helper()
	if got.status != http.StatusOK {
		t.Errorf("%s of %s: %d", what, f.as.name, got.status)
	}
	for _, text := range must {
		if !slices.ContainsFunc(w.heard(got.body), func(h testkit.Heard) bool { return h.Text == text }) {
			t.Errorf("%s of %s does not hold %q", what, f.as.name, text)
		}
	}
	if leaked := w.leaks(f.as, "", got, besides...); len(leaked) > 0 {
		t.Errorf("%s of %s holds %q", what, f.as.name, leaked)
	}
}

func (w *world) asForm(as who, path string, pairs ...string) answer {
	return w.ask(as, http.MethodPost, path, formOf(values(pairs...)(plain)))
}

func (w *world) copyOf(f family, as string) answer {
	return w.asForm(f.as, "/home/"+f.child+"/data/copy", "as", as, "passphrase", sampleWords)
}

// reportOf is the report that the teacher releases, as the guardian opens it.
func (w *world) reportOf(t *testing.T, f family) answer {
	t.Helper()
	if got := w.asForm(f.teacher, "/reports/"+f.class+"/release", "child", f.child); got.status != http.StatusSeeOther {
		t.Errorf("releasing answers %d", got.status)
	}
	return w.ask(f.as, http.MethodGet, "/home/"+f.child+"/reports/"+f.class+".pdf", nil)
}

// calendarOf is what a calendar program, signed in as nobody, gets by a link of the guardian's.
func (w *world) calendarOf(t *testing.T, f family) answer {
	t.Helper()
	path := feedPath.FindString(w.asForm(f.as, "/home/calendar").body)
	if path == "" {
		t.Fatal("no link to a calendar")
	}
	return w.ask(nobody, http.MethodGet, path, nil)
}

// Leaks that are made on purpose are heard, through everything that they are packed in; if one is not, the scans above prove nothing.
func TestLeaksAreHeard(t *testing.T) {
	t.Parallel()
	w := openWorld(t, line{policy: app.StudioPolicy()})
	f := families[0]
	hears := func(what string, leaked []string, text string) {
		if !slices.ContainsFunc(leaked, func(found string) bool { return strings.HasPrefix(found, text) }) {
			t.Errorf("%s: heard %q, not %q", what, leaked, text)
		}
	}

	w.asForm(f.teacher, "/reports/"+f.class+"/"+f.child+"/note", "note", "A good term. aboutleak-a1, and more that is said at the door.")
	report := w.reportOf(t, f)
	hears("a note of the staff in a report", w.leaks(f.as, "", report), "aboutleak-a1")
	if strings.Contains(report.body, "aboutleak-a1") {
		t.Error("the report is not packed")
	}
	w.changed(t)

	w.exec(t, `update class set name = 'Amberclass on Wednesdays in the long hall by the water, with Azimuth' where id = $1`, f.class)
	feed := w.calendarOf(t, f)
	hears("a second child in a calendar", w.leaks(f.as, "", feed), "Azimuth")
	w.changed(t)

	letter := app.Letter{To: "parentmail-a@sample.example", Name: "Petra Alder", Subject: "A message from Sample", Text: "Hello Petra Alder,\n\nno hand-stands: reason&shy;leak-a1.\n"}
	hears("a reason in a letter", w.letterLeaks(letter), "reasonleak-a1")
	letter.Subject, letter.Text = "About Aliquot", "Hello"
	hears("a child in a subject", w.letterLeaks(letter), "Aliquot")

	named := answer{status: http.StatusOK, header: http.Header{"Content-Disposition": {`attachment; filename*=UTF-8''` + url.PathEscape("report-bolide-birchleak.pdf")}}}
	hears("a child in the name of a file", w.leaks(parentA, "", named), "Birchleak")
	page := answer{status: http.StatusNotFound, body: `<p data-text="` + "{&#34;x&#34;: &#34;not\\u0065leak-a&#34;}" + `">Nothing is here.</p>`}
	hears("a note on an error page", w.leaks(parentA, "", page), "noteleak-a")
	session := answer{status: http.StatusOK, body: "sample-session-" + parentB.account}
	hears("the session of somebody else", w.leaks(parentA, "", session), "sample-session-")
}
