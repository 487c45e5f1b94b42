package lesson

import (
	"fmt"
	"math/bits"
)

// obvious lists the conflicts that counting shows, without a search.
func (p *problem) obvious() []Conflict {
	for _, look := range []func() []Conflict{
		func() []Conflict { return p.faults }, p.tooFewStations, p.wrongSizes, p.tooFewAdults, p.tooFewLeads, p.childrenWithNothing,
	} {
		if found := look(); len(found) > 0 {
			return found
		}
	}
	return nil
}

func (p *problem) tooFewStations() []Conflict {
	if need := p.groups; min(len(p.stations), p.maxStations) < need {
		return []Conflict{{RuleStation, fmt.Sprintf("%d groups need %d stations at once; there are %d.", need, need, min(len(p.stations), p.maxStations)),
			[]string{"Make fewer groups.", "Let one more ladder or conditioning theme be a station."}}}
	}
	if min(len(p.stations), p.maxStations) < p.rots && !p.in.AllowRepeatStation {
		return []Conflict{{RuleStation, fmt.Sprintf("A group would need %d different stations; there are %d.", p.rots, min(len(p.stations), p.maxStations)),
			[]string{"Plan fewer rotations.", "Let groups come to a station twice.", "Add a station."}}}
	}
	return nil
}

func (p *problem) wrongSizes() []Conflict {
	if p.groups*p.least > p.n || p.groups*p.most < p.n {
		return []Conflict{{RuleGroupSize, fmt.Sprintf("%d children do not go into %d groups of %d to %d.", p.n, p.groups, p.least, p.most),
			[]string{"Change the number of groups.", "Change how small or large a group may be."}}}
	}
	for i, set := range p.together {
		if bits.OnesCount64(set) > p.most {
			return []Conflict{{RuleTogether, fmt.Sprintf("%d children are to stay together with %s; a group holds %d.", bits.OnesCount64(set)-1, p.childName(i), p.most),
				[]string{"Let larger groups be.", "Keep fewer children together."}}}
		}
		for _, j := range members(set) {
			if p.apart[j]&set != 0 {
				return []Conflict{
					{RuleTogether, fmt.Sprintf("%s is to stay with children of whom two are to be kept apart.", p.childName(i)), []string{"Keep fewer children together."}},
					{RuleApart, fmt.Sprintf("%s is to be kept apart from a child who must be in the same group.", p.childName(j)), []string{"Let the two be in one group."}}}
			}
			if p.groupPin[i] != none && p.groupPin[j] != none && p.groupPin[i] != p.groupPin[j] {
				return []Conflict{
					{RuleTogether, fmt.Sprintf("%s and %s are to stay together.", p.childName(i), p.childName(j)), []string{"Let them be in different groups."}},
					{RulePin, "They are pinned to different groups.", []string{"Release one of the two pins."}}}
			}
		}
	}
	return nil
}

func (p *problem) tooFewAdults() []Conflict {
	if p.spare >= 0 {
		return nil
	}
	return []Conflict{{RuleSupervision, fmt.Sprintf("These children need %d adults free of spotting; %d are here.", max(1, p.in.AdultsFreeNeeded), bits.OnesCount32(p.adults)),
		[]string{"Ask another adult to come.", "Take fewer children in this lesson."}}}
}

func (p *problem) tooFewLeads() []Conflict {
	if have := bits.OnesCount32(p.leads) * p.perLead; have < p.groups {
		return []Conflict{{RuleLead, fmt.Sprintf("%d stations at once need somebody each to run them; the people here can run %d.", p.groups, have),
			[]string{"Make fewer groups.", "Let one person run two stations that need no spotting.", "Ask another helper to come."}}}
	}
	return nil
}

// childrenWithNothing names the children who have too few stations where anything at all is allowed.
func (p *problem) childrenWithNothing() []Conflict {
	var out []Conflict
	for i := range p.n {
		open := 0
		for st := range p.stations {
			if len(p.options[i][st]) > 0 {
				open++
			}
		}
		need := p.rots
		if p.in.AllowRepeatStation {
			need = 1
		}
		if open < need {
			out = append(out, Conflict{RuleEligible, fmt.Sprintf("%s has something to do at %d of the stations and needs %d%s.", p.childName(i), open, need, p.closedBy(i)),
				[]string{fmt.Sprintf("Open a drill for %s at one more station.", p.childName(i)), "Plan fewer rotations."}})
		}
	}
	return out
}

// closedBy says which rules keep a child's activities closed.
func (p *problem) closedBy(i int) string {
	c := p.children[i]
	count := map[Rule]int{}
	for _, o := range c.Options {
		count[p.forbids(c, p.actNo[o.ActivityID])]++
	}
	words := ""
	for _, r := range []struct {
		rule  Rule
		words string
	}{{RuleCare, "care limits"}, {RuleLoad, "the load limit"}, {RuleSpotting, "missing spotters"}, {RuleEquipment, "missing equipment"}, {RuleTurn, "the length of a rotation"}} {
		if n := count[r.rule]; n > 0 {
			words += fmt.Sprintf("; %s closes %d activities", r.words, n)
		}
	}
	return words
}

