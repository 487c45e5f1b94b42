package home

import (
	"fmt"
	"slices"
)

// Rule names what forbids a drill.
type Rule string

// The rules, in the order in which they are asked.
const (
	NotMarked   Rule = "not marked as safe at home"
	NoReason    Rule = "no reason given"
	Inversion   Rule = "inversion"
	BackBend    Rule = "back-bend"
	Flight      Rule = "flight"
	Partner     Rule = "partner"
	Spotter     Rule = "spotter"
	NotListed   Rule = "equipment"
	NoDose      Rule = "no dose"
	CareLimit   Rule = "care limit"
	AlreadyHas  Rule = "already sent home"
	NoUse       Rule = "answers nothing now"
	WeekLoadCap Rule = "week's load"
)

// Refusal is a drill that does not go home, and the first rule that forbids it.
type Refusal struct {
	Drill  string
	Rule   Rule
	Reason string
}

// unsafe are the rules that an exception for one child lifts.
func unsafe(d Drill) (r Refusal, ok bool) {
	switch {
	case !d.HomeSafe && d.HomeReason != "":
		return refuse(d, NotMarked, "%s is not for home: %s", d.Name, d.HomeReason)
	case !d.HomeSafe:
		return refuse(d, NotMarked, "%s is not marked as safe at home.", d.Name)
	case d.HomeReason == "":
		return refuse(d, NoReason, "%s is marked as safe at home, but nobody wrote why.", d.Name)
	case d.Inverted:
		return refuse(d, Inversion, "%s goes upside down: not at home.", d.Name)
	case d.BackBend:
		return refuse(d, BackBend, "%s bends back over the head: not at home.", d.Name)
	case d.Flight:
		return refuse(d, Flight, "%s leaves the floor: not at home.", d.Name)
	case d.Partner:
		return refuse(d, Partner, "%s needs a partner: not at home.", d.Name)
	}
	return Refusal{}, false
}

// Unliftable is the first rule that no exception lifts: a spotter is needed, since a parent is not signed off; there is no dose; or
// equipment that no home is taken to have. ok is false when no such rule forbids the drill.
func Unliftable(d Drill, equipment []string) (r Refusal, ok bool) {
	switch {
	case d.Spotters > 0:
		return refuse(d, Spotter, "%s needs a spotter: not at home.", d.Name)
	case d.Dose.Sets < 1 || d.Dose.Repeats < 1 || d.Dose.DaysAWeek < 1 || d.Dose.DaysAWeek > 7:
		return refuse(d, NoDose, "%s has no dose: sets, repeats and days a week must each be at least 1 (days at most 7).", d.Name)
	}
	for _, e := range d.Equipment {
		if !slices.Contains(equipment, e) {
			return refuse(d, NotListed, "%s needs equipment that is not on the list for home: %s.", d.Name, e)
		}
	}
	return Refusal{}, false
}

// SafeAlone reports whether no rule that an exception would lift forbids the drill.
func SafeAlone(d Drill) bool {
	_, refused := unsafe(d)
	return !refused
}

// byException reports whether the drill may go home with the child only because an exception lifts a rule.
func (c Child) byException(d Drill) bool { return slices.Contains(c.Excepted, d.ID) && !SafeAlone(d) }

// refused is the first rule that keeps a drill from this child, load left aside.
func (c Child) refused(d Drill) (r Refusal, ok bool) {
	if !c.byException(d) {
		if r, ok = unsafe(d); ok {
			return r, ok
		}
	}
	if r, ok = Unliftable(d, c.Equipment); ok {
		return r, ok
	}
	if part := c.Limits.forbids(d); part != "" {
		return refuse(d, CareLimit, "%s loads the %s, which a care limit forbids for now.", d.Name, part)
	}
	if c.Limits.AvoidInverted && d.Inverted {
		return refuse(d, CareLimit, "%s goes upside down, which a care limit forbids for now.", d.Name)
	}
	if slices.Contains(c.Has, d.ID) {
		return refuse(d, AlreadyHas, "%s is already at home with this child.", d.Name)
	}
	return Refusal{}, false
}

// forbids names the part that a limit protects from the load of a drill.
func (l Limits) forbids(d Drill) string {
	switch {
	case l.AvoidBack && d.Load.Back > 0:
		return "back"
	case l.AvoidWrists && d.Load.Wrists > 0:
		return "wrists"
	case l.AvoidLanding && d.Load.Landing > 0:
		return "landings"
	}
	return ""
}

func refuse(d Drill, rule Rule, format string, args ...any) (Refusal, bool) {
	return Refusal{Drill: d.ID, Rule: rule, Reason: fmt.Sprintf(format, args...)}, true
}
