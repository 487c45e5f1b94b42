package people_test

import (
	"bytes"
	"io"
	"log/slog"
	"mime/multipart"
	"net/http"
	"net/http/httptest"
	"net/url"
	"strings"
	"testing"
	"time"

	"github.com/PuerkitoBio/goquery"
	"rungbook/internal/app"
	"rungbook/internal/auth"
	"rungbook/internal/postgres"
	"rungbook/internal/testkit"
	"rungbook/web"
)

// browser asks the whole site over the sample studio as one account.
type browser struct {
	t       *testing.T
	site    http.Handler
	session string
}

func open(t *testing.T) *browser {
	t.Helper()
	db, err := postgres.Open(t.Context(), testkit.Fill(t).App, testkit.SampleNow, time.UTC)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(db.Close)
	hasher, err := auth.NewHasher(auth.DefaultParams(), 1)
	if err != nil {
		t.Fatal(err)
	}
	use := app.New(db, app.StudioPolicy(), hasher, app.Settings{StudioName: "Sample studio", BaseURL: "https://studio.example", TimeZone: "UTC"})
	return &browser{t: t, site: web.New(use, web.Options{Log: slog.New(slog.DiscardHandler)}), session: "sample-session-ac01"}
}

func (b *browser) as(account string) *browser {
	return &browser{t: b.t, site: b.site, session: "sample-session-" + account}
}

func (b *browser) ask(method, path, kind string, body io.Reader) *httptest.ResponseRecorder {
	r := httptest.NewRequest(method, path, body)
	r.Header.Set("Sec-Fetch-Site", "same-origin")
	r.Header.Set("Content-Type", kind)
	if b.session != "" {
		r.AddCookie(&http.Cookie{Name: "rungbook", Value: b.session})
	}
	w := httptest.NewRecorder()
	b.site.ServeHTTP(w, r)
	return w
}

func (b *browser) get(path string) *goquery.Document {
	b.t.Helper()
	return b.page(b.ask("GET", path, "", nil), http.StatusOK)
}

func (b *browser) post(path string, pairs ...string) *httptest.ResponseRecorder {
	form := url.Values{}
	for i := 0; i+1 < len(pairs); i += 2 {
		form.Add(pairs[i], pairs[i+1])
	}
	return b.ask("POST", path, "application/x-www-form-urlencoded", strings.NewReader(form.Encode()))
}

func (b *browser) page(w *httptest.ResponseRecorder, status int) *goquery.Document {
	b.t.Helper()
	if w.Code != status {
		b.t.Fatalf("status %d, want %d: %s", w.Code, status, w.Body)
	}
	doc, err := goquery.NewDocumentFromReader(w.Body)
	if err != nil {
		b.t.Fatal(err)
	}
	return doc
}

// leads checks that a form worked and gives the page it leads to.
func (b *browser) leads(w *httptest.ResponseRecorder) *goquery.Document {
	b.t.Helper()
	if w.Code != http.StatusSeeOther {
		b.t.Fatalf("status %d, want 303: %s", w.Code, w.Body)
	}
	return b.get(w.Header().Get("Location"))
}

func words(s *goquery.Selection) string { return strings.Join(strings.Fields(s.Text()), " ") }

func (b *browser) holds(what string, s *goquery.Selection, want string) {
	b.t.Helper()
	if got := words(s); !strings.Contains(got, want) {
		b.t.Errorf("%s: %q does not hold %q", what, got, want)
	}
}

func id(end string) string { return testkit.SampleID(end).String() }

func pages() []string {
	return []string{"/studio", "/studio/trail", "/studio/people", "/studio/people/invite", "/studio/people/" + id("ac06"), "/studio/staff", "/studio/staff/new",
		"/studio/staff/" + id("5f04"), "/studio/children", "/studio/children/new", "/studio/children/" + id("c1a1"), "/studio/terms", "/studio/terms/new",
		"/studio/terms/" + id("7e01"), "/studio/classes", "/studio/classes/new", "/studio/classes/" + id("c0a0"), "/studio/classes/" + id("c0a0") + "/edit",
		"/studio/equipment", "/studio/roster"}
}

