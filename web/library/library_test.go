package library_test

import (
	"archive/zip"
	"bytes"
	"io"
	"log/slog"
	"mime/multipart"
	"net/http"
	"net/http/httptest"
	"net/url"
	"os"
	"strings"
	"testing"
	"time"

	"github.com/PuerkitoBio/goquery"
	"rungbook/internal/app"
	"rungbook/internal/postgres"
	"rungbook/internal/studio"
	"rungbook/internal/testkit"
	"rungbook/web"
)

// The accounts of the sample studio.
const (
	owner     = "ac01"
	teacher   = "ac02"
	assistant = "ac04"
	parent    = "ac06"
)

// starterSite is the whole site over the sample studio with the starter library in it.
func starterSite(t *testing.T) (http.Handler, *app.App) {
	t.Helper()
	db, err := postgres.Open(t.Context(), testkit.Fill(t).App, testkit.SampleNow, time.UTC)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(db.Close)
	use := app.New(db, app.StudioPolicy(), nil, app.Settings{StudioName: "Sample studio", TimeZone: "UTC"})
	library, err := app.ReadLibrary(os.DirFS("../../db/library"))
	if err != nil {
		t.Fatal(err)
	}
	if err := use.ImportLibrary(t.Context(), studio.ProgramActor(), library); err != nil {
		t.Fatal(err)
	}
	return web.New(use, web.Options{Log: slog.New(slog.DiscardHandler)}), use
}

func send(site http.Handler, account, method, path, kind string, body io.Reader) *httptest.ResponseRecorder {
	r := httptest.NewRequest(method, path, body)
	r.Header.Set("Sec-Fetch-Site", "same-origin")
	r.Header.Set("Content-Type", kind)
	r.AddCookie(&http.Cookie{Name: "rungbook", Value: "sample-session-" + account})
	w := httptest.NewRecorder()
	site.ServeHTTP(w, r)
	return w
}

func get(site http.Handler, account, path string) *httptest.ResponseRecorder {
	return send(site, account, "GET", path, "", nil)
}

func post(site http.Handler, account, path string, form url.Values) *httptest.ResponseRecorder {
	return send(site, account, "POST", path, "application/x-www-form-urlencoded", strings.NewReader(form.Encode()))
}

func page(t *testing.T, w *httptest.ResponseRecorder, status int) *goquery.Document {
	t.Helper()
	if w.Code != status {
		t.Fatalf("status %d, want %d: %s", w.Code, status, w.Body)
	}
	doc, err := goquery.NewDocumentFromReader(w.Body)
	if err != nil {
		t.Fatal(err)
	}
	return doc
}

// texts are those of each element, with commas between.
func texts(s *goquery.Selection) string {
	return strings.Join(s.Map(func(_ int, one *goquery.Selection) string { return text(one) }), ", ")
}

func text(s *goquery.Selection) string { return strings.Join(strings.Fields(s.Text()), " ") }

// fieldsOf are the fields of the page's form as a browser would send them.
func fieldsOf(doc *goquery.Document) url.Values {
	form := url.Values{}
	doc.Find(`main form[data-keep]`).Find("input, textarea, select").Each(func(_ int, s *goquery.Selection) {
		name, kind := s.AttrOr("name", ""), s.AttrOr("type", "")
		_, checked := s.Attr("checked")
		switch {
		case (kind == "checkbox" || kind == "radio") && !checked:
		case goquery.NodeName(s) == "select":
			form.Add(name, s.Find("option[selected]").First().AttrOr("value", ""))
		case goquery.NodeName(s) == "textarea":
			form.Add(name, s.Text())
		default:
			form.Add(name, s.AttrOr("value", ""))
		}
	})
	return form
}

func TestLaddersStandByFamily(t *testing.T) {
	site, _ := starterSite(t)
	doc := page(t, get(site, teacher, "/ladders"), http.StatusOK)
	if n := doc.Find(".ladder-card svg.ladder-small").Length(); n < 17 {
		t.Errorf("%d small ladders", n)
	}
	if got := texts(doc.Find("main h2")); got != "Shapes, Rolls, Upside down, Wheels, Arches, Flight" {
		t.Errorf("families: %s", got)
	}
	if doc.Find(`a[href="/ladders/add"]`).Length() != 1 {
		t.Error("a teacher is not offered to add a ladder")
	}
	if doc := page(t, get(site, assistant, "/ladders"), http.StatusOK); doc.Find(`a[href="/ladders/add"], a[href="/ladders/import"], a[href="/ladders/arrange"]`).Length() != 0 {
		t.Error("an assistant is offered to edit")
	}
}

