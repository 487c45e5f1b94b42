package app

import (
	"context"
	"slices"
	"strings"

	"rungbook/internal/postgres"
	"rungbook/internal/studio"
)

// AddRung adds a rung to a ladder, right above the rung called above, or at the bottom when above is "". The key comes back; it
// is made from the name.
func (a *App) AddRung(ctx context.Context, actor studio.Actor, ladder, above string, rung studio.Rung) (string, error) {
	err := a.editLibrary(ctx, actor, func(t *postgres.Tx, l *ladders) error {
		on, ok := l.ladder[ladder]
		if !ok {
			return studio.Missing()
		}
		rung.Key = studio.NewKey(rung.Name, "rung", func(key string) bool { _, taken := l.rungs[key]; return taken })
		rung.Faults = nil
		rung = tidyRung(rung)
		order, err := place(rungKeys(on), rung.Key, above)
		if err != nil {
			return err
		}
		if err := checkRung(l, ladder, rung); err != nil {
			return err
		}
		if err := t.SaveRung(ctx, ladder, len(order), rung); err != nil {
			return err
		}
		if err := t.PlaceRungs(ctx, ladder, order); err != nil {
			return err
		}
		return t.Audit(ctx, "added a rung", "rung "+rung.Key, map[string]any{"ladder": ladder, "changes": changes(studio.Rung{}, rung)})
	})
	return rung.Key, err
}

// EditRung changes a rung but for its faults and its place. seen is the fingerprint of the rung that the writer had before them; an
// empty one is not compared.
func (a *App) EditRung(ctx context.Context, actor studio.Actor, seen string, rung studio.Rung) error {
	return a.changeRung(ctx, actor, rung.Key, seen, func(old *studio.Rung) (string, error) {
		rung.Faults = old.Faults
		*old = rung
		return "changed a rung", nil
	})
}

// SaveFault changes a fault of a rung, or adds it when its key is "". Causes without a key get one from their name. The fault's key
// comes back.
func (a *App) SaveFault(ctx context.Context, actor studio.Actor, rung, seen string, fault studio.Fault) (string, error) {
	fault.Causes = slices.Clone(fault.Causes)
	err := a.changeRung(ctx, actor, rung, seen, func(r *studio.Rung) (string, error) {
		takeOver(*r, fault.Causes)
		fault.Causes = keyedCauses(fault.Causes)
		r.Faults = slices.Clone(r.Faults)
		action := "changed a fault"
		at := slices.IndexFunc(r.Faults, func(f studio.Fault) bool { return f.Key == fault.Key })
		switch {
		case fault.Key == "":
			fault.Key = studio.NewKey(fault.Name, "fault", func(key string) bool { _, taken := r.Fault(key); return taken })
			r.Faults = append(r.Faults, fault)
			action = "added a fault"
		case at < 0:
			return "", studio.Missing()
		default:
			r.Faults[at] = fault
		}
		shareCauses(r.Faults, fault)
		return action, nil
	})
	return fault.Key, err
}

// RemoveFault takes a fault off a rung. Marks that name it keep it.
func (a *App) RemoveFault(ctx context.Context, actor studio.Actor, rung, fault string) error {
	return a.changeRung(ctx, actor, rung, "", func(r *studio.Rung) (string, error) {
		kept := slices.DeleteFunc(slices.Clone(r.Faults), func(f studio.Fault) bool { return f.Key == fault })
		if len(kept) == len(r.Faults) {
			return "", studio.Missing()
		}
		r.Faults = kept
		return "removed a fault", nil
	})
}

// changeRung lets edit change a rung, checks it within the library and saves it with a line in the trail that edit names. An empty
// seen is not compared.
func (a *App) changeRung(ctx context.Context, actor studio.Actor, key, seen string, edit func(*studio.Rung) (string, error)) error {
	return a.editLibrary(ctx, actor, func(t *postgres.Tx, l *ladders) error {
		old, ok := l.rungs[key]
		if !ok {
			return studio.Missing()
		}
		if seen != "" && seen != Seen(old) {
			return changedMeanwhile("rung")
		}
		rung := old
		action, err := edit(&rung)
		if err != nil {
			return err
		}
		rung = tidyRung(rung)
		dropLostLeads(rung.Faults)
		ladder := l.of[key]
		if err := checkRung(l, ladder, rung); err != nil {
			return err
		}
		if err := t.SaveRung(ctx, ladder, l.ladder[ladder].IndexOf(key)+1, rung); err != nil {
			return err
		}
		return t.Audit(ctx, action, "rung "+key, map[string]any{"changes": changes(old, rung)})
	})
}

