package web_test

import (
	"net/http"
	"net/url"

	"rungbook/internal/testkit"
)

// page is what is expected of one route beside its action.
type page struct {
	on    record                   // what the permission depends on
	query string                   // of the request, with its "?"
	form  func(variant) url.Values // a valid form, for POST
	file  func(variant) *sent      // a valid form that carries a file
	ok    int                      // status for those who may; 200 for GET and 303 for POST when 0
	also  func(who, variant) int   // another status for some of those who may; 0 is the usual one
	only  func(who, variant) bool  // a page that some of those who may do the action have nothing on
	shows string                   // why holders of the link may meet canaries; "" when they may not
	quiet bool                     // a POST that changes no row
	wider []string                 // tables that row-level security alone lets the actor change, with the reason beside it
}

// sent is the body of a POST.
type sent struct{ kind, body string }

func formOf(v url.Values) *sent { return &sent{"application/x-www-form-urlencoded", v.Encode()} }

func (p page) fields(v variant) *sent {
	switch {
	case p.file != nil:
		return p.file(v)
	case p.form != nil:
		return formOf(p.form(v))
	}
	return formOf(url.Values{})
}

func (p page) status(as who, v variant, get bool) int {
	if p.also != nil {
		if s := p.also(as, v); s != 0 {
			return s
		}
	}
	switch {
	case p.ok != 0:
		return p.ok
	case get:
		return http.StatusOK
	}
	return http.StatusSeeOther
}

// values makes a form that is the same for every record.
func values(pairs ...string) func(variant) url.Values {
	v := url.Values{}
	for i := 0; i < len(pairs); i += 2 {
		v.Add(pairs[i], pairs[i+1])
	}
	return func(variant) url.Values { return v }
}

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
func keys(a string) map[variant]string {
	return map[variant]string{absent: "no-such-thing", malformed: "Not A Key!", ofA: a}
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
	"limit":      ids("ca01", "cb01"),
	"assignment": ids("40a1", "40b1"),
}

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

// childOf is the child of the records of a variant, rosterOf all children of its class.
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

// pages are the routes, each with what is expected of it. A route that is not here fails the matrix.
var pages = map[string]page{
	"GET /sign-in": {on: wholeStudio, also: func(as who, _ variant) int {
		if as.signedIn() {
			return http.StatusSeeOther // has signed in already
		}
		return 0
	}},
	"POST /sign-in":            {on: wholeStudio, form: values("email", "ownmail@sample.example", "passphrase", sampleWords), quiet: true},
	"POST /sign-out":           {on: wholeStudio},
	"GET /account":             {on: wholeStudio},
	"POST /account/passphrase": {on: wholeStudio, form: values("present", sampleWords, "next", "a fresh long row of words")},
	"GET /":                    {on: wholeStudio, also: parentsGoHome},

	"GET /classes":                                      {on: aClass},
	"GET /classes/{class}":                              {on: aClass},
	"GET /children":                                     {on: aChild},
	"GET /children/{child}":                             {on: aChild},
	"GET /children/{child}/marks":                       {on: aChild, only: notHelping},
	"POST /children/{child}/marks":                      {on: aChild, only: notHelping, form: values("rung", "hs-return", "outcome", "clean")},
	"GET /children/{child}/care":                        {on: aChild},
	"POST /children/{child}/limits":                     {on: aChild, form: values("action", "No jumps today", "from", "2026-03-04", "until", "2026-03-05", "avoid", "landing")},
	"POST /children/{child}/limits/{limit}/clear":       {on: aChild, form: values("note", "Seen to be well again.")},
	"POST /children/{child}/limits/{limit}/reason":      {on: aChild, ok: http.StatusOK},
	"GET /children/{child}/home":                        {on: aChild},
	"POST /children/{child}/home":                       {on: aChild, form: values("drill", "d-dish", "sets", "2", "repeats", "6", "hold", "0", "from", "2026-03-04", "until", "2026-03-11", "why", "Steady now.")},
	"POST /children/{child}/home/{assignment}/withdraw": {on: aChild},

	"GET /home":               {on: aChild, also: parentsGoHome},
	"GET /home/{child}":       {on: aChild},
	"GET /home/{child}/help":  {on: aChild},
	"GET /home/{child}/hurt":  {on: aChild},
	"POST /home/{child}/hurt": {on: aChild, form: values("place", "Wrist or hand", "how-much", "3", "doing", "A plank")},

	"GET /lessons/{lesson}":          {on: aLesson},
	"GET /lessons/{lesson}/print":    {on: aLesson},
	"GET /lessons/{lesson}/plan.svg": {on: aLesson, also: noPlan},
	"POST /lessons/{lesson}/present": {on: aLesson, form: func(v variant) url.Values { return url.Values{"asked": {childOf(v)}} }},
	"POST /lessons/{lesson}/note":    {on: aLesson, form: values("note", "Slow start, good end.")},
	"GET /lessons/{lesson}/blocks":   {on: aLesson},
	"POST /lessons/{lesson}/blocks": {on: aLesson, form: values("minutes-arrive", "5", "minutes-warm-up", "10", "drills-warm-up", "d-warm", "minutes-conditioning", "0",
		"minutes-stations", "40", "minutes-cool-down", "5", "drills-cool-down", "d-cool")},
	"POST /lessons/{lesson}/plan":       {on: aLesson, form: plan(nil)},
	"POST /lessons/{lesson}/plan/share": {on: aLesson, form: plan(nil), also: noPlan},
	"POST /lessons/{lesson}/plan/group": {on: aLesson, also: noPlan, form: plan(func(v variant) url.Values { return url.Values{"child": {childOf(v)}, "to": {"0"}} })},
	"POST /lessons/{lesson}/plan/activity": {on: aLesson, also: noPlan, form: plan(func(v variant) url.Values {
		return url.Values{"child": {childOf(v)}, "activity": {"drill d-dish"}, "stays": {"yes"}}
	})},
	"POST /lessons/{lesson}/plan/station":   {on: aLesson, also: noPlan, form: plan(values("station", "spare"))},
	"POST /lessons/{lesson}/plan/staff":     {on: aLesson, also: noPlan, form: plan(nil)},
	"POST /lessons/{lesson}/plan/pin-cell":  {on: aLesson, also: noPlan, form: plan(values("pinned", "yes"))},
	"POST /lessons/{lesson}/plan/pin-child": {on: aLesson, also: noPlan, form: plan(func(v variant) url.Values { return url.Values{"child": {childOf(v)}, "pinned": {"yes"}} })},
	"GET /tonight/{lesson}":                 {on: aLesson},

	"GET /reports":                          {on: aClass},
	"GET /reports/{class}":                  {on: aClass},
	"POST /reports/{class}/term-report.pdf": {on: aClass, ok: http.StatusOK},
	"POST /reports/{class}/term-report.csv": {on: aClass, ok: http.StatusOK},
	"POST /reports/{class}/{child}.pdf":     {on: aClass, ok: http.StatusOK},
}
