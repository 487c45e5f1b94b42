package app

import (
	"context"
	"slices"
	"strconv"

	"rungbook/internal/postgres"
	"rungbook/internal/studio"
)

// AddDrill adds a drill and returns its key, which is made from the name.
func (a *App) AddDrill(ctx context.Context, actor studio.Actor, drill studio.Drill) (string, error) {
	err := a.editLibrary(ctx, actor, func(t *postgres.Tx, l *ladders) error {
		drill.Key = studio.NewKey("d-"+drill.Name, "drill", func(key string) bool { _, taken := l.drills[key]; return taken })
		drill = tidyDrill(drill)
		if err := checkDrill(l, drill); err != nil {
			return err
		}
		if err := t.SaveDrill(ctx, drill); err != nil {
			return err
		}
		return t.Audit(ctx, "added a drill", "drill "+drill.Key, map[string]any{"changes": changes(studio.Drill{}, drill)})
	})
	return drill.Key, err
}

// EditDrill changes a drill. seen is the fingerprint of the drill that the writer had before them; an
// empty one is not compared.
func (a *App) EditDrill(ctx context.Context, actor studio.Actor, seen string, drill studio.Drill) error {
	return a.editLibrary(ctx, actor, func(t *postgres.Tx, l *ladders) error {
		old, ok := l.drills[drill.Key]
		if !ok {
			return studio.Missing()
		}
		if seen != "" && seen != Seen(old) {
			return changedMeanwhile("drill")
		}
		drill = tidyDrill(drill)
		if err := checkDrill(l, drill); err != nil {
			return err
		}
		if err := t.SaveDrill(ctx, drill); err != nil {
			return err
		}
		return t.Audit(ctx, "changed a drill", "drill "+drill.Key, map[string]any{"changes": changes(old, drill)})
	})
}

// RemoveDrill removes a drill that no cause names and that no plan and no family has.
func (a *App) RemoveDrill(ctx context.Context, actor studio.Actor, key string) error {
	return a.editLibrary(ctx, actor, func(t *postgres.Tx, l *ladders) error {
		drill, ok := l.drills[key]
		if !ok {
			return studio.Missing()
		}
		if n := causesWith(l.Library, key); n > 0 {
			return &studio.Error{Code: studio.Conflict, Text: "The drill was kept: it answers causes of faults (" + strconv.Itoa(n) + "). Choose another drill there first."}
		}
		if err := t.RemoveDrill(ctx, key); err != nil {
			return err
		}
		return t.Audit(ctx, "removed a drill", "drill "+key, map[string]any{"changes": changes(drill, studio.Drill{})})
	})
}

func checkDrill(l *ladders, drill studio.Drill) error {
	wrong := drill.Validate()
	for _, key := range drill.Prepares {
		if _, ok := l.rungs[key]; !ok {
			wrong = append(wrong, studio.FieldError{Field: "prepares", Problem: "there is no rung " + key + " any more"})
		}
	}
	return studio.Refuse(nothingSaved, wrong)
}

// causesWith counts the causes that a drill answers.
func causesWith(l studio.Library, drill string) int {
	n := 0
	for _, ladder := range l.Ladders {
		for _, r := range ladder.Rungs {
			for _, f := range r.Faults {
				for _, c := range f.Causes {
					if slices.Contains(c.Drills, drill) {
						n++
					}
				}
			}
		}
	}
	return n
}
