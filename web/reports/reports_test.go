package reports_test

import (
	"encoding/csv"
	"log/slog"
	"net/http"
	"net/http/httptest"
	"net/url"
	"strings"
	"testing"
	"time"

	"github.com/PuerkitoBio/goquery"
	"github.com/jackc/pgx/v5"
	"rungbook/internal/app"
	"rungbook/internal/auth"
	"rungbook/internal/postgres"
	"rungbook/internal/testkit"
	"rungbook/web"
)

// sampleSite is the whole site over the sample studio: Tove (ac02) takes Amberclass, Tibor (ac03) Berylclass, Hanne (ac04) helps at
// Amberclass, Petra (ac06) is a parent of Aliquot in it.
func sampleSite(t *testing.T) http.Handler {
	t.Helper()
	addresses := testkit.Fill(t)
	db, err := postgres.Open(t.Context(), addresses.App, testkit.SampleNow, time.UTC)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(db.Close)
	hasher, err := auth.NewHasher(auth.Params{Memory: 8, Time: 1, Threads: 1}, 1)
	if err != nil {
		t.Fatal(err)
	}
	ownerKnows(t, addresses.Owner, hasher)
	return web.New(app.New(db, app.StudioPolicy(), hasher, app.Settings{StudioName: "Sample studio", TimeZone: "UTC"}), web.Options{Log: slog.New(slog.DiscardHandler)})
}

const ownerWords = "seven slow herons at noon"

// ownerKnows gives the owner (ac01) a passphrase.
func ownerKnows(t *testing.T, address string, hasher *auth.Hasher) {
	t.Helper()
	rows, err := pgx.Connect(t.Context(), address)
	if err != nil {
		t.Fatal(err)
	}
	defer rows.Close(t.Context())
	hash, err := hasher.Hash(t.Context(), ownerWords)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := rows.Exec(t.Context(), `update account_secret set password_hash = $2 where account_id = $1`, testkit.SampleID("ac01"), hash); err != nil {
		t.Fatal(err)
	}
}

func ask(site http.Handler, account, method, path string) *httptest.ResponseRecorder {
	return post(site, account, method, path, nil)
}

func post(site http.Handler, account, method, path string, form url.Values) *httptest.ResponseRecorder {
	r := httptest.NewRequest(method, path, strings.NewReader(form.Encode()))
	if form != nil {
		r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	}
	r.Header.Set("Sec-Fetch-Site", "same-origin")
	if account != "" {
		r.AddCookie(&http.Cookie{Name: "rungbook", Value: "sample-session-" + account})
	}
	w := httptest.NewRecorder()
	site.ServeHTTP(w, r)
	return w
}

func document(t *testing.T, w *httptest.ResponseRecorder) *goquery.Document {
	t.Helper()
	if w.Code != http.StatusOK {
		t.Fatalf("status %d: %s", w.Code, w.Body)
	}
	doc, err := goquery.NewDocumentFromReader(w.Body)
	if err != nil {
		t.Fatal(err)
	}
	return doc
}

func text(s *goquery.Selection) string { return strings.Join(strings.Fields(s.Text()), " ") }

func classPath(end string) string { return "/reports/" + testkit.SampleID(end).String() }

func TestListShowsOwnClassesWithTheirFiles(t *testing.T) {
	doc := document(t, ask(sampleSite(t), "ac02", "GET", "/reports"))
	rows := doc.Find("table tbody tr")
	if rows.Length() != 1 || text(rows.Find("th a")) != "Amberclass" {
		t.Errorf("rows: %s", text(rows))
	}
	if href, _ := rows.Find("th a").Attr("href"); href != classPath("c0a0") {
		t.Errorf("the class leads to %q", href)
	}
	var actions []string
	rows.Find(`form[method="post"]`).Each(func(_ int, f *goquery.Selection) { actions = append(actions, f.AttrOr("action", "")) })
	if want := classPath("c0a0") + "/term-report.pdf " + classPath("c0a0") + "/term-report.xlsx " + classPath("c0a0") + "/term-report.csv"; strings.Join(actions, " ") != want {
		t.Errorf("forms post to %q", actions)
	}
	// 2 children; the lesson of 25 February is over, the one of tonight is not; one turn in each of the two.
	for label, want := range map[string]string{"Children": "2", "Lessons held": "1", "Turns marked": "2"} {
		if got := text(rows.Find(`td[data-label="` + label + `"]`)); got != want {
			t.Errorf("%s: %q, want %q", label, got, want)
		}
	}
}

