package app

import (
	"cmp"
	"slices"

	"rungbook/internal/studio"
)

// tidy is the library with its sets (needs, prepares, drills of a cause, equipment) in the order in which the database gives them,
// so that two libraries that say the same are the same.
func tidy(l studio.Library) studio.Library {
	l.Ladders = slices.Clone(l.Ladders)
	for i := range l.Ladders {
		rungs := slices.Clone(l.Ladders[i].Rungs)
		for j := range rungs {
			rungs[j] = tidyRung(rungs[j])
		}
		l.Ladders[i].Rungs = rungs
	}
	l.Drills = slices.Clone(l.Drills)
	for i := range l.Drills {
		l.Drills[i] = tidyDrill(l.Drills[i])
	}
	return l
}

func tidyRung(r studio.Rung) studio.Rung {
	r.Needs, r.Equipment, r.Faults = set(r.Needs), byKey(r.Equipment), slices.Clone(r.Faults)
	for i := range r.Faults {
		causes := slices.Clone(r.Faults[i].Causes)
		for j := range causes {
			causes[j].Drills, causes[j].LeadsTo = set(causes[j].Drills), set(causes[j].LeadsTo)
		}
		r.Faults[i].Causes = causes
	}
	return r
}

func tidyDrill(d studio.Drill) studio.Drill {
	d.Prepares, d.Equipment = set(d.Prepares), byKey(d.Equipment)
	return d
}

func set(keys []string) []string { return slices.Compact(slices.Sorted(slices.Values(keys))) }

func byKey(needs []studio.EquipmentNeed) []studio.EquipmentNeed {
	return slices.SortedFunc(slices.Values(needs), func(a, b studio.EquipmentNeed) int { return cmp.Compare(a.Key, b.Key) })
}
