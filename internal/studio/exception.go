package studio

import (
	"fmt"
	"strings"
	"time"
	"unicode/utf8"

	"github.com/google/uuid"
)

// HomeException is that one child may do a drill at home which the library keeps for class, with an adult in the room, because a
// teacher ticked it. It holds from TickedOn to UntilOn, both included, unless it was ended.
type HomeException struct {
	ID       uuid.UUID
	ChildID  uuid.UUID
	DrillKey string
	Reason   string
	Signed   string // the name of who ticked it
	TickedOn time.Time
	UntilOn  time.Time
	EndedHow ExceptionEnd
	EndedAt  *time.Time
}

// ExceptionEnd is how an exception came to its end, "" while it has not.
type ExceptionEnd string

// The ends.
const (
	EndTakenBack ExceptionEnd = "taken back" // by a teacher or the owner
	EndNoConsent ExceptionEnd = "no consent" // a guardian withdrew the consent for drills with an adult
	EndOver      ExceptionEnd = "over"       // its last day has passed
)

// LiveOn reports whether the exception holds on a day.
func (x HomeException) LiveOn(day time.Time) bool {
	return x.EndedAt == nil && !day.Before(x.TickedOn) && !day.After(x.UntilOn)
}

// MostExceptionWeeks bounds what a studio may set: the database refuses a longer exception.
const MostExceptionWeeks = 12

// Validate refuses an exception without a reason, or for longer than so many weeks.
func (x HomeException) Validate(weeks int) error {
	var wrong []FieldError
	if n := utf8.RuneCountInString(strings.TrimSpace(x.Reason)); n == 0 || n > 400 {
		wrong = append(wrong, FieldError{Field: "reason", Problem: "Say why this child may, in at most 400 characters."})
	}
	if last := x.TickedOn.AddDate(0, 0, 7*weeks); x.UntilOn.Before(x.TickedOn) || x.UntilOn.After(last) {
		wrong = append(wrong, FieldError{Field: "last", Problem: fmt.Sprintf("A day from today to %s: look again before it goes on.", last.Format("2 January"))})
	}
	return Refuse("Nothing was ticked.", wrong)
}
