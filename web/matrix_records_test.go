package web_test

import (
	"encoding/base64"
	"io"
	"mime/multipart"
	"net/http"
	"net/url"
	"strings"

	"rungbook/internal/testkit"
)

func id(end string) string { return testkit.SampleID(end).String() }

// ids are the records of a part of a path: of A, of B; those that do not exist are added.
func ids(a, b string) map[variant]string {
	m := map[variant]string{absent: id("dead"), malformed: "not-an-id", broken: "00000000-0000-4000-8000-00000000c1zz", ofA: id(a)}
	if b != "" {
		m[ofB] = id(b)
	}
	return m
}

// keys are the same for parts that are words.
func keys(a, b string) map[variant]string {
	m := map[variant]string{absent: "no-such-thing", malformed: "Not A Key!", ofA: a}
	if b != "" {
		m[ofB] = b
	}
	return m
}

func with(m map[variant]string, v variant, end string) map[variant]string {
	m[v] = id(end)
	return m
}

// records are the values of the parts of paths.
var records = map[string]map[variant]string{
	"class":      ids("c0a0", "c0b0"),
	"lesson":     with(ids("1ea0", "1eb0"), pastOfA, "1ea9"),
	"child":      with(ids("c1a1", "c1b1"), mateOfA, "c1a2"),
	"mark":       ids("a0a1", "a0b1"),
	"limit":      ids("ca01", "cb01"),
	"assignment": ids("40a1", "40b1"),
	"exception":  ids("41a1", "41b1"),
	"account":    ids("ac06", "ac07"),
	"staff":      ids("5f02", "5f03"),
	"invitation": ids("1401", ""),
	"session":    ids("de06", "de07"),
	"passkey":    ids("ae06", "ae07"),
	"guardian":   ids("ac08", ""),
	"link":       ids("1406", "1407"),
	"term":       ids("7e01", "7e02"),
	"piece":      ids("71a0", "71b0"),
	"part":       ids("72a0", "72b0"),
	"signoff":    ids("500a", "500b"),
	"incident":   ids("11a1", "11b1"),
	"request":    ids("51a1", "51b1"),
	"message":    ids("e0a1", "e0b1"),
	"bundle":     with(ids("bd01", ""), absent, "bd09"), // another owner's is not there
	"note":       ids("e0a2", "e0b2"),
	"purpose":    keys("photos", ""),
	"key":        keys("wall", "panel-mat"),
	"table":      keys("who-stays", "library"),
	"ladder":     keys("handstand", ""),
	"rung":       keys("hs-return", ""),
	"drill":      keys("d-warm", ""),
	"fault":      keys("arms-bend", ""),
	"token": {absent: base64.RawURLEncoding.EncodeToString([]byte("an invitation that is not there.")), malformed: "not-a-token",
		ofA: base64.RawURLEncoding.EncodeToString([]byte("sample-invitation-of-32-letters."))},
	"change": {absent: base64.RawURLEncoding.EncodeToString([]byte("a change of address, not there..")), malformed: "not-a-link",
		ofA: base64.RawURLEncoding.EncodeToString([]byte("a-change-of-address-32-long--06."))},
	"stop": {absent: base64.RawURLEncoding.EncodeToString([]byte("a change of address, not there..")), malformed: "not-a-link",
		ofA: base64.RawURLEncoding.EncodeToString([]byte("stop-of-an-address-32-long---06."))},
	"feed": {absent: base64.RawURLEncoding.EncodeToString([]byte("a calendar link that is not there")[:32]), malformed: "not-a-link",
		ofA: base64.RawURLEncoding.EncodeToString([]byte("sample-calendar-feed-32-letters."))},
}

// theirs is for parts of an account, of parent A and of parent B.
func theirs(as who, v variant) bool { return as == parentA && v == ofA || as == parentB && v == ofB }

// halfway is for the two accounts that have begun to set up a code.
func halfway(as who, _ variant) bool { return as == parentA || as == parentB }

// guarded is for those who may sign in with a code.
func guarded(as who, _ variant) bool { return as == owner || as == teacherA || as == teacherB }

// noneYet is for what nobody of the sample has.
func noneYet(who, variant) bool { return false }

// notHelping is for pages about a child that name no lesson: helping is at a lesson, so nobody helps there.
func notHelping(as who, _ variant) bool { return as != helperNow }

// parentsGoHome: parents have one first page, and with one child it is the child's.
func parentsGoHome(as who, _ variant) int {
	if as == parentA || as == parentB {
		return http.StatusSeeOther
	}
	return 0
}

// noPlan is for changes of a plan of last week's lesson, which has none.
func noPlan(_ who, v variant) int {
	if v == pastOfA {
		return http.StatusNotFound
	}
	return 0
}

// notHeld is for what is noted after a lesson: that of B is still to come.
func notHeld(_ who, v variant) int {
	if v == ofB {
		return http.StatusUnprocessableEntity
	}
	return 0
}

// hasBegun is for what can only be done before a lesson: that of B alone is still to come.
func hasBegun(_ who, v variant) int {
	if v == ofB {
		return 0
	}
	return http.StatusConflict
}

