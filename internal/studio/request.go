package studio

import (
	"time"

	"github.com/google/uuid"
)

// SignOffRequest is somebody's wish to be seen spotting a rung, or every spotted rung of a ladder.
type SignOffRequest struct {
	ID            uuid.UUID
	StaffID       uuid.UUID
	StaffName     string
	LadderKey     string // one of the two is empty
	RungKey       string
	Words         string
	AskedAt       time.Time
	DecidedAt     *time.Time
	DecidedByName string
	Granted       *bool
	Answer        string
}
