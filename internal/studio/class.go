package studio

import (
	"time"

	"github.com/google/uuid"
)

// Term is a run of weeks with a name; ShowcaseOn is nil when there is none. Since ArchivedAt it has been put away: read-only.
type Term struct {
	ID         uuid.UUID
	Name       string
	StartsOn   time.Time
	EndsOn     time.Time
	ShowcaseOn *time.Time
	ArchivedAt *time.Time
}

// Holiday is a run of days without lessons within a term.
type Holiday struct {
	ID       uuid.UUID
	TermID   uuid.UUID
	Name     string
	StartsOn time.Time
	EndsOn   time.Time
}

// Class meets weekly through a term. StartsAt is wall time "15:30" in TimeZone and stays so across clock changes.
type Class struct {
	ID            uuid.UUID
	TermID        uuid.UUID
	Name          string
	Weekday       time.Weekday
	StartsAt      string
	Minutes       int
	TimeZone      string
	Places        int
	Rotations     int
	Groups        int
	TurnFloor     int
	MaxActivities int
	TeacherRoams  bool
	Focus         []string // ladder keys
}

// StartOn is the moment at which the class starts on a day.
func (c Class) StartOn(day time.Time) (time.Time, error) {
	zone, err := time.LoadLocation(c.TimeZone)
	if err != nil {
		return time.Time{}, &Error{Code: Invalid, Text: "The class has a time zone that this computer does not know.", Cause: err}
	}
	at, err := time.Parse("15:04", c.StartsAt)
	if err != nil {
		return time.Time{}, &Error{Code: Invalid, Text: "A start time is hours and minutes, such as 16:30.", Cause: err}
	}
	return time.Date(day.Year(), day.Month(), day.Day(), at.Hour(), at.Minute(), 0, 0, zone), nil
}

// PairWish is what the plans of a class do with two children.
type PairWish string

// The wishes.
const (
	Together PairWish = "together"
	Apart    PairWish = "apart"
)

// ClassPair is two children of a class whom its plans keep in one group, or in two.
type ClassPair struct {
	ChildA uuid.UUID
	ChildB uuid.UUID
	Wish   PairWish
}

// Duty is what somebody does in a class.
type Duty string

// The duties.
const (
	TeacherDuty   Duty = "teacher"
	AssistantDuty Duty = "assistant"
)

// ClassStaff is somebody's place in a class from a day until a day (nil: open). Cover is a row of one day.
type ClassStaff struct {
	ClassID   uuid.UUID
	StaffID   uuid.UUID
	StaffName string
	Duty      Duty
	FromOn    time.Time
	UntilOn   *time.Time
}

// HoldsOn reports whether the place in the class holds on a day.
func (s ClassStaff) HoldsOn(day time.Time) bool {
	return !day.Before(s.FromOn) && (s.UntilOn == nil || !day.After(*s.UntilOn))
}

// Enrolment is a child's place in a class from a day until a day (nil: open). FamilyName is empty for whoever may not know it.
type Enrolment struct {
	ClassID    uuid.UUID
	ChildID    uuid.UUID
	FromOn     time.Time
	UntilOn    *time.Time
	GivenName  string
	Initial    string
	FamilyName string
	ClassName  string
}

// HoldsOn reports whether the child is in the class on a day.
func (e Enrolment) HoldsOn(day time.Time) bool {
	return !day.Before(e.FromOn) && (e.UntilOn == nil || !day.After(*e.UntilOn))
}

// Equipment is a kind of equipment and how many pieces the hall has.
type Equipment struct {
	Key   string
	Name  string
	Stock int
}