func TestLadderIsDrawnWithItsFacts(t *testing.T) {
	site, _ := starterSite(t)
	doc := page(t, get(site, assistant, "/ladders/handstand"), http.StatusOK)
	if doc.Find("svg.ladder a.rung-link").Length() != 7 || doc.Find(".rung-lines > li").Length() != 7 {
		t.Error("not seven rungs")
	}
	if first := text(doc.Find(".rung-lines > li h3 a").First()); first != "Straight handstand, rolled out" {
		t.Errorf("the top line is %q", first)
	}
	facts := text(doc.Find("#hs-light-kick"))
	for _, want := range []string{"20 seconds a turn", "One spotter, standing by", "Both sides", "2 safety faults", "Wrists ready for weight (Readiness)"} {
		if !strings.Contains(facts, want) {
			t.Errorf("%q is not in %q", want, facts)
		}
	}
}

func TestRungPageSaysEverything(t *testing.T) {
	site, _ := starterSite(t)
	doc := page(t, get(site, assistant, "/rungs/hs-light-kick"), http.StatusOK)
	for selector, want := range map[string]string{
		"#look li:first-child":                                  "Push from the front foot, not a throw of the back leg",
		"#needs a[href='/rungs/re-wrists']":                     "Wrists ready for weight",
		"#unlocks a[href='/rungs/hs-l-shape']":                  "L shape, one leg up and one level",
		"#fault-kick-wild h3":                                   "Kick too big to control",
		"#fault-kick-wild .tag-warm":                            "Safety: not secure while seen",
		"#fault-kick-wild a[href='/drills/d-hand-kick-return']": "Small kicks between two lines",
	} {
		if got := text(doc.Find(selector).First()); got != want {
			t.Errorf("%s: %q, want %q", selector, got, want)
		}
	}
	all := text(doc.Find("main"))
	for _, want := range []string{"One spotter, standing by", "Until: Three light kicks", "not a clearance", "None on the back, some on the wrists, a little on landing",
		"20 seconds, set-up included", "Both sides, left and right", "Not at home", "Upside down on the hands.", "Say: “Float, do not fling”", "Often shows this way: about 6 in 10"} {
		if !strings.Contains(all, want) {
			t.Errorf("the page does not say %q", want)
		}
	}
	if doc.Find(`a[href$="/edit"], main form`).Length() != 0 {
		t.Error("an assistant is offered to edit")
	}
}

// The caution where it matters: nothing that bends the back over the head is shown without it.
func TestBackBendsAreShownWithTheirCaution(t *testing.T) {
	site, use := starterSite(t)
	library, err := use.Library(t.Context(), studio.ProgramActor())
	if err != nil {
		t.Fatal(err)
	}
	var paths []string
	for _, l := range library.Ladders {
		for _, r := range l.Rungs {
			if r.BackBend {
				paths = append(paths, "/rungs/"+r.Key)
			}
		}
	}
	for _, d := range library.Drills {
		if d.BackBend {
			paths = append(paths, "/drills/"+d.Key)
		}
	}
	if len(paths) < 10 {
		t.Fatalf("only %d back-bends", len(paths))
	}
	for _, path := range paths {
		if box := text(page(t, get(site, teacher, path), http.StatusOK).Find(".cautions-urgent")); !strings.Contains(box, "emergency") {
			t.Errorf("%s: %q", path, box)
		}
	}
}

func TestDrillsAreFoundByKindHomeAndWords(t *testing.T) {
	site, _ := starterSite(t)
	doc := page(t, get(site, assistant, "/drills?kind=conditioning&home=yes&q=hollow+face"), http.StatusOK)
	if got := text(doc.Find("#found h2")); got != "Conditioning" || doc.Find(`#found a[href="/drills/d-hollow-face-down"]`).Length() != 1 {
		t.Errorf("found under %q", got)
	}
	if doc.Find("#f-q").AttrOr("value", "") != "hollow face" || doc.Find("#f-kind option[selected]").AttrOr("value", "") != "conditioning" {
		t.Error("the search is not shown")
	}
	if doc := page(t, get(site, assistant, "/drills?q=zzzz"), http.StatusOK); doc.Find("#found .empty a[href='/drills']").Length() != 1 {
		t.Error("no way out of an empty search")
	}
}

