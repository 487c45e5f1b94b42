package pacing

import (
	"cmp"
	"fmt"
	"slices"
)

// Limits of what Solve takes in.
const (
	maxWeeks  = 60
	maxRungs  = 400
	maxLoad   = 1000
	maxWeight = 100
)

// validate reports the first field that makes no sense. Rungs that clash are no matter of the input; see Infeasible.
func validate(p Problem) error {
	for _, check := range []func(Problem) error{validTerm, validLimits, validRungs, validNeeds, validShowcase} {
		if err := check(p); err != nil {
			return err
		}
	}
	return circle(p)
}

func within(field string, v, least, most int, unit string) error {
	if v < least || v > most {
		return &InputError{field, fmt.Sprintf("is %d, want %d to %d %s", v, least, most, unit)}
	}
	return nil
}

func validTerm(p Problem) error {
	if err := within("Weeks", p.Weeks, 1, maxWeeks, "weeks"); err != nil {
		return err
	}
	if err := within("Done", p.Done, 0, p.Weeks, "weeks"); err != nil {
		return err
	}
	for _, list := range []struct {
		field string
		weeks []int
	}{{"Holidays", p.Holidays}, {"Quiet", p.Quiet}} {
		for i, w := range list.weeks {
			if err := within(fmt.Sprintf("%s[%d]", list.field, i), w, 1, p.Weeks, "(a week of the term)"); err != nil {
				return err
			}
		}
	}
	return validLoad("Weights", p.Weights, maxWeight, "(times a point)")
}

func validLoad(field string, l Load, most int, unit string) error {
	for k, v := range l.kinds() {
		if err := within(field+" ("+string(Kinds()[k])+")", v, 0, most, unit); err != nil {
			return err
		}
	}
	return nil
}

func validLimits(p Problem) error {
	l := p.Limits
	for _, f := range []struct {
		field string
		value int
		most  int
		unit  string
	}{{"Limits.MinNew", l.MinNew, maxRungs, "rungs a week"}, {"Limits.MaxNew", l.MaxNew, maxRungs, "rungs a week"}, {"Limits.Revisits", l.Revisits, maxWeeks, "times"}} {
		if err := within(f.field, f.value, 0, f.most, f.unit); err != nil {
			return err
		}
	}
	if l.MaxNew > 0 && l.MinNew > l.MaxNew {
		return &InputError{"Limits.MinNew", fmt.Sprintf("is %d rungs a week, more than Limits.MaxNew, %d", l.MinNew, l.MaxNew)}
	}
	if err := validLoad("Limits.MinLoad", l.MinLoad, maxRungs*maxLoad, "points a week"); err != nil {
		return err
	}
	return validLoad("Limits.MaxLoad", l.MaxLoad, maxRungs*maxLoad, "points a week")
}

func validRungs(p Problem) error {
	if err := within("Rungs", len(p.Rungs), 0, maxRungs, "rungs"); err != nil {
		return err
	}
	seen := map[string]bool{}
	for _, r := range p.Rungs {
		field := "Rungs[" + r.ID + "]"
		if r.ID == "" || seen[r.ID] {
			return &InputError{field, "the id is empty or there twice"}
		}
		seen[r.ID] = true
		for _, f := range []struct {
			name  string
			value int
			most  int
		}{{"Earliest", r.Earliest, p.Weeks}, {"Latest", r.Latest, p.Weeks}, {"Pin", r.Pin, p.Weeks}, {"Taught", r.Taught, p.Done}, {"Was", r.Was, p.Weeks}} {
			if err := within(field+"."+f.name, f.value, 0, f.most, "(a week of the term, and a week that is over if it was taught; 0 for none)"); err != nil {
				return err
			}
		}
		for i, after := range r.Again {
			if err := within(fmt.Sprintf("%s.Again[%d]", field, i), after, 1, maxWeeks, "weeks after"); err != nil {
				return err
			}
		}
		if err := validLoad(field+".Load", r.Load, maxLoad, "points"); err != nil {
			return err
		}
		if err := validLoad(field+".AgainLoad", r.AgainLoad, maxLoad, "points"); err != nil {
			return err
		}
	}
	return nil
}

func validNeeds(p Problem) error {
	known := knownRungs(p)
	for _, r := range p.Rungs {
		for i, n := range r.Needs {
			field := fmt.Sprintf("Rungs[%s].Needs[%d]", r.ID, i)
			if !known[n.ID] {
				return &InputError{field, fmt.Sprintf("there is no rung %q in the term; leave out what was met before it", n.ID)}
			}
			if err := within(field+".Lag", n.Lag, 0, maxWeeks, "weeks"); err != nil {
				return err
			}
		}
	}
	return nil
}

func validShowcase(p Problem) error {
	if err := within("Showcase.Week", p.Showcase.Week, 0, p.Weeks, "(a week of the term; 0 for none)"); err != nil {
		return err
	}
	if err := within("Showcase.Revisits", p.Showcase.Revisits, 0, maxWeeks, "times"); err != nil {
		return err
	}
	known := knownRungs(p)
	for _, id := range p.Showcase.Rungs {
		if !known[id] {
			return &InputError{"Showcase.Rungs", fmt.Sprintf("there is no rung %q in the term; leave out what was met before it", id)}
		}
	}
	return nil
}

func knownRungs(p Problem) map[string]bool {
	known := map[string]bool{}
	for _, r := range p.Rungs {
		known[r.ID] = true
	}
	return known
}

// circle reports rungs that need each other: it follows needs from every rung until one comes again.
func circle(p Problem) error {
	rungs := sortedRungs(p)
	at := map[string]int{}
	for i, r := range rungs {
		at[r.ID] = i
	}
	done := make([]bool, len(rungs))
	var walk []int
	var follow func(i int) []int
	follow = func(i int) []int {
		if from := slices.Index(walk, i); from >= 0 {
			return walk[from:]
		}
		if done[i] {
			return nil
		}
		done[i] = true
		walk = append(walk, i)
		for _, n := range rungs[i].Needs {
			if found := follow(at[n.ID]); found != nil {
				return found
			}
		}
		walk = walk[:len(walk)-1]
		return nil
	}
	for i := range rungs {
		if found := follow(i); found != nil {
			return newCycle(rungs, found)
		}
	}
	return nil
}

func newCycle(rungs []Rung, at []int) *CycleError {
	e := &CycleError{}
	for _, i := range at {
		e.IDs, e.Names = append(e.IDs, rungs[i].ID), append(e.Names, rungs[i].name())
	}
	return e
}

func (r Rung) name() string {
	if r.Name == "" {
		return r.ID
	}
	return r.Name
}

func sortedRungs(p Problem) []Rung {
	rungs := slices.Clone(p.Rungs)
	slices.SortFunc(rungs, func(a, b Rung) int { return cmp.Compare(a.ID, b.ID) })
	return rungs
}
