package studio

import (
	"strings"
	"testing"
	"time"
)

func day(text string) time.Time {
	d, err := time.Parse(time.DateOnly, text)
	if err != nil {
		panic(err)
	}
	return d
}

// Common practice, no source: somebody born on 29 February turns a year older on 1 March in a common year.
func TestAgeOn(t *testing.T) {
	for _, c := range []struct {
		name, birth, on string
		want            int
	}{
		{"the day before", "2016-03-29", "2026-03-28", 9},
		{"the birthday", "2016-03-29", "2026-03-29", 10},
		{"leap day, 28 February", "2016-02-29", "2026-02-28", 9},
		{"leap day, 1 March", "2016-02-29", "2026-03-01", 10},
		{"leap day, leap year", "2016-02-29", "2028-02-29", 12},
	} {
		if got := AgeOn(day(c.birth), day(c.on)); got != c.want {
			t.Errorf("%s: %d, want %d", c.name, got, c.want)
		}
	}
}

// Common practice, no source: what is shown is first name and initial, so those decide.
func TestLookAlike(t *testing.T) {
	for _, c := range []struct {
		a, b [2]string
		want bool
	}{
		{[2]string{"Ada", "B"}, [2]string{"Ada", "B"}, true},
		{[2]string{"Ada", "B"}, [2]string{"ada", "b"}, true},
		{[2]string{"Ada", "B"}, [2]string{"Ada", "C"}, true},
		{[2]string{"Mia", "K"}, [2]string{"Mila", "K"}, true},
		{[2]string{"Zoë", "K"}, [2]string{"Zoe\u0308", "K"}, true}, // composed and decomposed: Unicode standard annex 15
		{[2]string{"Zoë", "K"}, [2]string{"Zoe", "K"}, true},
		{[2]string{"Mia", "K"}, [2]string{"Mila", "B"}, false},
		{[2]string{"Ada", "B"}, [2]string{"Wren", "B"}, false},
	} {
		a, b := Child{GivenName: c.a[0], Initial: c.a[1]}, Child{GivenName: c.b[0], Initial: c.b[1]}
		if LookAlike(a, b) != c.want || LookAlike(b, a) != c.want {
			t.Errorf("%s and %s: want %v", a.ShortName(), b.ShortName(), c.want)
		}
	}
}

func TestTidyTakesTheInitialWithItsMarks(t *testing.T) {
	for family, want := range map[string]string{"Ó Faoláin": "Ó", "o\u0301 Brien": "O\u0301", " weiß": "W", "": "", "李": "李"} {
		if got := (ChildDetail{FamilyName: family}).Tidy().Initial; got != want {
			t.Errorf("%q: %q, want %q", family, got, want)
		}
	}
}

// Shape of an address: RFC 5321, 4.5.3.1.3 bounds a path at 256 octets with its two brackets, so an address at 254.
func TestValidateEmail(t *testing.T) {
	for address, ok := range map[string]bool{"a@b.example": true, "a+b.c@x.example": true, "": false, "a": false, "@b": false, "a@": false, "a b@c": false,
		"a@b@c": false, "a@b\r\nBcc: c@d": false, "<a@b>": false, strings.Repeat("a", 250) + "@b.ex": false, strings.Repeat("a", 249) + "@b.e": true} {
		if got := len(ValidateEmail(address)) == 0; got != ok {
			t.Errorf("%q: %v, want %v", address, got, ok)
		}
	}
}

func TestClassAndTermRules(t *testing.T) {
	good := Class{Name: "A", StartsAt: "16:30", TimeZone: "Europe/Dublin", Minutes: 60, Places: 10, Rotations: 3, Groups: 3, MaxActivities: 1}
	if p := good.Validate(); len(p) > 0 {
		t.Errorf("a good class: %v", p)
	}
	for field, change := range map[string]func(*Class){
		"time_zone": func(c *Class) { c.TimeZone = "Nowhere/Land" }, "starts_at": func(c *Class) { c.StartsAt = "24:30" },
		"minutes": func(c *Class) { c.Minutes = 19 }, "weekday": func(c *Class) { c.Weekday = 7 }, "name": func(c *Class) { c.Name = " " },
	} {
		c := good
		change(&c)
		if p := c.Validate(); len(p) != 1 || p[0].Field != field {
			t.Errorf("%s: %v", field, p)
		}
	}
	term := Term{Name: "T", StartsOn: day("2026-09-01"), EndsOn: day("2026-12-01")}
	late := day("2026-12-02")
	term.ShowcaseOn = &late
	if p := term.Validate(); len(p) != 1 || p[0].Field != "showcase_on" {
		t.Errorf("showcase after the term: %v", p)
	}
	if p := (Holiday{Name: "H", StartsOn: late, EndsOn: late}).Validate(term); len(p) != 1 {
		t.Errorf("holiday outside of the term: %v", p)
	}
}
