package sheet_test

import (
	"net/url"
	"strings"
	"testing"

	"github.com/PuerkitoBio/goquery"
)

func says(t *testing.T, page *goquery.Document, selector, want string) {
	t.Helper()
	if got := strings.Join(strings.Fields(page.Find(selector).Text()), " "); !strings.Contains(got, want) {
		t.Errorf("%s says %q, want %q in it", selector, got, want)
	}
}

func TestStopSaysFirstWhatToDo(t *testing.T) {
	t.Parallel()
	h := open(t)
	path := "/lessons/" + id("1ea0") + "/stop"
	page := h.page(helperA, path, 200)
	says(t, page, "main", "call emergency services, even if it eases")
	says(t, page, "main", "Tell the teacher now.")
	if page.Find("textarea").Length() != 0 {
		t.Error("an assistant is given the form")
	}
	h.page(teacherB, path, 404)
	h.page(parentA, path, 404)

	form := url.Values{"at": {"16:50"}, "child": {id("c1a1")}, "what": {"Slid off the bench."}, "done": {"Sat down, looked at by Orla."}, "told": {""}}
	page = h.post(teacherA, path, form, 422)
	says(t, page, "form", "Say who was told")
	if page.Find("textarea[name=what]").Text() != "Slid off the bench." {
		t.Error("what was typed is lost")
	}
	form.Set("told", "Parents, 17:10")
	h.post(helperA, path, form, 404)
	for field, wrong := range map[string]string{"at": "noon", "child": "x"} {
		bad := url.Values{}
		for k, v := range form {
			bad[k] = v
		}
		bad.Set(field, wrong)
		h.post(teacherA, path, bad, 422)
	}
	bad := url.Values{"at": {"16:50"}, "child": {id("c1b1")}, "what": {"x"}, "done": {"x"}, "told": {"x"}}
	h.post(teacherA, path, bad, 422) // a child of another class
	h.post(teacherA, path, form, 303)
	var record string
	if err := h.rows.QueryRow(t.Context(), `select id::text from incident where what like 'Slid%' and keep_until = '2036-05-17'`).Scan(&record); err != nil {
		t.Fatalf("the record, kept until the 21st birthday: %v", err)
	}
	says(t, h.page(teacherA, path, 200), "#records", "4 March, 16:50, Aliquot Alderleak")

	path = "/incidents/" + record
	says(t, h.page(teacherA, path, 200), "main", "Slid off the bench.")
	for _, who := range []string{teacherB, helperA, parentA} {
		h.page(who, path, 404)
		h.post(who, path+"/add", url.Values{"words": {"x"}}, 404)
	}
	h.post(teacherA, path+"/add", url.Values{"words": {" "}}, 422)
	h.post(owner, path+"/add", url.Values{"words": {"Well again."}}, 303)
	says(t, h.page(owner, path, 200), "#added", "Well again.")
	if n := h.count(`audit where subject = $1 and action = 'read an incident record'`, "incident "+record); n < 2 {
		t.Errorf("%d readings are in the trail", n)
	}
	says(t, h.page(owner, "/studio/incidents", 200), "table", "Amberclass")
	h.page(teacherA, "/studio/incidents", 404)
	if _, err := h.rows.Exec(t.Context(), `set role rungbook_app; update incident set what = 'x'`); err == nil {
		t.Error("the serving role may change a record")
	}
}

func TestSignOffIsAskedForSeenAndGranted(t *testing.T) {
	t.Parallel()
	h := open(t)
	h.exec(`delete from sign_off_request; delete from sign_off`)
	const path = "/sign-off-requests"
	says(t, h.page(helperA, path, 200), "main", "It never says that a turn is safe.")
	h.page(parentA, path, 404)
	h.post(helperA, path, url.Values{"wish": {""}}, 422)
	h.post(helperA, path, url.Values{"wish": {"rung hs-return"}}, 422) // nobody spots that
	h.post(helperA, path, url.Values{"wish": {"ladder handstand"}, "words": {"I am in on Wednesdays."}}, 303)
	says(t, h.post(helperA, path, url.Values{"wish": {"ladder handstand"}}, 422), "main", "You have asked for that already")
	says(t, h.page(helperA, path, 200), "#ask", "It waits for a teacher.")
	if text := h.page(helperB, path, 200).Text(); strings.Contains(text, "Hanne") {
		t.Error("an assistant sees somebody else's request")
	}
	page := h.page(teacherB, path, 200)
	says(t, page, "#waiting", "Hanne Anvil: every spotted rung of Handstand")
	to, _ := page.Find("#waiting form").Attr("action")
	decline, _ := page.Find("#waiting button[formaction]").Attr("formaction")
	h.post(helperA, to, url.Values{"until": {"2026-09-01"}}, 404)
	h.post(teacherB, to, url.Values{"until": {"soon"}}, 422)
	h.post(teacherB, to, url.Values{"until": {"2039-09-01"}}, 422)
	h.post(teacherB, decline, url.Values{"answer": {""}}, 422)

	h.exec(`update staff set trainee = true where id = $1`, id("5f04")) // became a trainee meanwhile
	says(t, h.post(teacherB, to, url.Values{"until": {"2026-09-01"}}, 422), "main", "A trainee does not spot.")
	h.post(helperA, path, url.Values{"wish": {"rung hs-hold"}}, 422)
	if _, err := h.rows.Exec(t.Context(), `insert into sign_off (staff_id, rung_key, granted_on, expires_on) values ($1, 'hs-hold', '2026-03-01', '2026-09-01')`, id("5f04")); err == nil {
		t.Error("the database signs a trainee off")
	}
	h.exec(`update staff set trainee = false where id = $1`, id("5f04"))

	h.post(teacherB, to, url.Values{"until": {"2026-09-01"}}, 303)
	h.post(teacherB, to, url.Values{"until": {"2026-09-01"}}, 404) // decided
	if n := h.count(`sign_off where staff_id = $1 and rung_key = 'hs-hold' and expires_on = '2026-09-01'`, id("5f04")); n != 1 {
		t.Errorf("%d sign-offs", n)
	}
	says(t, h.page(helperA, path, 200), "#decided", "signed off by Tibor Brack")

	h.post(teacherB, path, url.Values{"wish": {"rung hs-hold"}}, 303)
	var own string
	if err := h.rows.QueryRow(t.Context(), `select id::text from sign_off_request where decided_at is null`).Scan(&own); err != nil {
		t.Fatal(err)
	}
	h.post(teacherB, path+"/"+own+"/grant", url.Values{"until": {"2026-09-01"}}, 409) // nobody grants their own
	h.post(owner, path+"/"+own+"/decline", url.Values{"answer": {"Hands come late."}}, 303)
	says(t, h.page(teacherB, path, 200), "#decided", "Hands come late.")
}