func (p *problem) childName(i int) string { return named(p.children[i].Name, p.children[i].ID) }

func named(name, id string) string {
	if name == "" {
		return id
	}
	return name
}

// family is rules that can be left out of an Input together, to see whether they are in the way.
type family struct {
	rule    Rule
	words   string
	waysOut []string
	without func(Input) Input
}

// families lists what the search for a conflict leaves out, in this order: a rule that is easy to change comes last and
// so is the more likely to be named.
func families() []family {
	return []family{
		{RuleSpotting, "too few people are signed off to spot what these children work at", []string{"Ask somebody signed off to come.", "Open activities that need no spotting."}, withoutSpotting},
		{RuleSupervision, "an adult who spots is not free to watch the room", []string{"Ask another adult to come.", "Open activities that need no spotting."}, func(in Input) Input { in.AdultsFreeNeeded = 0; return in }},
		{RuleEquipment, "the equipment does not go round", []string{"Open activities that use other equipment."}, withoutEquipment},
		{RuleLoad, "what is left of the load limits does not do", []string{"Open activities with less load.", "Plan fewer rotations."}, withoutCaps},
		{RuleHardInRow, "nobody may work the back or the wrists hard twice in a row", []string{"Add a station that is easy on back and wrists."}, func(in Input) Input { in.AllowBackInRow, in.AllowWristsInRow = true, true; return in }},
		{RuleActivities, "only so many different things can go on at once at a station", []string{"Allow one more activity at a station."}, func(in Input) Input { in.MaxActivities = 8; return in }},
		{RuleStation, "a group does not come to a station twice", []string{"Allow it.", "Add a station."}, func(in Input) Input { in.AllowRepeatStation = true; return in }},
		{RuleGroupSize, "groups are between their least and most size", []string{"Allow smaller or larger groups."}, func(in Input) Input { in.GroupMin, in.GroupMax = 1, len(in.Children); return in }},
		{RuleTogether, "some children are to stay together", []string{"Let them be in different groups."}, func(in Input) Input { in.KeepTogether = nil; return in }},
		{RuleApart, "some children are to be kept apart", []string{"Let them be in one group."}, func(in Input) Input { in.KeepApart = nil; return in }},
		{RulePin, "parts of the plan are pinned", []string{"Release a pin."}, func(in Input) Input { in.Pins = Pins{}; return in }},
	}
}

func withoutSpotting(in Input) Input {
	acts := make([]Activity, len(in.Activities))
	for i, a := range in.Activities {
		a.SpottersNeeded = 0
		acts[i] = a
	}
	in.Activities = acts
	return in
}

func withoutEquipment(in Input) Input {
	acts := make([]Activity, len(in.Activities))
	for i, a := range in.Activities {
		a.Equipment = nil
		acts[i] = a
	}
	in.Activities = acts
	return in
}

func withoutCaps(in Input) Input {
	kids := make([]Child, len(in.Children))
	for i, c := range in.Children {
		c.Caps.Back, c.Caps.Wrists, c.Caps.Landing = 1e6, 1e6, 1e6
		kids[i] = c
	}
	in.Children = kids
	return in
}

// whyNone finds a smallest set of rule families in conflict: it leaves out one family after the other, and for good when
// there is still no plan without it (deletion filter). What remains is needed for the conflict, every one of it.
func (s *solver) whyNone(all bool) error {
	if s.ctx.Err() != nil && !all {
		return fmt.Errorf("lesson: no plan found in the time given: %w", s.ctx.Err())
	}
	in, proven := s.p.in, all
	out := &Infeasible{}
	for _, f := range families() {
		less := f.without(in)
		found, sure := s.feasible(less)
		if s.ctx.Err() != nil && !found {
			return &Infeasible{Conflicts: out.Conflicts} // time is up: what was found stands, unproven
		}
		if !found {
			in = less
			proven = proven && sure
			continue
		}
		out.Conflicts = append(out.Conflicts, Conflict{f.rule, upperFirst(f.words) + ".", f.waysOut})
	}
	out.Proven = proven
	return out
}

// feasible reports whether a plan exists, and whether that is sure.
func (s *solver) feasible(in Input) (found, sure bool) {
	p := newProblem(in)
	if len(p.obvious()) > 0 {
		return false, true
	}
	t := newSolver(s.ctx, p)
	t.climbs(2, 200)
	if t.found {
		return true, true
	}
	_, all := t.solve()
	return t.found, t.found || all
}

func upperFirst(s string) string { return string(s[0]-'a'+'A') + s[1:] }
