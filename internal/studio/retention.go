package studio

import "time"

// RetentionRule says how long things are kept. No law that we know names figures for most of them: the defaults are ours, to be
// changed, and a local rule comes first.
type RetentionRule struct {
	Attempts      int `json:"attempts"`      // days: tries to sign in
	Links         int `json:"links"`         // days after a link was used or ran out
	Items         int `json:"items"`         // months: what devices sent, as they sent it; the marks stay
	Notes         int `json:"notes"`         // months: notes of teachers about a child, and from the hall
	Home          int `json:"home"`          // months: drills at home, practice, messages, released reports
	Health        int `json:"health"`        // months: reports that something hurt, care limits that are over, who read them
	IncidentYears int `json:"incidentYears"` // years after the day for incident records ...
	IncidentAge   int `json:"incidentAge"`   // ... and to the child's birthday of this age, whichever is later
}

// DefaultRetention is the rule of a studio that has set nothing. Incident records: three years (RIDDOR, as to records of accidents),
// and to the 21st birthday, until when a child's claim can be made (Limitation Act 1980, England and Wales); that the later
// of the two counts is our inference.
func DefaultRetention() RetentionRule {
	return RetentionRule{Attempts: 30, Links: 30, Items: 6, Notes: 24, Home: 24, Health: 36, IncidentYears: 3, IncidentAge: 21}
}

// KeepIncident is the day until which an incident record is kept. birth is nil where it is about no child. Somebody born on
// 29 February has the birthday on 1 March in a common year.
func (r RetentionRule) KeepIncident(day time.Time, birth *time.Time) time.Time {
	until := day.AddDate(r.IncidentYears, 0, 0)
	if birth != nil && birth.AddDate(r.IncidentAge, 0, 0).After(until) {
		until = birth.AddDate(r.IncidentAge, 0, 0)
	}
	return until
}

func (r RetentionRule) problems() []FieldError {
	var wrong []FieldError
	within := func(field string, v, least, most int, problem string) {
		if v < least || v > most {
			wrong = append(wrong, FieldError{Field: field, Problem: problem})
		}
	}
	within("keep-attempts", r.Attempts, 1, 365, "Give 1 to 365 days.")
	within("keep-links", r.Links, 1, 365, "Give 1 to 365 days.")
	within("keep-items", r.Items, 1, 120, "Give 1 to 120 months.")
	within("keep-notes", r.Notes, 1, 240, "Give 1 to 240 months.")
	within("keep-home", r.Home, 1, 240, "Give 1 to 240 months.")
	within("keep-health", r.Health, 1, 360, "Give 1 to 360 months.")
	within("keep-incident-years", r.IncidentYears, 1, 50, "Give 1 to 50 years.")
	within("keep-incident-age", r.IncidentAge, 18, 60, "Give an age from 18 to 60.")
	return wrong
}

// RetentionRun is what the daily clearing took away: rows by kind.
type RetentionRun struct {
	RanOn time.Time
	RanAt time.Time
	Gone  map[string]int
}
