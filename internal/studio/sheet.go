package studio

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"slices"
	"strings"
	"time"
	"unicode/utf8"

	"github.com/google/uuid"
)

// How long the class sheet of a lesson takes marks: from a quarter of an hour before it to a quarter after it from assistants, and to
// three days after it from teachers, whose tablets may have been without network. What comes later waits for a teacher's look.
const (
	SheetOpensBefore  = 15 * time.Minute
	SheetClosesAfter  = 15 * time.Minute
	SheetTakesTeacher = 72 * time.Hour
)

// Limits of what a device sends.
const (
	MostItems    = 200 // in a batch
	MostNote     = 500 // characters
	mostDevice   = 64  // characters
	mostItemText = 80  // characters of a key
)

// ItemKind is what an item of the class sheet tells.
type ItemKind string

// The kinds of item.
const (
	MarkItem       ItemKind = "mark"
	StrikeItem     ItemKind = "strike" // takes a mark back
	AttendanceItem ItemKind = "attendance"
	NoteItem       ItemKind = "note"
)

// ItemAnswer is what became of an item.
type ItemAnswer string

// The answers. All but a duplicate are kept.
const (
	ItemStored      ItemAnswer = "stored"
	ItemDuplicate   ItemAnswer = "duplicate"   // the same content arrived before
	ItemConflict    ItemAnswer = "conflict"    // the id is known with other content
	ItemQuarantined ItemAnswer = "quarantined" // for a teacher to accept or set aside
	ItemInvalid     ItemAnswer = "invalid"
)

// SheetItem is one thing noted on a device at a lesson. Ids that were not given are uuid.Nil. Problem says in words what in it could
// not be read; Content is the item as it was sent, in JSON.
type SheetItem struct {
	ID       uuid.UUID
	GivenID  string // the id as sent, for the answer
	Device   string
	Lesson   uuid.UUID
	Kind     ItemKind
	Child    uuid.UUID
	Staff    uuid.UUID
	Rung     string
	Side     Side
	Outcome  Outcome
	Faults   []string
	Text     string
	Present  *bool
	Replaces uuid.UUID
	ClientAt *time.Time // by the device's clock; nil where it makes no sense
	Problem  string
	Content  string
}

// ReadItem reads an item from JSON. It never fails: what cannot be read is told by Problem.
func ReadItem(raw json.RawMessage) SheetItem {
	item := SheetItem{Content: strings.ToValidUTF8(strings.ReplaceAll(string(raw), "\x00", ""), "\uFFFD"), Side: NoSide}
	fields := map[string]json.RawMessage{}
	if json.Unmarshal(raw, &fields) != nil || fields == nil {
		item.Problem = "It is no item of a class sheet."
		return item
	}
	r := itemReader{fields: fields}
	item.GivenID = r.text("id", 200)
	item.ID = r.id("id")
	item.Device = r.text("device", mostDevice)
	item.Lesson, item.Child, item.Staff, item.Replaces = r.id("lesson"), r.id("child"), r.id("staff"), r.id("replaces")
	item.Kind = ItemKind(r.text("kind", mostItemText))
	item.Rung, item.Outcome = r.text("rung", mostItemText), Outcome(r.text("outcome", mostItemText))
	if side := r.text("side", mostItemText); side != "" {
		item.Side = Side(side)
	}
	item.Text = strings.TrimSpace(r.text("text", 64<<10))
	item.Faults = r.texts("faults")
	r.read("present", &item.Present)
	item.ClientAt = r.moment("client_at")
	item.Problem = r.problem
	return item
}

// itemReader reads fields and keeps the first problem.
type itemReader struct {
	fields  map[string]json.RawMessage
	problem string
}

func (r *itemReader) read(name string, into any) {
	if raw, ok := r.fields[name]; ok && json.Unmarshal(raw, into) != nil {
		r.refuse(name)
	}
}

func (r *itemReader) refuse(name string) {
	if r.problem == "" {
		r.problem = "Its “" + name + "” could not be read."
	}
}

func (r *itemReader) text(name string, most int) string {
	var text *string
	r.read(name, &text)
	if text == nil {
		return ""
	}
	if utf8.RuneCountInString(*text) > most || strings.ContainsRune(*text, 0) {
		r.refuse(name)
		return ""
	}
	return *text
}

func (r *itemReader) texts(name string) []string {
	var list []string
	r.read(name, &list)
	list = slices.Compact(slices.Sorted(slices.Values(list)))
	if len(list) > 30 || slices.ContainsFunc(list, func(s string) bool { return len(s) > mostItemText || strings.ContainsRune(s, 0) }) {
		r.refuse(name)
		return nil
	}
	return list
}

func (r *itemReader) id(name string) uuid.UUID {
	text := r.text(name, 200)
	if text == "" {
		return uuid.Nil
	}
	id, err := uuid.Parse(text)
	if err != nil || len(text) != 36 {
		r.refuse(name)
		return uuid.Nil
	}
	return id
}

// moment reads a time; one that makes no sense is no problem, since a device's clock only advises.
func (r *itemReader) moment(name string) *time.Time {
	var text string
	if json.Unmarshal(r.fields[name], &text) != nil {
		return nil
	}
	at, err := time.Parse(time.RFC3339Nano, text)
	if err != nil {
		return nil
	}
	return &at
}

// Digest is the hex SHA-256 of the content, whatever the order of its fields and its spaces.
func (i SheetItem) Digest() string {
	content := []byte(i.Content)
	var any any
	if json.Unmarshal(content, &any) == nil {
		if sorted, err := json.Marshal(any); err == nil {
			content = sorted
		}
	}
	sum := sha256.Sum256(content)
	return hex.EncodeToString(sum[:])
}

// SeenAt is when the turn of a mark was seen: by the device's clock where that falls into the lesson, else when the server received it
// where that does, else when the lesson began.
func (i SheetItem) SeenAt(l Lesson, received time.Time) time.Time {
	during := func(at time.Time) bool {
		return !at.Before(l.StartsAt.Add(-SheetOpensBefore)) && !at.After(l.EndsAt().Add(SheetClosesAfter))
	}
	switch {
	case i.ClientAt != nil && during(*i.ClientAt) && !i.ClientAt.After(received):
		return *i.ClientAt
	case during(received):
		return received
	}
	return l.StartsAt
}

// KeptItem is an item as it was kept, with what it was answered and who sent it.
type KeptItem struct {
	ID         uuid.UUID
	Digest     string
	LessonID   *uuid.UUID
	ChildID    *uuid.UUID
	SentBy     *uuid.UUID
	SentByName string
	Content    string
	Answer     ItemAnswer
	Words      string
	ReceivedAt time.Time
}

// SheetNote is a quick note from the hall, about a child or, where ChildID is nil, the lesson.
type SheetNote struct {
	ID            uuid.UUID
	LessonID      uuid.UUID
	ChildID       *uuid.UUID
	Note          string
	WrittenBy     *uuid.UUID
	WrittenByName string
	WrittenAt     time.Time
}
