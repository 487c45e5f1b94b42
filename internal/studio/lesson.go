package studio

import (
	"time"

	"github.com/google/uuid"
)

// Lesson is one meeting of a class.
type Lesson struct {
	ID          uuid.UUID
	ClassID     uuid.UUID
	StartsAt    time.Time
	Minutes     int
	Note        string
	CancelledAt *time.Time
}

// EndsAt is when the lesson ends.
func (l Lesson) EndsAt() time.Time { return l.StartsAt.Add(time.Duration(l.Minutes) * time.Minute) }

// BlockKind is a part of a lesson.
type BlockKind string

// The parts of a lesson, in order.
const (
	ArriveBlock       BlockKind = "arrive"
	WarmUpBlock       BlockKind = "warm-up"
	ConditioningBlock BlockKind = "conditioning"
	StationsBlock     BlockKind = "stations"
	CoolDownBlock     BlockKind = "cool-down"
)

// Block is a part of a lesson with its minutes and the drills that fill it.
type Block struct {
	Position int
	Kind     BlockKind
	Minutes  int
	Drills   []string // drill keys
}
