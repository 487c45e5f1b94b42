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
var records = map[string]map[variant]string{}

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
	"GET /":                    {on: wholeStudio},
}