func TestWhoIsRefusedTheLibrary(t *testing.T) {
	site, _ := starterSite(t)
	read := []string{"/ladders", "/ladders/handstand", "/ladders/export", "/rungs/hs-hold", "/drills", "/drills/d-warm"}
	edit := []string{"/ladders/add", "/ladders/arrange", "/ladders/import", "/ladders/handstand/edit", "/ladders/handstand/arrange", "/ladders/handstand/add-rung",
		"/rungs/hs-hold/edit", "/rungs/hs-hold/move", "/rungs/hs-hold/add-fault", "/rungs/hs-return/faults/arms-bend", "/drills/add", "/drills/d-warm/edit"}
	for _, path := range edit {
		for name, account := range map[string]string{"assistant": assistant, "parent": parent} {
			if w := get(site, account, path); w.Code != http.StatusNotFound {
				t.Errorf("%s opens %s: %d", name, path, w.Code)
			}
			if w := post(site, account, path, nil); w.Code != http.StatusNotFound && w.Code != http.StatusMethodNotAllowed {
				t.Errorf("%s posts to %s: %d", name, path, w.Code)
			}
		}
		for name, account := range map[string]string{"teacher": teacher, "owner": owner} {
			if w := get(site, account, path); w.Code != http.StatusOK {
				t.Errorf("%s cannot open %s: %d", name, path, w.Code)
			}
		}
	}
	for _, path := range read {
		if w := get(site, parent, path); w.Code != http.StatusNotFound {
			t.Errorf("parent opens %s: %d", path, w.Code)
		}
		if w := get(site, assistant, path); w.Code != http.StatusOK {
			t.Errorf("assistant cannot open %s: %d", path, w.Code)
		}
	}
	for _, path := range []string{"/ladders/handstand/remove", "/rungs/hs-hold/remove", "/rungs/hs-return/faults/arms-bend/remove", "/drills/d-warm/remove"} {
		if w := post(site, assistant, path, nil); w.Code != http.StatusNotFound {
			t.Errorf("assistant removes by %s: %d", path, w.Code)
		}
	}
}

func TestCircleIsRefusedAtItsFieldWithTheTextKept(t *testing.T) {
	site, _ := starterSite(t)
	form := fieldsOf(page(t, get(site, teacher, "/rungs/hs-return/edit"), http.StatusOK))
	form.Set("name", "A name just typed")
	form.Add("needs", "hs-light-kick")
	doc := page(t, post(site, teacher, "/rungs/hs-return/edit", form), http.StatusUnprocessableEntity)
	problem := text(doc.Find("#f-needs .error"))
	if !strings.Contains(problem, "circle") || !strings.Contains(problem, "Light kick onto the hands") || !strings.Contains(problem, "A name just typed") {
		t.Errorf("the field says %q", problem)
	}
	if doc.Find(`.notice-error a[href="#f-needs"]`).Length() != 1 {
		t.Error("the summary does not lead to the field")
	}
	if doc.Find("#f-name").AttrOr("value", "") != "A name just typed" || doc.Find(`input[name="needs"][value="hs-light-kick"][checked]`).Length() != 1 {
		t.Error("what was typed is gone")
	}
	if name := text(page(t, get(site, teacher, "/rungs/hs-return"), http.StatusOK).Find("h1")); name != "Small kick and return" {
		t.Errorf("the rung is called %q now", name)
	}
}

func TestUnsafeHomeFlagIsRefusedAtItsField(t *testing.T) {
	site, _ := starterSite(t)
	for _, path := range []string{"/rungs/hs-return/edit", "/drills/d-hand-kick-return/edit"} {
		form := fieldsOf(page(t, get(site, teacher, path), http.StatusOK))
		form.Set("inverted", "yes")
		form.Set("home.safe", "yes")
		doc := page(t, post(site, teacher, path, form), http.StatusUnprocessableEntity)
		if problem := text(doc.Find("#f-home-safe-error")); !strings.Contains(problem, "goes home") {
			t.Errorf("%s: the field says %q", path, problem)
		}
	}
}