func TestEveryPageIsTheOwnersAlone(t *testing.T) {
	b := open(t)
	for _, path := range pages() {
		doc := b.get(path)
		if doc.Find("h1").Length() != 1 || doc.Find("main").Length() != 1 {
			t.Errorf("%s: one h1 and one main are wanted", path)
		}
		for name, account := range map[string]string{"teacher": "ac02", "assistant": "ac04", "parent": "ac06"} {
			if w := b.as(account).ask("GET", path, "", nil); w.Code != http.StatusNotFound {
				t.Errorf("%s cannot open %s: status %d", name, path, w.Code)
			}
		}
	}
}

func TestOverviewNamesWhatNeedsSomebody(t *testing.T) {
	b := open(t)
	doc := b.get("/studio")
	b.holds("attention", doc.Find("#attention"), "3 links have not been used")
	b.holds("stats", doc.Find(".stats"), "children, 3 of them in a class this term")
	b.post("/studio/classes/new", "name", "Coralclass", "term", id("7e01"), "weekday", "4", "starts_at", "17:00", "minutes", "45", "places", "12",
		"time_zone", "UTC", "rotations", "3", "groups", "3", "turn_floor", "6", "max_activities", "2")
	doc = b.get("/studio")
	b.holds("attention", doc.Find("#attention"), "1 class has no teacher")
	b.holds("trail", doc.Find("#trail td"), "Coralclass")
}

func TestInvitationIsShownOnceAndJoins(t *testing.T) {
	b := open(t)
	doc := b.page(b.post("/studio/people/invite", "name", "Nia Fell", "email", "not an address", "roles", "teacher"), http.StatusUnprocessableEntity)
	if got := doc.Find("#f-name").AttrOr("value", ""); got != "Nia Fell" {
		t.Errorf("the typed name is %q", got)
	}
	b.holds("summary", doc.Find("[data-focus]"), "An e-mail address, such as")
	if !doc.Find(`input[name="roles"][value="teacher"]`).Is("[checked]") {
		t.Error("the tick is lost")
	}
	doc = b.page(b.post("/studio/people/invite", "name", "Nia Fell", "email", "nia@sample.example", "roles", "teacher", "children", id("c1a2")), http.StatusOK)
	link := words(doc.Find("#f-link"))
	path, ok := strings.CutPrefix(link, "https://studio.example")
	if !ok {
		t.Fatalf("the link is %q", link)
	}
	b.holds("open links", b.get("/studio/people").Find("#links"), "Join as teacher and guardian of Azimuth Cedarleak")
	if html, _ := b.get("/studio/people").Html(); strings.Contains(html, path) {
		t.Error("the link is shown a second time")
	}

	visitor := &browser{t: t, site: b.site}
	doc = visitor.get(path)
	b.holds("what for", doc.Find("main"), "Guardian of Azimuth Cedarleak")
	doc = visitor.get(path) // opening uses nothing up
	b.holds("who", doc.Find("h1"), "Welcome, Nia Fell")
	doc = visitor.page(visitor.post(path, "passphrase", "short"), http.StatusUnprocessableEntity)
	if doc.Find(".field-wrong #f-passphrase").Length() != 1 {
		t.Error("the refusal is not at the passphrase")
	}
	w := visitor.post(path, "passphrase", "seven herons over wet sand")
	if w.Code != http.StatusSeeOther || len(w.Result().Cookies()) != 1 {
		t.Fatalf("joining: status %d, %d cookies", w.Code, len(w.Result().Cookies()))
	}
	visitor.session = w.Result().Cookies()[0].Value
	b.holds("account", visitor.get("/account").Find("main"), "nia@sample.example")
	doc = visitor.page(visitor.ask("GET", path, "", nil), http.StatusNotFound)
	b.holds("spent link", doc.Find("main"), "Ask the studio for a new link")
}

func TestAccountIsChangedAndLocked(t *testing.T) {
	b := open(t)
	path := "/studio/people/" + id("ac06")
	doc := b.leads(b.post(path+"/roles", "roles", "assistant"))
	if !doc.Find(`input[value="assistant"]`).Is("[checked]") {
		t.Error("the role is not kept")
	}
	b.leads(b.post(path + "/guardians/" + id("c1a1") + "/remove"))
	if w := b.as("ac06").ask("GET", "/home/"+id("c1a1"), "", nil); w.Code != http.StatusNotFound {
		t.Errorf("a removed guardian still sees the child: %d", w.Code)
	}
	b.holds("state", b.leads(b.post(path+"/lock")).Find("dl"), "Locked")
	if w := b.as("ac06").ask("GET", "/account", "", nil); w.Code != http.StatusSeeOther {
		t.Errorf("a locked account is still signed in: %d", w.Code)
	}
	doc = b.page(b.post("/studio/people/"+id("ac01")+"/roles"), http.StatusUnprocessableEntity)
	b.holds("last owner", doc.Find("[data-focus]"), "last owner")
}

