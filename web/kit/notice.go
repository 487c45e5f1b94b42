package kit

import (
	"github.com/a-h/templ"
	"rungbook/internal/words"
)

// NoticeKind says how much a notice matters.
type NoticeKind string

// The four kinds of notice, each with an icon and a word of its own.
const (
	Info    NoticeKind = "info"
	Warning NoticeKind = "warning"
	Failure NoticeKind = "error"
	Done    NoticeKind = "done"
)

// Notice is a message in the page.
type Notice struct {
	// Kind is Info when empty.
	Kind NoticeKind
	// Title is a short sentence; Text says what is kept and what to do. Either may be empty.
	Title, Text string
	// Items are further sentences, one a line.
	Items []string
	// Part is further content, or nil.
	Part templ.Component
	// Action is the way out, or nil.
	Action *Action
}

// EmptyState stands where a list would be, and teaches the next step.
type EmptyState struct {
	Title, Text string
	// Button is the one next step, or nil when the reader may not take it.
	Button *Action
}

// CautionBox holds the usual cautions of a page and of its printout.
type CautionBox struct {
	// Title is "Before you begin" when empty.
	Title string
	Lines []string
	// Urgent draws the box for what must not be overlooked: stop and get help.
	Urgent bool
}

func (n Notice) kind() NoticeKind {
	if n.Kind == "" {
		return Info
	}
	return n.Kind
}

func (n Notice) icon() string {
	switch n.kind() {
	case Warning:
		return "warning"
	case Failure:
		return "stop"
	case Done:
		return "check"
	}
	return "info"
}

func (c CautionBox) title(b *words.Book) string {
	if c.Title == "" {
		return b.Say("caution.begin")
	}
	return c.Title
}
