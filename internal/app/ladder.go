package app

import (
	"cmp"
	"context"
	"slices"

	"rungbook/internal/postgres"
	"rungbook/internal/studio"
)

// AddLadder adds an empty ladder after the others of its family and returns its key, which is made from the name.
func (a *App) AddLadder(ctx context.Context, actor studio.Actor, ladder studio.Ladder) (string, error) {
	err := a.editLibrary(ctx, actor, func(t *postgres.Tx, l *ladders) error {
		ladder.Key = studio.NewKey(ladder.Name, "ladder", func(key string) bool {
			_, taken := l.ladder[key]
			return taken || studio.IsPageWord(key)
		})
		ladder.Rungs = nil
		if err := studio.Refuse(nothingSaved, ladder.Validate()); err != nil {
			return err
		}
		if err := t.SaveLadder(ctx, ladder, len(l.Ladders)+1); err != nil {
			return err
		}
		if err := t.OrderLadders(ctx, keysByFamily(append(slices.Clone(l.Ladders), ladder))); err != nil {
			return err
		}
		return t.Audit(ctx, "added a ladder", "ladder "+ladder.Key, map[string]any{"changes": changes(studio.Ladder{}, ladder)})
	})
	return ladder.Key, err
}

// EditLadder changes a ladder's own words, not its rungs. seen is the fingerprint of the ladder that the writer had before them; an
// empty one is not compared.
func (a *App) EditLadder(ctx context.Context, actor studio.Actor, seen string, ladder studio.Ladder) error {
	return a.editLibrary(ctx, actor, func(t *postgres.Tx, l *ladders) error {
		at := slices.IndexFunc(l.Ladders, func(old studio.Ladder) bool { return old.Key == ladder.Key })
		if at < 0 {
			return studio.Missing()
		}
		old := l.Ladders[at]
		if seen != "" && seen != SeenLadder(old) {
			return changedMeanwhile("ladder")
		}
		ladder.Rungs = old.Rungs
		if err := studio.Refuse(nothingSaved, ladder.Validate()); err != nil {
			return err
		}
		if err := t.SaveLadder(ctx, ladder, at+1); err != nil {
			return err
		}
		return t.Audit(ctx, "changed a ladder", "ladder "+ladder.Key, map[string]any{"changes": changes(old, ladder)})
	})
}

// SeenLadder is the fingerprint of a ladder's own words.
func SeenLadder(l studio.Ladder) string { return Seen(withoutRungs(l)) }

// MoveLadder moves a ladder by steps among those of its family: -1 is one earlier, 1 one later. At the end it stays.
func (a *App) MoveLadder(ctx context.Context, actor studio.Actor, key string, steps int) error {
	return a.editLibrary(ctx, actor, func(t *postgres.Tx, l *ladders) error {
		moved, ok := l.ladder[key]
		if !ok {
			return studio.Missing()
		}
		order := keysByFamily(l.Ladders)
		at := slices.Index(order, key)
		to := at + steps
		if to < 0 || to >= len(order) || l.ladder[order[to]].Family != moved.Family {
			return nil
		}
		order = slices.Insert(slices.Delete(order, at, at+1), to, key)
		if err := t.OrderLadders(ctx, order); err != nil {
			return err
		}
		return t.Audit(ctx, "moved a ladder", "ladder "+key, map[string]any{"order": order})
	})
}

// RemoveLadder removes a ladder that has no rung left.
func (a *App) RemoveLadder(ctx context.Context, actor studio.Actor, key string) error {
	return a.editLibrary(ctx, actor, func(t *postgres.Tx, l *ladders) error {
		ladder, ok := l.ladder[key]
		if !ok {
			return studio.Missing()
		}
		if len(ladder.Rungs) > 0 {
			return &studio.Error{Code: studio.Conflict, Text: "The ladder still has rungs, so it was kept. Move or remove its rungs first."}
		}
		if err := t.RemoveLadder(ctx, key); err != nil {
			return err
		}
		return t.Audit(ctx, "removed a ladder", "ladder "+key, map[string]any{"changes": changes(ladder, studio.Ladder{})})
	})
}

// keysByFamily orders ladders as a studio reads them: by family, then as they stand.
func keysByFamily(list []studio.Ladder) []string {
	sorted := slices.SortedStableFunc(slices.Values(list), func(a, b studio.Ladder) int {
		return cmp.Compare(slices.Index(studio.Families(), a.Family), slices.Index(studio.Families(), b.Family))
	})
	keys := make([]string, len(sorted))
	for i, l := range sorted {
		keys[i] = l.Key
	}
	return keys
}