func TestSheetWorksWithoutScripts(t *testing.T) {
	t.Parallel()
	h := open(t)
	path := "/lessons/" + id("1ea0") + "/sheet"
	page := h.page(helperA, path, 200)
	form := url.Values{}
	page.Find(`form.mark-form`).First().Find("input[type=hidden]").Each(func(_ int, s *goquery.Selection) { form.Set(s.AttrOr("name", ""), s.AttrOr("value", "")) })
	form.Set("outcome", "clean")
	h.post(helperA, path+"/item", form, 303)
	says(t, h.page(helperA, path, 200), "#flash", "Marked: clean.")
	h.post(helperA, path+"/item", form, 303) // the button pressed twice
	if n := h.count(ofLesson, id("1ea0")); n != 1 {
		t.Errorf("%d marks", n)
	}
	h.post(helperA, path+"/item", url.Values{"kind": {"attendance"}, "child": {id("c1a1")}, "present": {"no"}, "back": {"//evil.example"}}, 303)
	if n := h.count(`attendance where lesson_id = $1 and child_id = $2 and not present and noted_by = $3`, id("1ea0"), id("c1a1"), id(helperA)); n != 1 {
		t.Error("the assistant's tap is not noted")
	}
	h.post(helperA, path+"/item", url.Values{"kind": {"attendance"}, "staff": {id("5f04")}, "present": {"no"}}, 303)
	says(t, h.page(helperA, path, 200), "#flash", "a teacher notes who of the staff is here")
	h.post(helperB, path+"/item", form, 404)
	h.post(teacherB, path+"/item", form, 404)
	h.post(teacherA, path+"/clock", url.Values{"do": {"restart"}, "version": {"1"}}, 303)
	h.post(teacherA, path+"/clock", url.Values{"do": {"restart"}, "version": {"1"}}, 409)
}

func TestReviewLooksBack(t *testing.T) {
	t.Parallel()
	h := open(t)
	path := "/lessons/" + id("1ea0") + "/review"
	h.exec(`delete from home_assignment`)
	h.expect("stored", teacherA, mark(1).with("outcome", "missed", "faults", []string{"arms-bend"}))
	h.exec(`insert into mark (id, child_id, rung_key, lesson_id, outcome, marked_by, marked_at, received_at) values (gen_random_uuid(), $1, 'hs-return', $2, 'clean', $3, '2026-02-25 17:01+00', '2026-02-25 17:01+00')`,
		id("c1a2"), id("1ea9"), id(teacherA))
	for i := range 3 {
		h.expect("stored", teacherA, mark(i).with("child", id("c1a2")))
	}
	page := h.page(teacherA, path, 200)
	says(t, page, "#seen", "Handstand: Small kick and return")
	says(t, page, "#secure", "Azimuth C.")
	says(t, page, "#next", "Azimuth C. Handstand: Hold is next, where it was Small kick and return")
	says(t, page, "#notes", "Aliquot A.: hallleak-a")
	picks := page.Find("#home input[name=home]").Map(func(_ int, s *goquery.Selection) string { return s.AttrOr("value", "") })
	if len(picks) == 0 {
		t.Fatalf("nothing is suggested for home: %s", page.Find("main").Text())
	}
	h.post(teacherA, path+"/home", url.Values{"home": picks}, 303)
	if n := h.count(`home_assignment`); n != len(picks) {
		t.Errorf("%d sent, want %d", n, len(picks))
	}
	h.post(teacherA, path+"/home", url.Values{"home": {id("c1b1") + " d-press"}}, 404) // a child of another class
	h.post(teacherA, path+"/home", url.Values{"home": {id("c1a2") + " d-kick"}}, 422)  // not for home
	for _, who := range []string{helperA, teacherB, parentA} {
		h.page(who, path, 404)
		h.post(who, path+"/home", url.Values{"home": picks}, 404)
	}
}
