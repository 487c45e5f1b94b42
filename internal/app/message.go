package app

import (
	"context"
	"strings"
	"unicode/utf8"

	"github.com/google/uuid"
	"rungbook/internal/postgres"
	"rungbook/internal/studio"
)

// To is whom a message is for: the family of a child, or those of a class. One of the two is uuid.Nil.
type To struct{ Child, Class uuid.UUID }

func (to To) target() Target { return Target{Child: to.Child, Class: to.Class} }

func (to To) subject() string {
	if to.Child != uuid.Nil {
		return "child " + to.Child.String()
	}
	return "class " + to.Class.String()
}

// parts are the ids as columns: nil for the one that is not meant.
func (to To) parts() (child, class *uuid.UUID) {
	if to.Child != uuid.Nil {
		return &to.Child, nil
	}
	return nil, &to.Class
}

// SentView is what was written to families, the newest first. Head is the child's; it is empty for a class.
type SentView struct {
	To       To
	Head     ChildHead
	Class    string
	Messages []postgres.SentMessage
	Day      Day
}

// MessagesTo lists what was written to a family, or to those of a class.
func (a *App) MessagesTo(ctx context.Context, actor studio.Actor, to To) (SentView, error) {
	view := SentView{To: to}
	err := a.db.InTx(ctx, actor, func(t *postgres.Tx) error {
		if err := a.may(ctx, t, studio.WriteFamilies, to.target()); err != nil {
			return err
		}
		view.Day = t.Day()
		if to.Child != uuid.Nil {
			return view.readChild(ctx, t)
		}
		class, err := t.Class(ctx, to.Class)
		if err != nil {
			return err
		}
		view.Class = class.Name
		view.Messages, err = t.MessagesToClass(ctx, to.Class)
		return err
	})
	return view, err
}

func (v *SentView) readChild(ctx context.Context, t *postgres.Tx) error {
	var err error
	if v.Head, err = childHead(ctx, t, v.To.Child); err != nil {
		return err
	}
	v.Messages, err = t.MessagesToChild(ctx, v.To.Child)
	return err
}

// WriteFamilies sends a message: one way, and its words never change. Guardians who agreed to it hear of it by e-mail.
func (a *App) WriteFamilies(ctx context.Context, actor studio.Actor, to To, note string) error {
	note = strings.TrimSpace(note)
	err := a.db.InTx(ctx, actor, func(t *postgres.Tx) error {
		if err := a.may(ctx, t, studio.WriteFamilies, to.target()); err != nil {
			return err
		}
		if to.Child == uuid.Nil {
			if _, err := t.Class(ctx, to.Class); err != nil {
				return err
			}
		}
		if note == "" || utf8.RuneCountInString(note) > studio.MessageLength {
			return studio.Refuse("Nothing was sent.", []studio.FieldError{{Field: "note", Problem: "Write something, in at most 2000 characters."}})
		}
		m := studio.Message{Note: note, Signed: actor.Name}
		m.ChildID, m.ClassID = to.parts()
		if err := t.WriteMessage(ctx, m); err != nil {
			return err
		}
		return t.Audit(ctx, "wrote to families", to.subject(), nil)
	})
	if err == nil {
		a.tellFamilies(ctx, to)
	}
	return err
}

// TakeBackMessage hides a message from families from now on.
func (a *App) TakeBackMessage(ctx context.Context, actor studio.Actor, to To, message uuid.UUID) error {
	return a.db.InTx(ctx, actor, func(t *postgres.Tx) error {
		if err := a.may(ctx, t, studio.WriteFamilies, to.target()); err != nil {
			return err
		}
		child, class := to.parts()
		if err := t.TakeBackMessage(ctx, child, class, message); err != nil {
			return err
		}
		return t.Audit(ctx, "took back a message", to.subject(), map[string]any{"message": message.String()})
	})
}

// FamilyMessages is what a family may read about its child, the newest first.
type FamilyMessages struct {
	ID       uuid.UUID
	Name     string
	Messages []postgres.GotMessage
	Day      Day
	Language string // the tag of the studio's own words
}

// fresh counts the messages that a guardian has not opened.
func fresh(messages []postgres.GotMessage) int {
	n := 0
	for _, m := range messages {
		if m.New {
			n++
		}
	}
	return n
}

// ReadMessages opens the messages about one's own child. When each was first opened is kept for the teacher.
func (a *App) ReadMessages(ctx context.Context, actor studio.Actor, child uuid.UUID) (FamilyMessages, error) {
	view := FamilyMessages{ID: child}
	err := a.db.InTx(ctx, actor, func(t *postgres.Tx) error {
		if err := a.may(ctx, t, studio.SeeHome, Target{Child: child}); err != nil {
			return err
		}
		head, err := childHead(ctx, t, child)
		if err != nil {
			return err
		}
		view.Name, view.Day, view.Language = head.GivenName, t.Day(), t.Settings.Language
		if view.Messages, err = t.MessagesFor(ctx, child); err != nil {
			return err
		}
		var unread []uuid.UUID
		for _, m := range view.Messages {
			if m.New {
				unread = append(unread, m.ID)
			}
		}
		if len(unread) == 0 {
			return nil
		}
		return t.NoteRead(ctx, unread)
	})
	return view, err
}