// assignmentOf is the drill that the child of a variant has at home.
func assignmentOf(v variant) string {
	if v == ofB {
		return id("40b1")
	}
	return id("40a1")
}

// noAdult is for what needs the family's consent to drills with an adult: that of A alone gave it.
func noAdult(_ who, v variant) int {
	if v == ofA {
		return 0
	}
	return http.StatusUnprocessableEntity
}

// noClock is for orders to a clock at its first version: that of last week's lesson was never started.
func noClock(_ who, v variant) int {
	if v == pastOfA {
		return http.StatusConflict
	}
	return 0
}

// batch is what a device sends of lesson A: whoever may send it at all is answered, item by item.
func batch(variant) *sent {
	return &sent{"application/json", `{"items": [{"id": "0195617c-0000-7000-8000-000000000001", "kind": "mark", "lesson": "` + id("1ea0") + `", "child": "` + id("c1a1") +
		`", "rung": "hs-return", "side": "none", "outcome": "clean"}]}`}
}

// noItem is for decisions about an item of a device: last week's lesson has none.
func noItem(_ who, v variant) int {
	if v == pastOfA {
		return http.StatusNotFound
	}
	return 0
}

// itemOf is the undecided item of the records of a variant.
func itemOf(v variant) string {
	if v == ofB {
		return "b2"
	}
	return "a2"
}

// onePair is for pairs of children: class B has a single child, so none.
func onePair(_ who, v variant) int {
	if v == ofB {
		return http.StatusNotFound
	}
	return 0
}

// notAsked is for answers to a request: nobody asked to erase the classmate.
func notAsked(_ who, v variant) int {
	if v == mateOfA {
		return http.StatusNotFound
	}
	return 0
}

// nameOfChild is the full name of the child of a variant.
func nameOfChild(v variant) string {
	switch v {
	case ofB:
		return "Bolide Birchleak"
	case mateOfA:
		return "Azimuth Cedarleak"
	}
	return "Aliquot Alderleak"
}

// childOf is the child of the records of a variant.
func childOf(v variant) string {
	if v == ofB {
		return id("c1b1")
	}
	return id("c1a1")
}

// plan is a form of the plan page for the one cell of the sample's plans.
func plan(more func(variant) url.Values) func(variant) url.Values {
	return func(v variant) url.Values {
		form := url.Values{"version": {"1"}, "cell": {"1-1"}}
		if v == pastOfA {
			form.Set("version", "0")
		}
		if more != nil {
			for name, texts := range more(v) {
				form[name] = texts
			}
		}
		return form
	}
}

var (
	rungForm = values("name", "Kick again", "turn_seconds", "25", "spotting.people", "0", "load.back", "0", "load.wrists", "1", "load.landing", "0",
		"inverted", "yes", "home.reason", "Upside down.", "equipment.0.key", "wall", "equipment.0.count", "1", "equipment.0.places", "2")
	drillForm = values("name", "Large circles", "kind", "warm-up", "steps", "Circle slowly", "dose.sets", "1", "dose.repeats", "8", "dose.hold_seconds", "0",
		"turn_seconds", "25", "spotting.people", "0", "load.back", "0", "load.wrists", "0", "load.landing", "0", "home.safe", "yes", "home.reason", "Standing.")
)

// ownLink: by row-level security everybody may have a calendar link; without an own child nothing is in it.
var ownLink = []string{"calendar_feed"}

// ownLessons: by row-level security a teacher may change the settings of a class that is taken, and its lessons; that only owners
// have a page for both is the policy's.
var ownLessons = []string{"class", "lesson", "lesson_block"}

// upload makes a form that carries a file.
func upload(name, text string) func(variant) *sent {
	return func(variant) *sent {
		var body strings.Builder
		form := multipart.NewWriter(&body)
		part, _ := form.CreateFormFile("file", name) // a strings.Builder never fails
		io.WriteString(part, text)
		form.Close()
		return &sent{form.FormDataContentType(), body.String()}
	}
}

// usedByOthers: the term of the classes, and what rungs stand on, cannot go.
func usedByOthers(_ who, v variant) int {
	if v == ofA {
		return http.StatusConflict
	}
	return 0
}

// anotherTerm is the form of the term after one, with a class of it going on.
func anotherTerm(variant) url.Values {
	return url.Values{"name": {"Autumn"}, "starts_on": {"2026-09-07"}, "ends_on": {"2026-12-11"}, "goes." + id("c0a0"): {"yes"}, "name." + id("c0a0"): {"Amberclass"}}
}

// onlyTheTermOf: the classes of the form belong to the term of A.
func onlyTheTermOf(_ who, v variant) int {
	if v == ofB {
		return http.StatusNotFound
	}
	return 0
}

// staffOf is who takes the class of a variant, enrolling a child that is not in it.
func staffOf(v variant) url.Values {
	form := url.Values{"who": {id("5f02")}, "as": {"teacher"}, "since": {"2026-01-05"}}
	if v == ofB {
		form.Set("who", id("5f03"))
	}
	return form
}

func enrolling(v variant) url.Values {
	form := url.Values{"children": {id("c1b1")}, "enrol_from": {"2026-03-04"}}
	if v == ofB {
		form.Set("children", id("c1a1"))
	}
	return form
}