// MoveRung puts a rung onto a ladder, right above the rung called above, or at the bottom when above is "".
func (a *App) MoveRung(ctx context.Context, actor studio.Actor, key, ladder, above string) error {
	return a.editLibrary(ctx, actor, func(t *postgres.Tx, l *ladders) error {
		from, known := l.of[key]
		to, there := l.ladder[ladder]
		if !known || !there {
			return studio.Missing()
		}
		left := without(rungKeys(l.ladder[from]), key)
		order, err := place(without(rungKeys(to), key), key, above)
		if err != nil {
			return err
		}
		if from != ladder {
			if err := t.PlaceRungs(ctx, from, left); err != nil {
				return err
			}
		}
		if err := t.PlaceRungs(ctx, ladder, order); err != nil {
			return err
		}
		return t.Audit(ctx, "moved a rung", "rung "+key, map[string]any{"from": from, "to": ladder, "order": order})
	})
}

// RemoveRung removes a rung that no other rung needs and that nothing recorded names.
func (a *App) RemoveRung(ctx context.Context, actor studio.Actor, key string) error {
	return a.editLibrary(ctx, actor, func(t *postgres.Tx, l *ladders) error {
		rung, ok := l.rungs[key]
		if !ok {
			return studio.Missing()
		}
		if users := l.Unlocks(key); len(users) > 0 {
			return &studio.Error{Code: studio.Conflict, Text: "The rung was kept: " + namesOf(users) + " still needs it. Take it out of those needs first."}
		}
		if err := t.RemoveRung(ctx, key); err != nil {
			return err
		}
		ladder := l.of[key]
		if err := t.PlaceRungs(ctx, ladder, without(rungKeys(l.ladder[ladder]), key)); err != nil {
			return err
		}
		return t.Audit(ctx, "removed a rung", "rung "+key, map[string]any{"ladder": ladder, "changes": changes(rung, studio.Rung{})})
	})
}

// checkRung judges a rung by itself and within the library, where it stands on the ladder or is added to it.
func checkRung(l *ladders, ladder string, rung studio.Rung) error {
	wrong := append(rung.Validate(), causeCircle(rung)...)
	for _, f := range rung.Faults {
		for _, c := range f.Causes {
			for _, d := range c.Drills {
				if _, ok := l.drills[d]; !ok {
					wrong = append(wrong, studio.FieldError{Field: "faults." + f.Key, Problem: "there is no drill " + d})
				}
			}
		}
	}
	if err := studio.Refuse(nothingSaved, wrong); err != nil {
		return err
	}
	_, err := newLadders(withRung(l.Library, ladder, rung))
	return err
}

// dropLostLeads takes out what causes lead to once the rung has no such cause any more.
func dropLostLeads(faults []studio.Fault) {
	there := map[string]bool{}
	for _, f := range faults {
		for _, c := range f.Causes {
			there[c.Key] = true
		}
	}
	for _, f := range faults {
		for i := range f.Causes {
			f.Causes[i].LeadsTo = slices.DeleteFunc(f.Causes[i].LeadsTo, func(key string) bool { return !there[key] })
		}
	}
}

// withRung is the library with the rung changed, or added to the ladder. The library itself stays as it is.
func withRung(library studio.Library, ladder string, rung studio.Rung) studio.Library {
	library.Ladders = slices.Clone(library.Ladders)
	for i := range library.Ladders {
		on := &library.Ladders[i]
		if on.Key != ladder {
			continue
		}
		on.Rungs = slices.Clone(on.Rungs)
		if at := on.IndexOf(rung.Key); at >= 0 {
			on.Rungs[at] = rung
		} else {
			on.Rungs = append(on.Rungs, rung)
		}
	}
	return library
}

func keyedCauses(causes []studio.Cause) []studio.Cause {
	causes = slices.Clone(causes)
	taken := map[string]bool{}
	for _, c := range causes {
		taken[c.Key] = true
	}
	for i := range causes {
		if c := &causes[i]; c.Key == "" {
			c.Key = studio.NewKey(c.Name, "cause", func(key string) bool { return taken[key] })
			taken[c.Key] = true
		}
	}
	return causes
}

func rungKeys(l studio.Ladder) []string {
	var keys []string
	for _, r := range l.Rungs {
		keys = append(keys, r.Key)
	}
	return keys
}

func without(keys []string, key string) []string {
	return slices.DeleteFunc(slices.Clone(keys), func(k string) bool { return k == key })
}

// place puts key right above another one, or first when above is "".
func place(order []string, key, above string) ([]string, error) {
	at := 0
	if above != "" {
		at = slices.Index(order, above) + 1
		if at == 0 {
			return nil, studio.Refuse(nothingSaved, []studio.FieldError{{Field: "above", Problem: "that rung stands on another ladder now; choose again"}})
		}
	}
	return slices.Insert(slices.Clone(order), at, key), nil
}

func namesOf(rungs []studio.RungPlace) string {
	var names []string
	for _, r := range rungs {
		names = append(names, "“"+r.Name+"” ("+r.Ladder.Name+")")
	}
	return strings.Join(names, ", ")
}
