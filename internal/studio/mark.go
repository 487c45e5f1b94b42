package studio

import (
	"time"

	"github.com/google/uuid"
)

// Outcome is how a turn went.
type Outcome string

// The outcomes, worst first.
const (
	Missed    Outcome = "missed"
	Supported Outcome = "supported"
	Clean     Outcome = "clean"
)

// Withdrawn takes a mark back: it stands for the mark that it replaces, and neither counts.
const Withdrawn Outcome = "withdrawn"

// Side is the leading side of a turn; NoSide where a rung has none.
type Side string

// The sides.
const (
	NoSide Side = "none"
	Left   Side = "left"
	Right  Side = "right"
)

// Mark is what was seen of one turn. Marks are append-only; a correction names the mark that it replaces.
type Mark struct {
	ID       uuid.UUID
	ChildID  uuid.UUID
	RungKey  string
	LessonID *uuid.UUID
	Side     Side
	Outcome  Outcome
	Faults   []string // fault keys of the rung
	MarkedBy *uuid.UUID
	MarkedAt time.Time
	Replaces *uuid.UUID
}

// CareLimit is what a child must not do for now, as an action; the reason is kept apart.
type CareLimit struct {
	ID            uuid.UUID
	ChildID       uuid.UUID
	AvoidBack     bool
	AvoidWrists   bool
	AvoidLanding  bool
	AvoidInverted bool
	Action        string
	FromOn        time.Time
	UntilOn       *time.Time
	ReviewOn      *time.Time
	ClearedAt     *time.Time
}

// HoldsOn reports whether the limit holds on a day.
func (l CareLimit) HoldsOn(day time.Time) bool {
	return l.ClearedAt == nil && !day.Before(l.FromOn) && (l.UntilOn == nil || !day.After(*l.UntilOn))
}

// Forbids reports whether the limit, while it holds, forbids something with this load for a turn, or that goes upside down.
func (l CareLimit) Forbids(load Load, inverted bool) bool {
	return l.AvoidBack && load.Back > 0 || l.AvoidWrists && load.Wrists > 0 || l.AvoidLanding && load.Landing > 0 || l.AvoidInverted && inverted
}

// HomeAssignment is a drill that a child has been given for home.
type HomeAssignment struct {
	ID          uuid.UUID
	ChildID     uuid.UUID
	DrillKey    string
	Dose        Dose
	FromOn      time.Time
	UntilOn     time.Time
	Why         string
	Signed      string // the name of who sent it, "" where that is not known any more
	WithdrawnAt *time.Time
	Exception   *HomeException // by which it is out though it is not safe alone; nil for what is
}

// Soreness is a report that something hurt.
type Soreness struct {
	ID         uuid.UUID
	ChildID    uuid.UUID
	ReportedAt time.Time
	Place      string
	HowMuch    int // 0-10
	Doing      string
	Signs      []string   // signs that call for help at once or for a doctor, as ticked
	BeganOn    *time.Time // since when; nil in reports from before it was asked for
	ClearedAt  *time.Time // when a teacher cleared the limit that the report put in place; nil until then
}
