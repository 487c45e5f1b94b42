package studio

import (
	"time"

	"github.com/google/uuid"
)

// Kinds of health data that are read.
const (
	ReadReason    = "the reason of a care limit"
	ReadIncident  = "an incident record"
	ReadIncidents = "the list of incident records"
)

// HealthRead is that somebody read health data of a child.
type HealthRead struct {
	At     time.Time
	ByName string
	Kind   string
}

// ErasureRequest is what a guardian asked of the owner.
type ErasureRequest struct {
	ID        uuid.UUID
	ChildID   uuid.UUID
	ChildName string
	Words     string
	AskedAt   time.Time
	DecidedAt *time.Time
	Erased    *bool
	Answer    string
}

// DataTable is a part of a copy: rows of texts under labels.
type DataTable struct {
	Title  string
	Labels []string
	Rows   [][]*string // nil is nothing
}

// DataWithheld is what a copy leaves out, with the reason.
type DataWithheld struct{ Title, What, Why string }