func TestEveryFieldIsCheckedByName(t *testing.T) {
	site, _ := starterSite(t)
	form := fieldsOf(page(t, get(site, teacher, "/rungs/hs-hold/edit"), http.StatusOK))
	form.Set("name", "")
	form.Set("turn_seconds", "many")
	form.Set("equipment.0.count", "0")
	form.Set("home.reason", " ")
	doc := page(t, post(site, teacher, "/rungs/hs-hold/edit", form), http.StatusUnprocessableEntity)
	for _, id := range []string{"f-name", "f-turn_seconds", "f-equipment-0-count", "f-home-reason"} {
		if doc.Find("#"+id+"-error").Length() != 1 || doc.Find(`.notice-error a[href="#`+id+`"]`).Length() != 1 {
			t.Errorf("%s has no error of its own", id)
		}
	}
	if doc.Find("#f-turn_seconds").AttrOr("value", "") != "many" {
		t.Error("what was typed is gone")
	}
}

func TestRungIsAddedChangedMovedAndRemoved(t *testing.T) {
	site, _ := starterSite(t)
	form := fieldsOf(page(t, get(site, teacher, "/ladders/handstand/add-rung"), http.StatusOK))
	form.Set("name", "Two steps on the hands")
	form.Set("home.reason", "Upside down.")
	form.Set("inverted", "yes")
	if w := post(site, teacher, "/ladders/handstand/add-rung", form); w.Header().Get("Location") != "/rungs/two-steps-on-the-hands" {
		t.Fatalf("%d to %q", w.Code, w.Header().Get("Location"))
	}
	doc := page(t, get(site, teacher, "/rungs/two-steps-on-the-hands"), http.StatusOK)
	if !strings.Contains(text(doc.Find(".flash")), "is added") || text(doc.Find(".intro")) != "Rung 8 of 8 on the ladder Handstand." {
		t.Errorf("flash %q, intro %q", text(doc.Find(".flash")), text(doc.Find(".intro")))
	}
	fault := url.Values{"name": {"Steps too long"}, "cause.0.name": {"Hurry"}, "cause.0.cue": {"Small steps"}, "cause.0.tenths": {"7"}, "cause.0.drill": {"d-hand-wall-walk", ""}}
	if w := post(site, teacher, "/rungs/two-steps-on-the-hands/add-fault", fault); w.Header().Get("Location") != "/rungs/two-steps-on-the-hands#fault-steps-too-long" {
		t.Errorf("%d to %q", w.Code, w.Header().Get("Location"))
	}
	fault.Set("cause.1.name", "Hips behind")
	doc = page(t, post(site, teacher, "/rungs/two-steps-on-the-hands/faults/steps-too-long", fault), http.StatusUnprocessableEntity)
	if doc.Find("#f-cause-1-cue-error").Length() != 1 || doc.Find("#f-cause-1-name").AttrOr("value", "") != "Hips behind" {
		t.Error("a cause without a cue passed")
	}
	if w := post(site, teacher, "/rungs/two-steps-on-the-hands/move", url.Values{"place": {"support/su-bear"}}); w.Header().Get("Location") != "/ladders/support" {
		t.Errorf("%d to %q", w.Code, w.Header().Get("Location"))
	}
	if w := post(site, teacher, "/ladders/support/arrange", url.Values{"rung": {"two-steps-on-the-hands"}, "way": {"down"}}); w.Code != http.StatusSeeOther {
		t.Errorf("arranging: %d", w.Code)
	}
	doc = page(t, get(site, teacher, "/ladders/support"), http.StatusOK)
	if last := text(doc.Find(".rung-lines > li h3 a").Last()); last != "Two steps on the hands" {
		t.Errorf("the bottom rung is %q", last)
	}
	if w := post(site, teacher, "/rungs/two-steps-on-the-hands/remove", nil); w.Header().Get("Location") != "/ladders/support" {
		t.Errorf("removing: %d to %q", w.Code, w.Header().Get("Location"))
	}
	doc = page(t, post(site, teacher, "/rungs/hs-return/remove", nil), http.StatusConflict)
	if why := text(doc.Find(".notice-warning")); !strings.Contains(why, "Light kick onto the hands") {
		t.Errorf("kept with the words %q", why)
	}
}