func TestTermKeepsItsHolidays(t *testing.T) {
	b := open(t)
	doc := b.page(b.post("/studio/terms/new", "name", "Autumn", "starts_on", "2026-09-07", "ends_on", "2026-12-11", "holidays", "next week off"), http.StatusUnprocessableEntity)
	b.holds("holidays", doc.Find(".field-wrong"), "does not begin with a day")
	doc = b.leads(b.post("/studio/terms/new", "name", "Autumn", "starts_on", "2026-09-07", "ends_on", "2026-12-11",
		"holidays", "2026-10-26 2026-10-30 Half-term week\r\n\r\n2026-11-11 Inset"))
	if got := doc.Find("#f-holidays").Text(); got != "2026-10-26 2026-10-30 Half-term week\n2026-11-11 Inset\n" {
		t.Errorf("holidays come back as %q", got)
	}
}

func TestClassIsStaffedAndFilled(t *testing.T) {
	b := open(t)
	path := "/studio/classes/" + id("c0b0")
	doc := b.page(b.post(path+"/staff", "duty", "teacher", "from_on", "2026-03-11"), http.StatusUnprocessableEntity)
	b.holds("staff", doc.Find(".field-wrong"), "Choose somebody")
	doc = b.leads(b.post(path+"/staff", "staff", id("5f02"), "duty", "teacher", "from_on", "2026-03-11", "cover", "yes"))
	b.holds("cover", doc.Find("#staff"), "Teacher, only 11 March 2026")
	doc = b.leads(b.post(path+"/children", "enrol_from", "2026-03-04", "children", id("c1a1"), "children", id("c1a2")))
	b.holds("children", doc.Find("#children"), "Azimuth Cedarleak")
	doc = b.leads(b.post(path + "/children/" + id("c1a2") + "/remove"))
	if got := doc.Find("#children .row-quiet").Length() + doc.Find(`#children a[href$="`+id("c1a2")+`"]`).Length(); got > 2 {
		t.Errorf("the child taken out is still in the class: %s", words(doc.Find("#children")))
	}
	doc = b.leads(b.post(path + "/lessons"))
	b.holds("told", doc.Find("#flash"), "lessons made")
}

func TestStockIsNotRemovedByAccident(t *testing.T) {
	b := open(t)
	doc := b.get("/studio/equipment")
	doc.Find("#stock-form button").Each(func(_ int, s *goquery.Selection) {
		if words(s) != "Save the equipment" && s.AttrOr("form", "") != "remove-form" {
			t.Errorf("%q would be pressed by the Enter key", words(s))
		}
	})
	doc = b.leads(b.post("/studio/equipment", "stock-panel-mat", "9", "stock-wall", "6"))
	if got := doc.Find("#f-stock-panel-mat").AttrOr("value", ""); got != "9" {
		t.Errorf("stock %q", got)
	}
	b.page(b.post("/studio/equipment", "stock-panel-mat", "many", "stock-wall", "6"), http.StatusUnprocessableEntity)
	b.page(b.post("/studio/equipment/wall/remove"), http.StatusConflict) // a rung needs it
}

func TestTeacherSignsOffForSeveralRungs(t *testing.T) {
	b := open(t).as("ac02")
	doc := b.get("/studio/sign-offs")
	if doc.Find(`.crumbs a[href="/studio"]`).Length() != 0 {
		t.Error("a crumb leads to a page that a teacher may not see")
	}
	b.holds("menu", doc.Find(".menu"), "Sign-offs")
	b.holds("cautions", doc.Find("main"), "It does not make a step safe to spot")
	doc = b.page(b.post("/studio/sign-offs/new", "staff", id("5f04"), "until", "2027-03-04"), http.StatusUnprocessableEntity)
	b.holds("rungs", doc.Find("#f-rungs"), "Choose at least one rung")
	b.leads(b.post("/studio/sign-offs/" + id("500b") + "/revoke")) // it would hold until the end of the year
	doc = b.leads(b.post("/studio/sign-offs/new", "staff", id("5f05"), "until", "2026-03-20", "rungs", "hs-hold", "rungs", "hs-return"))
	b.holds("told", doc.Find("#flash"), "Signed off for 2 rungs")
	b.holds("ending", doc.Find("#ending"), "20 March 2026, in 16 days")
	renew := b.get(doc.Find("#ending a").First().AttrOr("href", ""))
	if !renew.Find(`input[name="rungs"][value="hs-hold"]`).Is("[checked]") {
		t.Error("renewing forgets the rung")
	}
}

