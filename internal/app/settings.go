package app

import (
	"context"
	"encoding/json"
	"fmt"
	"reflect"
	"slices"

	"rungbook/internal/postgres"
	"rungbook/internal/studio"
)

// StudioSettings are what the studio has set for itself, with the defaults where it has set nothing.
func (a *App) StudioSettings(ctx context.Context, actor studio.Actor) (studio.Settings, error) {
	var s studio.Settings
	err := a.within(ctx, actor, studio.KeepSettings, func(t *postgres.Tx) error {
		s = t.Settings
		return nil
	})
	return s, err
}

// ChangeSettings changes some of the settings, unless the result makes no sense; the trail keeps what they were.
func (a *App) ChangeSettings(ctx context.Context, actor studio.Actor, change func(*studio.Settings)) error {
	return a.within(ctx, actor, studio.KeepSettings, func(t *postgres.Tx) error {
		next := t.Settings
		next.Caps, next.Cover.Ratios = slices.Clone(next.Caps), slices.Clone(next.Cover.Ratios)
		change(&next)
		if err := next.Validate(); err != nil {
			return err
		}
		changed, err := settingsChanged(t.Settings, next)
		if err != nil || len(changed) == 0 {
			return err
		}
		if err := t.SaveSettings(ctx, next); err != nil {
			return err
		}
		if next.Guarded && !t.Actor.Program {
			if who, err := t.ActorOf(ctx, actor.ID); err != nil || who.Unguarded {
				return errOwnerUnguarded(err)
			}
		}
		return t.Audit(ctx, "changed the settings", "settings", changed)
	})
}

func errOwnerUnguarded(err error) error {
	if err != nil {
		return err
	}
	return studio.Refuse("Nothing was saved.", []studio.FieldError{{Field: "guarded", Problem: "Set up a code or a passkey for yourself first, on the page of your account: you would be kept out at once."}})
}

// settingsChanged are the fields that differ, by the names under which they are kept.
func settingsChanged(before, after studio.Settings) (map[string]any, error) {
	was, err := fieldsOf(before)
	if err != nil {
		return nil, err
	}
	is, err := fieldsOf(after)
	changed := map[string]any{}
	for name, value := range is {
		if !reflect.DeepEqual(was[name], value) {
			changed[name] = change{From: was[name], To: value}
		}
	}
	return changed, err
}

func fieldsOf(s studio.Settings) (map[string]any, error) {
	text, err := json.Marshal(s)
	if err != nil {
		return nil, fmt.Errorf("write the settings: %w", err)
	}
	var fields map[string]any
	err = json.Unmarshal(text, &fields)
	return fields, err
}
