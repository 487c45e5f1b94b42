package app

import (
	"context"
	"maps"
	"slices"

	"rungbook/internal/postgres"
	"rungbook/internal/studio"
)

// ItemChange is what an import does to one ladder, rung or drill. Fields are names of the library file; none when it is new.
type ItemChange struct {
	Key, Name string
	New       bool
	Fields    []string
}

// LibraryChanges is what an import would do. Seen is the fingerprint of the library that it was judged with.
type LibraryChanges struct {
	Ladders, Rungs, Drills []ItemChange
	Seen                   string
}

// None reports whether the import would change nothing.
func (c LibraryChanges) None() bool { return len(c.Ladders)+len(c.Rungs)+len(c.Drills) == 0 }

// CheckImport says what an import would do, and changes nothing. It fails where the import would.
func (a *App) CheckImport(ctx context.Context, actor studio.Actor, library studio.Library) (LibraryChanges, error) {
	var found LibraryChanges
	err := a.editLibrary(ctx, actor, func(_ *postgres.Tx, l *ladders) error {
		merged, err := merge(l.Library, library)
		if err != nil {
			return err
		}
		found = libraryChanges(l.Library, merged)
		return nil
	})
	return found, err
}

// ImportLibrary writes a library over the studio's: known keys are changed, new ones added, none removed; all or nothing. Known
// ladders keep their place among the others, and rungs that the import does not name theirs above the same rung as before.
func (a *App) ImportLibrary(ctx context.Context, actor studio.Actor, library studio.Library) error {
	return a.ImportChecked(ctx, actor, "", library)
}

// ImportChecked is ImportLibrary for somebody who has read what CheckImport said: it refuses when the studio's library has changed
// since. An empty seen is not compared.
func (a *App) ImportChecked(ctx context.Context, actor studio.Actor, seen string, library studio.Library) error {
	return a.editLibrary(ctx, actor, func(t *postgres.Tx, l *ladders) error {
		if seen != "" && seen != Seen(l.Library) {
			return &studio.Error{Code: studio.Conflict, Text: "Somebody changed the library since you looked. Nothing was imported; choose the file again to see what it would change now."}
		}
		merged, err := merge(l.Library, library)
		if err != nil {
			return err
		}
		found := libraryChanges(l.Library, merged)
		if found.None() {
			return nil
		}
		if err := t.SaveLibrary(ctx, merged); err != nil {
			return err
		}
		return t.Audit(ctx, "imported a library", "library", map[string]any{"ladders": found.Ladders, "rungs": found.Rungs, "drills": found.Drills})
	})
}

// merge is the present library with an import over it, checked as a whole.
func merge(present, incoming studio.Library) (studio.Library, error) {
	const nothing = "Nothing was imported."
	if err := studio.Refuse(nothing, incoming.Validate()); err != nil {
		return studio.Library{}, err
	}
	incoming = tidy(incoming)
	merged := studio.Library{Ladders: mergeLadders(present.Ladders, incoming.Ladders), Drills: slices.Clone(present.Drills)}
	for _, d := range incoming.Drills {
		if at := slices.IndexFunc(merged.Drills, func(old studio.Drill) bool { return old.Key == d.Key }); at >= 0 {
			merged.Drills[at] = d
		} else {
			merged.Drills = append(merged.Drills, d)
		}
	}
	if err := studio.Refuse(nothing, strangers(merged)); err != nil {
		return studio.Library{}, err
	}
	_, err := newLadders(merged)
	return merged, err
}

func mergeLadders(present, incoming []studio.Ladder) []studio.Ladder {
	named := map[string]bool{}
	for _, l := range incoming {
		for _, r := range l.Rungs {
			named[r.Key] = true
		}
	}
	merged := slices.Clone(present)
	for i, l := range merged {
		merged[i].Rungs = slices.DeleteFunc(slices.Clone(l.Rungs), func(r studio.Rung) bool { return named[r.Key] })
	}
	for _, l := range incoming {
		at := slices.IndexFunc(merged, func(old studio.Ladder) bool { return old.Key == l.Key })
		if at < 0 {
			merged = append(merged, l)
			continue
		}
		l.Rungs = keepOthers(l.Rungs, present[at].Rungs, named)
		merged[at] = l
	}
	return merged
}

// keepOthers puts the rungs that the import does not name back above the rung on which they stood.
func keepOthers(rungs, before []studio.Rung, named map[string]bool) []studio.Rung {
	rungs = slices.Clone(rungs)
	below := ""
	for _, r := range before {
		if !named[r.Key] {
			at := slices.IndexFunc(rungs, func(other studio.Rung) bool { return other.Key == below }) + 1
			rungs = slices.Insert(rungs, at, r)
		}
		below = r.Key
	}
	return rungs
}

// strangers names the rungs and drills that the library names and does not have. (Needs are judged with the graph.)
func strangers(l studio.Library) []studio.FieldError {
	drills, rungs := map[string]bool{}, map[string]bool{}
	for _, d := range l.Drills {
		drills[d.Key] = true
	}
	var wrong []studio.FieldError
	for _, ladder := range l.Ladders {
		for _, r := range ladder.Rungs {
			rungs[r.Key] = true
			wrong = append(wrong, causeCircle(r)...)
			for _, f := range r.Faults {
				for _, c := range f.Causes {
					for _, d := range c.Drills {
						if !drills[d] {
							wrong = append(wrong, studio.FieldError{Field: r.Key + ".faults." + f.Key, Problem: "there is no drill " + d})
						}
					}
				}
			}
		}
	}
	for _, d := range l.Drills {
		for _, r := range d.Prepares {
			if !rungs[r] {
				wrong = append(wrong, studio.FieldError{Field: d.Key + ".prepares", Problem: "there is no rung " + r})
			}
		}
	}
	return wrong
}

func libraryChanges(present, merged studio.Library) LibraryChanges {
	found := LibraryChanges{Seen: Seen(present)}
	for _, l := range merged.Ladders {
		old, known := present.Ladder(l.Key)
		fields := fieldNames(changes(withoutRungs(old), withoutRungs(l)))
		if known && !slices.Equal(rungKeys(old), rungKeys(l)) {
			fields = append(fields, "rungs")
		}
		found.Ladders = appendChange(found.Ladders, l.Key, l.Name, known, fields)
		for _, r := range l.Rungs {
			before, known := present.Rung(r.Key)
			fields := fieldNames(changes(before.Rung, r))
			if known && before.Ladder.Key != l.Key {
				fields = append(fields, "ladder")
			}
			found.Rungs = appendChange(found.Rungs, r.Key, r.Name, known, fields)
		}
	}
	for _, d := range merged.Drills {
		old, known := present.Drill(d.Key)
		found.Drills = appendChange(found.Drills, d.Key, d.Name, known, fieldNames(changes(old, d)))
	}
	return found
}

func appendChange(list []ItemChange, key, name string, known bool, fields []string) []ItemChange {
	switch {
	case !known:
		return append(list, ItemChange{Key: key, Name: name, New: true})
	case len(fields) > 0:
		return append(list, ItemChange{Key: key, Name: name, Fields: fields})
	}
	return list
}

func fieldNames(c map[string]change) []string { return slices.Sorted(maps.Keys(c)) }

func withoutRungs(l studio.Ladder) studio.Ladder {
	l.Rungs = nil
	return l
}
