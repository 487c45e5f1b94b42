package app

import (
	"context"

	"rungbook/internal/postgres"
	"rungbook/internal/studio"
)

// ClearOut does the day's clearing where it is still to be done: what was kept long enough by the studio's settings goes. Any number
// of copies of the program may ask.
func (a *App) ClearOut(ctx context.Context) error {
	return a.db.InTx(ctx, studio.ProgramActor(), func(t *postgres.Tx) error {
		mine, err := t.BeginRetentionRun(ctx)
		if err != nil || !mine {
			return err
		}
		if err := t.OpenClearing(ctx); err != nil {
			return err
		}
		gone, err := t.ClearOut(ctx, t.Settings.Retention)
		if err != nil || len(gone) == 0 {
			return err
		}
		return t.Audit(ctx, "cleared out what was kept long enough", "retention", map[string]any{"gone": gone})
	})
}

// Retention is what is kept how long, and what the last runs took away.
type Retention struct {
	Rule studio.RetentionRule
	Runs []studio.RetentionRun
	Day  Day
}

// Retention shows the owner how long things are kept.
func (a *App) Retention(ctx context.Context, actor studio.Actor) (Retention, error) {
	var view Retention
	err := a.within(ctx, actor, studio.SeeStudio, func(t *postgres.Tx) error {
		view.Rule, view.Day = t.Settings.Retention, t.Day()
		var err error
		view.Runs, err = t.RetentionRuns(ctx, 14)
		return err
	})
	return view, err
}

// TrailHas reports whether a hash is that of a line of the trail.
func (a *App) TrailHas(ctx context.Context, actor studio.Actor, hash string) (bool, error) {
	has := false
	err := a.within(ctx, actor, studio.SeeStudio, func(t *postgres.Tx) error {
		var err error
		has, err = t.ChainHas(ctx, hash)
		return err
	})
	return has, err
}

// TrailCheck is whether the trail is as it was written.
type TrailCheck struct {
	Head   studio.ChainHead
	Broken *studio.ChainBreak // nil for a sound chain
	Day    Day
}

// CheckTrail works the chain of the trail out again.
func (a *App) CheckTrail(ctx context.Context, actor studio.Actor) (TrailCheck, error) {
	var check TrailCheck
	err := a.within(ctx, actor, studio.SeeStudio, func(t *postgres.Tx) error {
		check.Day = t.Day()
		var err error
		if check.Head, err = t.ChainHead(ctx); err != nil {
			return err
		}
		broken, err := t.CheckChain(ctx)
		if len(broken) > 0 {
			check.Broken = &broken[0]
		}
		return err
	})
	return check, err
}
