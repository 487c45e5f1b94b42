package studio

import (
	"time"

	"github.com/google/uuid"
)

// MentionKind is where words stand that name a child without being filed under it.
type MentionKind string

// The kinds.
const (
	MentionClassMessage MentionKind = "class message"
	MentionChildMessage MentionKind = "child message" // to the family of another child
	MentionLessonNote   MentionKind = "lesson note"
	MentionSheetNote    MentionKind = "sheet note" // of the lesson, or about another child
	MentionChildNote    MentionKind = "child note" // about another child
	MentionReportNote   MentionKind = "report note"
)

// Mention is words in which a child's first or last name occurs. About is the record that they belong to: a class, a child or a lesson;
// Of is its name.
type Mention struct {
	Kind  MentionKind
	About uuid.UUID
	Of    string
	At    time.Time
	Words string
}
