package studio

import (
	"time"

	"github.com/google/uuid"
)

// ChildNote is what a teacher wants the child's next teacher to know. Notes are append-only.
type ChildNote struct {
	ID        uuid.UUID
	ChildID   uuid.UUID
	Note      string
	By        string
	WrittenAt time.Time
}
