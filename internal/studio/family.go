package studio

import (
	"time"

	"github.com/google/uuid"
)

// Practice is that a drill was done at home on a day.
type Practice struct {
	AssignmentID uuid.UUID
	ChildID      uuid.UUID
	DrillKey     string
	DoneOn       time.Time
}

// MessageLength is the most characters of a message to families.
const MessageLength = 2000

// Message is a one-way note to the family of a child, or to those of a class: one of ChildID and ClassID is nil.
type Message struct {
	ID          uuid.UUID
	ChildID     *uuid.UUID
	ClassID     *uuid.UUID
	Note        string
	Signed      string // the writer's name
	WrittenAt   time.Time
	TakenBackAt *time.Time
}

// ReleasedReport is a child's term report that its family may read, without the file.
type ReleasedReport struct {
	ClassID    uuid.UUID
	ChildID    uuid.UUID
	Class      string
	Term       string
	AsOf       time.Time // the day up to which marks count
	ReleasedAt time.Time
}

// CalendarLink says that a guardian has a link for calendar programs. ReadAt is nil until one has asked.
type CalendarLink struct {
	MadeAt time.Time
	ReadAt *time.Time
}