// roster posts a roster with the button "check" or "import".
func (b *browser) roster(do, file, text string) *httptest.ResponseRecorder {
	var body bytes.Buffer
	w := multipart.NewWriter(&body)
	if file != "" {
		part, err := w.CreateFormFile("file", "roster.csv")
		if err != nil {
			b.t.Fatal(err)
		}
		io.WriteString(part, file)
	}
	for name, value := range map[string]string{"do": do, "text": text} {
		if err := w.WriteField(name, value); err != nil {
			b.t.Fatal(err)
		}
	}
	if err := w.Close(); err != nil {
		b.t.Fatal(err)
	}
	return b.ask("POST", "/studio/roster", w.FormDataContentType(), &body)
}

const head = "ref,given_name,family_name,birth_date,class,guardian_email\n"

func TestRosterIsCheckedThenImported(t *testing.T) {
	b := open(t)
	doc := b.page(b.roster("check", head+"1,Ada,Quill,2016-02-30,Noclass,\n", ""), http.StatusUnprocessableEntity)
	row := doc.Find("table").First().Find("tbody tr").First()
	b.holds("row", row.Find("th"), "2")
	b.holds("column", row.Find(`[data-label="Column"]`), "birth_date")
	b.holds("problem", row, "“2016-02-30” is no day")
	file := head + "1,Ada,Quill,2016-02-29,Amberclass,q@sample.example\n"
	doc = b.page(b.roster("check", file, ""), http.StatusOK)
	b.holds("dry run", doc.Find(".notice"), "1 child, of them 1 new")
	if doc.Find(`button[name="do"][value="import"]`).Length() != 1 {
		t.Error("there is no button to import")
	}
	if got := doc.Find("#f-text").Text(); got != file {
		t.Errorf("the text to import is %q", got)
	}
	if got := b.get("/studio/children").Find("tbody tr").Length(); got != 3 {
		t.Errorf("a check wrote something: %d children", got)
	}
	doc = b.leads(b.roster("import", "", strings.ReplaceAll(file, "\n", "\r\n"))) // as a browser sends a text
	b.holds("told", doc.Find("#flash"), "Imported: 1 child")
	b.holds("guardian", doc.Find("table"), "No passphrase yet")
	if got := b.get("/studio/children").Find("tbody tr").Length(); got != 4 {
		t.Errorf("%d children after the import", got)
	}
	doc = b.leads(b.roster("import", file, ""))
	b.holds("again", doc.Find("#flash"), "0 new, 0 changed and 1 as they were")
}

func TestRosterLimits(t *testing.T) {
	b := open(t)
	b.page(b.roster("check", "", " "), http.StatusUnprocessableEntity)
	b.page(b.roster("check", head+strings.Repeat("x", app.RosterBytes), ""), http.StatusUnprocessableEntity)
	b.page(b.roster("check", "", strings.Repeat("x", 3*app.RosterBytes)), http.StatusUnprocessableEntity)
	b.page(b.ask("POST", "/studio/roster", "multipart/form-data; boundary=x", strings.NewReader("not a form")), http.StatusUnprocessableEntity)
	w := b.ask("GET", "/studio/roster/template.csv", "", nil)
	if w.Code != http.StatusOK || !strings.HasPrefix(w.Body.String(), "ref,given_name") || !strings.Contains(w.Header().Get("Content-Disposition"), "roster.csv") {
		t.Errorf("template: %d %q", w.Code, w.Header())
	}
}

func TestChildRecordWarnsOfAlikeNames(t *testing.T) {
	b := open(t)
	file := head + "1,Aliquod,Adder,2016-02-28,Amberclass,\n"
	b.leads(b.roster("import", file, ""))
	b.holds("alike", b.get("/studio/classes/"+id("c0a0")).Find(".notice-warning"), "look alike on a class sheet")
	b.holds("alike", b.get("/studio/children/"+id("c1a1")).Find(".notice-warning"), "Aliquod A. is in Amberclass too")
}
