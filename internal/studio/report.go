package studio

import (
	"time"

	"github.com/google/uuid"
)

// BundleState is how far a bundle is.
type BundleState string

// The states.
const (
	BundleWaiting BundleState = "waiting" // nobody has begun
	BundleWorking BundleState = "working"
	BundleReady   BundleState = "ready"
	BundleStopped BundleState = "stopped" // by who asked for it
	BundleFailed  BundleState = "failed"
)

// Bundle is the term reports of every class of a term in one file, made in the background. Done of Children have been written for.
type Bundle struct {
	ID         uuid.UUID
	TermID     uuid.UUID
	Term       string
	AskedBy    uuid.UUID
	AskedAt    time.Time
	ExpiresAt  time.Time
	State      BundleState
	FinishedAt *time.Time
	Children   int
	Done       int
	Classes    int
	Bytes      int64 // of the files so far
}

// Open reports whether work on it goes on.
func (b Bundle) Open() bool { return b.State == BundleWaiting || b.State == BundleWorking }

// ReadableAt reports whether its files can be had at a moment.
func (b Bundle) ReadableAt(now time.Time) bool {
	return b.State == BundleReady && now.Before(b.ExpiresAt)
}

// ReportNote is what a teacher writes to the parents of a child in the term report of a class.
type ReportNote struct {
	ClassID   uuid.UUID
	ChildID   uuid.UUID
	Note      string
	WrittenAt time.Time
}

// longestReportNote bounds a note in letters: about a third of a page.
const longestReportNote = 2000

// Validate checks a note by itself.
func (n ReportNote) Validate() []FieldError {
	var c checks
	c.text("note", n.Note, longestReportNote)
	return c.errors
}
