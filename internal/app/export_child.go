package app

import (
	"context"
	"time"

	"github.com/google/uuid"
	"rungbook/internal/postgres"
	"rungbook/internal/studio"
	"rungbook/internal/words"
)

// DataView is a family's page about its data: who read health data, and whether erasure was asked for.
type DataView struct {
	ID       uuid.UUID
	Name     string
	Reads    []studio.HealthRead
	Requests []studio.ErasureRequest
	Day      Day
	Language string // the tag of the studio's own words
}

// DataOf shows a guardian who read health data of a child and what was asked about erasing it.
func (a *App) DataOf(ctx context.Context, actor studio.Actor, child uuid.UUID) (DataView, error) {
	view := DataView{ID: child}
	err := a.db.InTx(ctx, actor, func(t *postgres.Tx) error {
		if err := a.may(ctx, t, studio.OwnData, Target{Child: child}); err != nil {
			return err
		}
		head, err := childHead(ctx, t, child)
		if err != nil {
			return err
		}
		view.Name, view.Day, view.Language = head.GivenName, t.Day(), t.Settings.Language
		if view.Reads, err = t.HealthReads(ctx, child); err != nil {
			return err
		}
		view.Requests, err = t.ErasureRequests(ctx, &child)
		return err
	})
	return view, err
}

// ChildData is a guardian's copy of what the studio holds about a child.
type ChildData struct {
	Name     string
	Studio   string
	MadeAt   time.Time // in the studio's time zone
	Tables   []studio.DataTable
	Withheld []studio.DataWithheld
	Language string // the tag of the studio's own words
}

// ExportChild makes a guardian's copy of a child's data, for the guardian's passphrase; it is written to the trail.
func (a *App) ExportChild(ctx context.Context, actor studio.Actor, child uuid.UUID, passphrase string) (ChildData, error) {
	data := ChildData{Studio: a.settings.StudioName}
	err := a.db.InTx(ctx, actor, func(t *postgres.Tx) error {
		if err := a.may(ctx, t, studio.OwnData, Target{Child: child}); err != nil {
			return err
		}
		if err := a.again(ctx, t, passphrase, words.Of(ctx).Say("data.nothing-made")); err != nil {
			return err
		}
		head, err := childHead(ctx, t, child)
		if err != nil {
			return err
		}
		data.Language = t.Settings.Language
		data.Name, data.MadeAt = head.GivenName, t.Now.In(t.Day().Zone)
		if err := t.OpenExport(ctx); err != nil {
			return err
		}
		if data.Tables, data.Withheld, err = t.DataOf(ctx, child); err != nil {
			return err
		}
		return t.Audit(ctx, "took a copy of a child's data", "child "+child.String(), nil)
	})
	return data, err
}
