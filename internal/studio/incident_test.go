package studio_test

import (
	"strings"
	"testing"
	"time"

	"rungbook/internal/studio"
)

func day(text string) time.Time {
	at, err := time.Parse(time.DateOnly, text)
	if err != nil {
		panic(err)
	}
	return at
}

// Three years as for records under RIDDOR (woking.gov.uk), the 21st birthday as for a child's claim (Limitation Act 1980): that the later
// of the two counts is our inference, so the dates are arithmetic of it.
func TestRecordsAreKeptUntilTheLaterDay(t *testing.T) {
	for _, c := range []struct{ happened, born, want string }{
		{"2024-05-01", "2018-09-10", "2039-09-10"},
		{"2024-05-01", "2005-01-01", "2027-05-01"},
		{"2024-05-01", "", "2027-05-01"},
		{"2024-02-29", "", "2027-03-01"},
		{"2024-05-01", "2016-02-29", "2037-03-01"}, // no 29 February in that year
	} {
		var born *time.Time
		if c.born != "" {
			at := day(c.born)
			born = &at
		}
		if got := studio.DefaultRetention().KeepIncident(day(c.happened), born); !got.Equal(day(c.want)) {
			t.Errorf("%s, born %s: until %s, want %s", c.happened, c.born, got.Format(time.DateOnly), c.want)
		}
	}
}

func TestIncidentSaysWhatAReaderNeeds(t *testing.T) {
	now := day("2026-03-04")
	whole := studio.Incident{HappenedAt: now, What: "A fall.", Done: "Ice.", Told: "Nobody yet."}
	if err := whole.Validate(now); err != nil {
		t.Error(err)
	}
	for field, change := range map[string]func(*studio.Incident){
		"what": func(i *studio.Incident) { i.What = " " },
		"done": func(i *studio.Incident) { i.Done = "" },
		"told": func(i *studio.Incident) { i.Told = strings.Repeat("x", 2001) },
		"at":   func(i *studio.Incident) { i.HappenedAt = now.Add(time.Hour) },
	} {
		i := whole
		change(&i)
		err, ok := i.Validate(now).(*studio.Error)
		if !ok || err.Problem(field) == "" {
			t.Errorf("%s: %v", field, err)
		}
	}
}
