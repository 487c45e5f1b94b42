package app

import (
	"context"
	"strings"
	"unicode/utf8"

	"github.com/google/uuid"
	"rungbook/internal/postgres"
	"rungbook/internal/studio"
)

// noteLength is the most characters of a note about a child.
const noteLength = 2000

// NotesView is the notes about a child, the newest first.
type NotesView struct {
	ChildHead
	Notes []studio.ChildNote
	Day   Day
}

// NotesOf lists the notes about a child.
func (a *App) NotesOf(ctx context.Context, actor studio.Actor, child uuid.UUID) (NotesView, error) {
	var view NotesView
	err := a.db.InTx(ctx, actor, func(t *postgres.Tx) error {
		page, err := t.NotesPage(ctx, child)
		if err != nil {
			return err
		}
		if view.ChildHead, err = a.headFor(ctx, t, studio.KeepNotes, page.ChildFacts); err != nil {
			return err
		}
		view.Notes, view.Day = page.Notes, t.Day()
		return nil
	})
	return view, err
}

// WriteNote keeps a note about a child: never changed, never taken away, never shown to parents or assistants.
func (a *App) WriteNote(ctx context.Context, actor studio.Actor, child uuid.UUID, note string) error {
	note = strings.TrimSpace(note)
	return a.db.InTx(ctx, actor, func(t *postgres.Tx) error {
		if err := a.may(ctx, t, studio.KeepNotes, Target{Child: child}); err != nil {
			return err
		}
		if note == "" || utf8.RuneCountInString(note) > noteLength {
			return studio.Refuse(nothingSaved, []studio.FieldError{{Field: "note", Problem: "Write something, in at most 2000 characters."}})
		}
		if err := t.AddNote(ctx, child, note); err != nil {
			return err
		}
		return t.Audit(ctx, "wrote a note", "child "+child.String(), nil)
	})
}
