package app

import (
	"context"
	"slices"
	"strings"
	"time"
	"unicode/utf8"

	"github.com/google/uuid"
	"rungbook/internal/postgres"
	"rungbook/internal/studio"
)

// StopView is what the page for "stop" shows: what to do first, and what a record is written from.
type StopView struct {
	Lesson   studio.Lesson // in the class's time zone
	Class    string
	First    []string
	Now      time.Time    // in the class's time zone
	MayWrite bool         // assistants tell a teacher
	Children []NamedChild // those of the class, for teachers
	Records  []studio.IncidentLine
}

// NamedChild is a child in a list to choose from.
type NamedChild struct {
	ID   uuid.UUID
	Name string
}

// Stop is the page for when something goes wrong at a lesson.
func (a *App) Stop(ctx context.Context, actor studio.Actor, lesson uuid.UUID) (StopView, error) {
	view := StopView{First: StopFirst()}
	err := a.db.InTx(ctx, actor, func(t *postgres.Tx) error {
		if err := a.may(ctx, t, studio.RunSheet, Target{Lesson: lesson}); err != nil {
			return err
		}
		roll, err := t.SheetRoll(ctx, lesson)
		if err != nil {
			return err
		}
		view.Lesson, view.Class, view.Now = roll.Lesson, roll.Class.Name, inZone(t.Now, roll.Class.TimeZone)
		view.Lesson.StartsAt = inZone(roll.Lesson.StartsAt, roll.Class.TimeZone)
		if a.may(ctx, t, studio.KeepIncident, Target{Lesson: lesson}) != nil {
			return nil
		}
		view.MayWrite = true
		for _, c := range roll.Children {
			view.Children = append(view.Children, NamedChild{c.ID, c.ShortName()})
		}
		view.Records, err = t.Incidents(ctx, lesson)
		return err
	})
	return view, err
}

// KeepIncident writes the record of what went wrong and returns its id.
func (a *App) KeepIncident(ctx context.Context, actor studio.Actor, i studio.Incident) (uuid.UUID, error) {
	i.ID = uuid.New()
	err := a.db.InTx(ctx, actor, func(t *postgres.Tx) error {
		if err := a.may(ctx, t, studio.KeepIncident, Target{Lesson: i.LessonID}); err != nil {
			return err
		}
		if err := i.Validate(t.Now); err != nil {
			return err
		}
		evening, err := t.Evening(ctx, i.LessonID)
		if err != nil {
			return err
		}
		var birth *time.Time
		if i.ChildID != nil {
			at := slices.IndexFunc(evening.Children, func(c postgres.EveningChild) bool { return c.ID == *i.ChildID })
			if at < 0 {
				return studio.Refuse("The record was not written yet. What you typed is kept.", []studio.FieldError{{Field: "child", Problem: "Choose one of those offered."}})
			}
			birth = &evening.Children[at].BirthDate
		}
		i.KeepUntil = t.Settings.Retention.KeepIncident(t.DayOf(i.HappenedAt), birth)
		if err := t.AddIncident(ctx, i); err != nil {
			return err
		}
		return t.Audit(ctx, "wrote an incident record", "incident "+i.ID.String(), map[string]any{"lesson": i.LessonID.String()})
	})
	return i.ID, err
}

// IncidentView is a record with what was added to it.
type IncidentView struct {
	studio.IncidentLine
	Added []studio.IncidentAddition
}

// Incident reads a record; the reading is written to the trail.
func (a *App) Incident(ctx context.Context, actor studio.Actor, id uuid.UUID) (IncidentView, error) {
	var view IncidentView
	err := a.db.InTx(ctx, actor, func(t *postgres.Tx) error {
		var err error
		if view.IncidentLine, err = a.incident(ctx, t, id); err != nil {
			return err
		}
		if view.Added, err = t.IncidentAdditions(ctx, id); err != nil {
			return err
		}
		if view.ChildID != nil {
			if err := t.NoteHealthRead(ctx, studio.ReadIncident, *view.ChildID); err != nil {
				return err
			}
		}
		return t.Audit(ctx, "read an incident record", "incident "+id.String(), nil)
	})
	return view, err
}

// incident finds a record that the actor may keep.
func (a *App) incident(ctx context.Context, t *postgres.Tx, id uuid.UUID) (studio.IncidentLine, error) {
	line, err := t.Incident(ctx, id)
	if err != nil {
		return line, err
	}
	return line, a.may(ctx, t, studio.KeepIncident, Target{Lesson: line.LessonID})
}

// AddToIncident adds what was learned later.
func (a *App) AddToIncident(ctx context.Context, actor studio.Actor, id uuid.UUID, words string) error {
	return a.db.InTx(ctx, actor, func(t *postgres.Tx) error {
		if _, err := a.incident(ctx, t, id); err != nil {
			return err
		}
		words = strings.TrimSpace(words)
		if n := utf8.RuneCountInString(words); n == 0 || n > 4000 {
			return studio.Refuse("Nothing was added.", []studio.FieldError{{Field: "words", Problem: "Say what was learned, in at most 4000 characters."}})
		}
		if err := t.AddToIncident(ctx, id, words); err != nil {
			return err
		}
		return t.Audit(ctx, "added to an incident record", "incident "+id.String(), nil)
	})
}

// Incidents lists every record of the studio, latest first, for the owner.
func (a *App) Incidents(ctx context.Context, actor studio.Actor) ([]studio.IncidentLine, error) {
	var lines []studio.IncidentLine
	err := a.within(ctx, actor, studio.SeeStudio, func(t *postgres.Tx) error {
		var err error
		if lines, err = t.Incidents(ctx, uuid.Nil); err != nil || len(lines) == 0 {
			return err
		}
		if err := t.NoteHealthRead(ctx, studio.ReadIncidents, childrenOf(lines)...); err != nil {
			return err
		}
		return t.Audit(ctx, "read the list of incident records", "incidents", nil)
	})
	return lines, err
}

func childrenOf(lines []studio.IncidentLine) []uuid.UUID {
	var children []uuid.UUID
	for _, l := range lines {
		if l.ChildID != nil {
			children = append(children, *l.ChildID)
		}
	}
	return children
}
