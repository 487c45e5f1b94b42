package lesson

import (
	"fmt"
	"math"

	"rungbook/internal/engine/load"
)

// Limits of what the planner takes in.
const (
	maxChildren = 64
	maxStaff    = 16
	maxKeys     = 64 // equipment
	maxPriority = 1e6
)

// validate reports the first field that makes no sense.
func validate(in Input) error {
	for _, check := range []func(Input) error{validNumbers, validLists, validActivities, validChildren, validReferences} {
		if err := check(in); err != nil {
			return err
		}
	}
	return nil
}

func wrong(field, format string, args ...any) error {
	return &InputError{Field: field, Problem: fmt.Sprintf(format, args...)}
}

func validNumbers(in Input) error {
	for _, f := range []struct {
		field            string
		value, least, to int
	}{
		{"Rotations", in.Rotations, 1, 8}, {"WorkSeconds", in.WorkSeconds, 30, 3600}, {"Groups", in.Groups, 1, 8},
		{"GroupMin", in.GroupMin, 0, maxChildren}, {"GroupMax", in.GroupMax, 0, maxChildren},
		{"MaxActivities", in.MaxActivities, 0, 8}, {"MaxStations", in.MaxStations, 0, 64}, {"TurnFloor", in.TurnFloor, 0, 1000},
		{"StationsPerLead", in.StationsPerLead, 0, 8}, {"HardFrom", in.HardFrom, 0, 3}, {"AdultsFreeNeeded", in.AdultsFreeNeeded, 0, 100},
		{"Children", len(in.Children), 1, maxChildren}, {"Stations", len(in.Stations), 1, 64},
		{"Activities", len(in.Activities), 1, 1000}, {"Staff", len(in.Staff), 0, maxStaff},
	} {
		if f.value < f.least || f.value > f.to {
			return wrong(f.field, "is %d, want %d to %d", f.value, f.least, f.to)
		}
	}
	if in.GroupMax > 0 && in.GroupMin > in.GroupMax {
		return wrong("GroupMin", "is %d, more than GroupMax, %d", in.GroupMin, in.GroupMax)
	}
	if in.Learn != 0 && !(in.Learn > 0 && in.Learn < 1) {
		return wrong("Learn", "is %g, want above 0 and below 1", in.Learn)
	}
	return nil
}

func validLists(in Input) error {
	lists := []struct {
		field string
		ids   []string
	}{
		{"Children", idsOf(in.Children, func(c Child) string { return c.ID })},
		{"Stations", idsOf(in.Stations, func(s Station) string { return s.ID })},
		{"Activities", idsOf(in.Activities, func(a Activity) string { return a.ID })},
		{"Staff", idsOf(in.Staff, func(s Staff) string { return s.ID })},
		{"Stock", idsOf(in.Stock, func(s Stock) string { return s.Key })},
	}
	for _, l := range lists {
		seen := map[string]bool{}
		for _, id := range l.ids {
			if id == "" || seen[id] {
				return wrong(l.field, "the id %q is empty or there twice", id)
			}
			seen[id] = true
		}
	}
	return nil
}

func idsOf[T any](list []T, id func(T) string) []string {
	out := make([]string, len(list))
	for i, x := range list {
		out[i] = id(x)
	}
	return out
}

func validActivities(in Input) error {
	for _, a := range in.Activities {
		field := "Activities[" + a.ID + "]"
		if a.TurnSeconds < 1 || a.TurnSeconds > 3600 {
			return wrong(field+".TurnSeconds", "is %d, want 1 to 3600 seconds", a.TurnSeconds)
		}
		if a.SpottersNeeded < 0 || a.SpottersNeeded > 2 {
			return wrong(field+".SpottersNeeded", "is %d, want 0 to 2", a.SpottersNeeded)
		}
		for _, k := range load.Kinds() {
			if v := a.Load.Of(k); v < 0 || v > 3 {
				return wrong(field+".Load", "%s is %d, want 0 to 3 a turn", k, v)
			}
		}
		for _, n := range a.Equipment {
			if n.Key == "" || n.Count < 1 || n.Places < 1 {
				return wrong(field+".Equipment", "%q needs a key, at least 1 piece and at least 1 place", n.Key)
			}
		}
	}
	keys := set(in.Stock, func(s Stock) string { return s.Key })
	for _, a := range in.Activities {
		for _, n := range a.Equipment {
			keys[n.Key] = true
		}
	}
	if len(keys) > maxKeys {
		return wrong("Stock", "there are %d kinds of equipment, want at most %d", len(keys), maxKeys)
	}
	for _, s := range in.Stock {
		if s.Count < 0 {
			return wrong("Stock["+s.Key+"]", "is %d, want 0 or more pieces", s.Count)
		}
	}
	return nil
}

