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

// Forbidden is the first rule that keeps a drill from going home with any child, whatever was seen; ok is false when no
// rule does.
func Forbidden(d Drill) (r Refusal, ok bool) {
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
	case d.Spotters > 0:
		return refuse(d, Spotter, "%s needs a spotter: not at home.", d.Name)
	case d.Dose.Sets < 1 || d.Dose.Repeats < 1 || d.Dose.DaysAWeek < 1 || d.Dose.DaysAWeek > 7:
		return refuse(d, NoDose, "%s has no dose: sets, repeats and days a week must each be at least 1 (days at most 7).", d.Name)
	}
	return Refusal{}, false
}

// refused is the first rule that keeps a drill from this child, load left aside.
func (c Child) refused(d Drill) (r Refusal, ok bool) {
	if r, ok = Forbidden(d); ok {
		return r, ok
	}
	for _, e := range d.Equipment {
		if !slices.Contains(c.Equipment, e) {
			return refuse(d, NotListed, "%s needs equipment that is not on the list for home: %s.", d.Name, e)
		}
	}
	if part := c.Limits.forbids(d.Load); part != "" {
		return refuse(d, CareLimit, "%s loads the %s, which a care limit forbids for now.", d.Name, part)
	}
	if slices.Contains(c.Has, d.ID) {
		return refuse(d, AlreadyHas, "%s is already at home with this child.", d.Name)
	}
	return Refusal{}, false
}

// forbids names what a limit protects from a load. Inversion needs no case: nothing inverted goes home.
func (l Limits) forbids(load Load) string {
	switch {
	case l.AvoidBack && load.Back > 0:
		return "back"
	case l.AvoidWrists && load.Wrists > 0:
		return "wrists"
	case l.AvoidLanding && load.Landing > 0:
		return "landings"
	}
	return ""
}

func refuse(d Drill, rule Rule, format string, args ...any) (Refusal, bool) {
	return Refusal{Drill: d.ID, Rule: rule, Reason: fmt.Sprintf(format, args...)}, true
}
