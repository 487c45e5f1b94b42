package studio

import (
	"strings"
	"time"
	"unicode/utf8"

	"github.com/google/uuid"
)

// Incident is the record of something that went wrong at a lesson. It never changes; what is learned later is added to it.
type Incident struct {
	ID         uuid.UUID
	LessonID   uuid.UUID
	ChildID    *uuid.UUID
	HappenedAt time.Time
	What       string
	Done       string // what was done at once
	Told       string // who was told, and when
	SeenBy     string
	WrittenBy  *uuid.UUID
	WrittenAt  time.Time
	KeepUntil  time.Time // a day
}

// IncidentLine is a record with the names that belong to it.
type IncidentLine struct {
	Incident
	ClassName     string
	TimeZone      string
	LessonAt      time.Time
	ChildName     string // in full; "" for none
	WrittenByName string
	Additions     int
}

// IncidentAddition is what was learned later.
type IncidentAddition struct {
	ID            uuid.UUID
	Words         string
	WrittenByName string
	WrittenAt     time.Time
}

// Validate refuses a record that does not say what a reader will need. now is the moment of writing.
func (i Incident) Validate(now time.Time) error {
	var wrong []FieldError
	told := func(field, text string, most int, problem string) {
		switch n := utf8.RuneCountInString(strings.TrimSpace(text)); {
		case n == 0 && problem != "":
			wrong = append(wrong, FieldError{field, problem})
		case n > most:
			wrong = append(wrong, FieldError{field, "That is too long: shorten it, and add the rest afterwards."})
		}
	}
	told("what", i.What, 4000, "Say what happened, in the order in which it did.")
	told("done", i.Done, 4000, "Say what was done; “nothing” if nothing was.")
	told("told", i.Told, 2000, "Say who was told, and when; “nobody yet” if so.")
	told("seen", i.SeenBy, 400, "")
	if i.HappenedAt.IsZero() || i.HappenedAt.After(now.Add(time.Minute)) {
		wrong = append(wrong, FieldError{"at", "Say when it happened; not in the future."})
	}
	return Refuse("The record was not written yet. What you typed is kept.", wrong)
}