func TestPreviewHasARowForEachChild(t *testing.T) {
	doc := document(t, ask(sampleSite(t), "ac02", "GET", classPath("c0a0")))
	if got := text(doc.Find("h1")); got != "Term report of Amberclass" {
		t.Errorf("heading %q", got)
	}
	rows := doc.Find("#children tbody tr")
	if rows.Length() != 2 {
		t.Fatalf("%d rows, want 2: %s", rows.Length(), text(rows))
	}
	first := rows.Eq(0)
	if got := text(first.Find("th a")); got != "Aliquot Alderleak" {
		t.Errorf("first child %q", got)
	}
	if text(first.Find("th .tag")) != "Few marks" {
		t.Errorf("few marks are not said: %s", text(first))
	}
	for label, want := range map[string]string{"Turns marked": "1", "Secured": "0", "Working on": "1", "Recheck": "0", "Came to": "none noted"} {
		if got := text(first.Find(`td[data-label="` + label + `"]`)); got != want {
			t.Errorf("%s: %q, want %q", label, got, want)
		}
	}
	if action := first.Find("form").AttrOr("action", ""); action != classPath("c0a0")+"/"+testkit.SampleID("c1a1").String()+".pdf" {
		t.Errorf("the child's file is at %q", action)
	}
	if got := text(doc.Find(".notice-warning, .notice")); !strings.Contains(got, "Attendance is not complete") {
		t.Errorf("notices: %q", got)
	}
	names := doc.Find("#names details").Eq(0)
	if text(names.Find("dt").Eq(1)) != "Working on" || text(names.Find("dd").Eq(1)) != "Small kick and return" {
		t.Errorf("names of the first child: %s", text(names))
	}
}

func TestFilesAreAnsweredToAPost(t *testing.T) {
	site := sampleSite(t)
	for path, want := range map[string]struct{ kind, name, begins string }{
		classPath("c0a0") + "/term-report.pdf":                               {"application/pdf", `filename="term-report-amberclass-spring.pdf"`, "%PDF-"},
		classPath("c0a0") + "/term-report.csv":                               {"text/csv; charset=utf-8", `filename="term-report-amberclass-spring.csv"`, "studio,class,term,"},
		classPath("c0a0") + "/" + testkit.SampleID("c1a1").String() + ".pdf": {"application/pdf", `filename="term-report-aliquot-alderleak-spring.pdf"`, "%PDF-"},
	} {
		w := ask(site, "ac02", "POST", path)
		if w.Code != http.StatusOK || w.Header().Get("Content-Type") != want.kind || !strings.HasPrefix(w.Header().Get("Content-Disposition"), "attachment; "+want.name) ||
			!strings.HasPrefix(w.Body.String(), want.begins) {
			t.Errorf("%s: %d, %v, %.12q", path, w.Code, w.Header(), w.Body)
		}
		if got := w.Header().Get("Cache-Control"); !strings.Contains(got, "no-store") {
			t.Errorf("%s may be kept: Cache-Control %q", path, got)
		}
		if w := ask(site, "ac02", "GET", path); w.Code == http.StatusOK {
			t.Errorf("GET %s answers with the file", path)
		}
	}
}

func TestCSVOfTheSite(t *testing.T) {
	w := ask(sampleSite(t), "ac02", "POST", classPath("c0a0")+"/term-report.csv")
	rows, err := csv.NewReader(w.Body).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	if len(rows) != 1+2*2 { // two children, each on the two rungs of the term's ladder
		t.Errorf("%d rows: %v", len(rows), rows)
	}
}