func validChildren(in Input) error {
	activities, stations := set(in.Activities, func(a Activity) string { return a.ID }), set(in.Stations, func(s Station) string { return s.ID })
	for _, c := range in.Children {
		field := "Children[" + c.ID + "]"
		if c.Caps.Back < 0 || c.Caps.Wrists < 0 || c.Caps.Landing < 0 {
			return wrong(field+".Caps", "want 0 or more of each kind")
		}
		seen := map[[2]string]bool{}
		for _, o := range c.Options {
			key := [2]string{o.ActivityID, o.StationID}
			switch {
			case !activities[o.ActivityID]:
				return wrong(field+".Options", "there is no activity %q", o.ActivityID)
			case !stations[o.StationID]:
				return wrong(field+".Options", "there is no station %q", o.StationID)
			case !(o.Priority > 0 && o.Priority <= maxPriority) || math.IsNaN(o.Priority):
				return wrong(field+".Options", "the priority of %q is %g, want above 0, at most %g", o.ActivityID, o.Priority, float64(maxPriority))
			case seen[key]:
				return wrong(field+".Options", "%q at %q is there twice", o.ActivityID, o.StationID)
			}
			seen[key] = true
		}
	}
	return nil
}

func set[T any](list []T, id func(T) string) map[string]bool {
	out := make(map[string]bool, len(list))
	for _, x := range list {
		out[id(x)] = true
	}
	return out
}

func validReferences(in Input) error {
	children := set(in.Children, func(c Child) string { return c.ID })
	stations := set(in.Stations, func(s Station) string { return s.ID })
	activities := set(in.Activities, func(a Activity) string { return a.ID })
	staff := set(in.Staff, func(s Staff) string { return s.ID })
	for field, pairs := range map[string][]Pair{"KeepTogether": in.KeepTogether, "KeepApart": in.KeepApart} {
		for _, p := range pairs {
			if !children[p.A] || !children[p.B] || p.A == p.B {
				return wrong(field, "%q and %q must be two children who are here", p.A, p.B)
			}
		}
	}
	rotation := func(r int) bool { return r >= 1 && r <= in.Rotations }
	group := func(g int) bool { return g >= 1 && g <= in.Groups }
	for _, p := range in.Pins.Groups {
		if !children[p.ChildID] || !group(p.Group) {
			return wrong("Pins.Groups", "child %q or group %d is not part of the lesson", p.ChildID, p.Group)
		}
	}
	for _, p := range in.Pins.Stations {
		if !rotation(p.Rotation) || !group(p.Group) || !stations[p.StationID] {
			return wrong("Pins.Stations", "rotation %d, group %d or station %q is not part of the lesson", p.Rotation, p.Group, p.StationID)
		}
	}
	for _, p := range in.Pins.Activities {
		if !rotation(p.Rotation) || !children[p.ChildID] || !activities[p.ActivityID] {
			return wrong("Pins.Activities", "rotation %d, child %q or activity %q is not part of the lesson", p.Rotation, p.ChildID, p.ActivityID)
		}
	}
	for _, p := range in.Pins.Duties {
		if !rotation(p.Rotation) || !staff[p.StaffID] || !stations[p.StationID] || p.Duty != LeadDuty && p.Duty != SpotDuty {
			return wrong("Pins.Duties", "rotation %d, person %q, station %q or duty %q is not part of the lesson", p.Rotation, p.StaffID, p.StationID, p.Duty)
		}
	}
	return nil
}