func TestSomebodyElsesEditIsNotOverwritten(t *testing.T) {
	site, _ := starterSite(t)
	mine := fieldsOf(page(t, get(site, teacher, "/drills/d-hollow-hold/edit"), http.StatusOK))
	theirs := fieldsOf(page(t, get(site, owner, "/drills/d-hollow-hold/edit"), http.StatusOK))
	theirs.Set("space", "Theirs")
	if w := post(site, owner, "/drills/d-hollow-hold/edit", theirs); w.Code != http.StatusSeeOther {
		t.Fatalf("%d: %s", w.Code, w.Body)
	}
	mine.Set("space", "Mine")
	doc := page(t, post(site, teacher, "/drills/d-hollow-hold/edit", mine), http.StatusConflict)
	if doc.Find("#f-space").AttrOr("value", "") != "Mine" || !strings.Contains(text(doc.Find(".notice-error")), "Somebody changed this drill") {
		t.Errorf("the page says %q", text(doc.Find(".notice-error")))
	}
	if w := post(site, teacher, "/drills/d-hollow-hold/edit", fieldsOf(doc)); w.Code != http.StatusSeeOther {
		t.Errorf("saving again: %d", w.Code)
	}
}

func TestLibraryLeavesAndComesBackAsAFile(t *testing.T) {
	site, use := starterSite(t)
	w := get(site, teacher, "/ladders/export")
	zr, err := zip.NewReader(bytes.NewReader(w.Body.Bytes()), int64(w.Body.Len()))
	if err != nil || len(zr.File) < 17 {
		t.Fatalf("the export is no zip of ladders: %v", err)
	}
	doc := page(t, upload(site, "library.zip", w.Body.String(), nil), http.StatusOK)
	if !strings.Contains(text(doc.Find("main")), "nothing to import") {
		t.Errorf("its own export would change something: %s", text(doc.Find("main")))
	}

	ladder := "ladder:\n  key: balance\n  name: Balance\n  family: shapes\n  rungs:\n    - key: ba-one\n      name: One leg\n      turn_seconds: 20\n" +
		"      spotting: {people: 0, manner: none, until: \"\", how: \"\"}\n      home: {safe: true, reason: Standing.}\n"
	doc = page(t, upload(site, "balance.yaml", ladder, nil), http.StatusOK)
	if got := texts(doc.Find("main h2")); got != "Ladders: 1 new, Rungs: 1 new, Drills: nothing" {
		t.Errorf("it would bring %q", got)
	}
	if l, err := use.Library(t.Context(), studio.ProgramActor()); err != nil || len(l.Ladders) != len(zr.File) {
		t.Error("looking wrote something")
	}
	again := map[string]string{}
	doc.Find(`main form input[type="hidden"]`).Each(func(_ int, s *goquery.Selection) { again[s.AttrOr("name", "")] = s.AttrOr("value", "") })
	if w := upload(site, "", "", again); w.Header().Get("Location") != "/ladders" {
		t.Fatalf("%d: %s", w.Code, w.Body)
	}
	if name := text(page(t, get(site, teacher, "/rungs/ba-one"), http.StatusOK).Find("h1")); name != "One leg" {
		t.Errorf("imported %q", name)
	}
	doc = page(t, upload(site, "balance.yaml", strings.Replace(ladder, "turn_seconds: 20", "turn_seconds: 2\n      needs: [nowhere]", 1), nil), http.StatusUnprocessableEntity)
	if problem := text(doc.Find(".notice-error")); !strings.Contains(problem, "whole number from 5 to 180") {
		t.Errorf("a broken file is answered with %q", problem)
	}
	doc = page(t, upload(site, "", "", nil), http.StatusUnprocessableEntity)
	if doc.Find("#f-file-error").Length() != 1 {
		t.Error("no file, and no error at its field")
	}
}

// upload sends the import form as a teacher, with a file unless its name is "".
func upload(site http.Handler, name, content string, fields map[string]string) *httptest.ResponseRecorder {
	var body bytes.Buffer
	form := multipart.NewWriter(&body) // a buffer never fails
	for field, value := range fields {
		form.WriteField(field, value)
	}
	if name != "" {
		part, _ := form.CreateFormFile("file", name)
		io.WriteString(part, content)
	}
	form.Close()
	return send(site, teacher, "POST", "/ladders/import", form.FormDataContentType(), &body)
}