func TestReportsThatAreNotYours(t *testing.T) {
	site := sampleSite(t)
	child := testkit.SampleID("c1a1").String()
	for name, account := range map[string]string{"a teacher of another class": "ac03", "the assistant of the class": "ac04", "a parent of a child in the class": "ac06"} {
		for _, c := range []struct{ method, path string }{{"GET", ""}, {"POST", "/term-report.pdf"}, {"POST", "/term-report.csv"}, {"POST", "/" + child + ".pdf"}} {
			if w := ask(site, account, c.method, classPath("c0a0")+c.path); w.Code != http.StatusNotFound || strings.Contains(w.Body.String(), "Aliquot") {
				t.Errorf("%s, %s %s: %d", name, c.method, c.path, w.Code)
			}
		}
	}
	for _, c := range []struct{ method, path string }{{"GET", "/reports/not-an-id"}, {"POST", "/reports/not-an-id/term-report.pdf"}, {"POST", classPath("c0a0") + "/not-an-id.pdf"},
		{"POST", classPath("c0a0") + "/" + testkit.SampleID("c1b1").String() + ".pdf"}} {
		if w := ask(site, "ac02", c.method, c.path); w.Code != http.StatusNotFound {
			t.Errorf("%s %s: %d, want 404", c.method, c.path, w.Code)
		}
	}
	if w := ask(site, "", "GET", "/reports"); w.Code != http.StatusSeeOther || !strings.HasPrefix(w.Header().Get("Location"), "/sign-in") {
		t.Errorf("nobody: %d to %s", w.Code, w.Header().Get("Location"))
	}
}

func TestTheOwnerSeesEveryClass(t *testing.T) {
	site := sampleSite(t)
	doc := document(t, ask(site, "ac01", "GET", "/reports"))
	if got := doc.Find("table tbody tr").Length(); got != 2 {
		t.Errorf("the owner sees %d classes, want 2", got)
	}
}

// Who has no note yet comes first; what was typed and refused is still there.
func TestNotesToParents(t *testing.T) {
	site := sampleSite(t)
	doc := document(t, ask(site, "ac02", "GET", classPath("c0a0")+"/notes"))
	if got := text(doc.Find("#open h2")); got != "One child has no note yet" {
		t.Errorf("heading %q", got)
	}
	if text(doc.Find("#open label")) != "Azimuth Cedarleak" || text(doc.Find("#kept textarea")) != "parentnote-a1" {
		t.Errorf("open: %s, kept: %s", text(doc.Find("#open label")), text(doc.Find("#kept textarea")))
	}
	long := strings.Repeat("a", 2001)
	r := httptest.NewRequest("POST", doc.Find("#open form").AttrOr("action", ""), strings.NewReader("note="+long))
	r.Header.Set("Sec-Fetch-Site", "same-origin")
	r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	r.AddCookie(&http.Cookie{Name: "rungbook", Value: "sample-session-ac02"})
	w := httptest.NewRecorder()
	site.ServeHTTP(w, r)
	if w.Code != http.StatusUnprocessableEntity || !strings.Contains(w.Body.String(), long) {
		t.Errorf("a note that is too long: %d, typed text kept: %v", w.Code, strings.Contains(w.Body.String(), long))
	}
}

func TestBundlePageOffersTheFile(t *testing.T) {
	site := sampleSite(t)
	path := "/reports/all/" + testkit.SampleID("bd01").String()
	doc := document(t, ask(site, "ac01", "GET", path))
	if got := doc.Find("#progress form").First().AttrOr("action", ""); got != path+"/term-reports.zip" {
		t.Errorf("the file is at %q", got)
	}
	if _, open := doc.Find("#progress").Attr("data-open"); open {
		t.Error("a bundle that is ready is looked after again and again")
	}
	if doc.Find(`#progress input[name="passphrase"]`).Length() != 1 {
		t.Error("the file is to be had without the passphrase")
	}
	refused := ask(site, "ac01", "POST", path+"/term-reports.zip")
	if refused.Code != http.StatusUnprocessableEntity || !strings.Contains(refused.Body.String(), "not your passphrase") {
		t.Errorf("without the passphrase: %d", refused.Code)
	}
	w := post(site, "ac01", "POST", path+"/term-reports.zip", url.Values{"passphrase": {ownerWords}})
	if w.Code != http.StatusOK || w.Header().Get("Content-Type") != "application/zip" || !strings.HasPrefix(w.Body.String(), "PK") {
		t.Errorf("%d, %s", w.Code, w.Header().Get("Content-Type"))
	}
}
