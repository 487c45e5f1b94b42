package studio

import (
	"fmt"
	"regexp"
	"slices"
	"strings"

	"rungbook/internal/figure"
)

var keyPattern = regexp.MustCompile(`^[a-z0-9]+(-[a-z0-9]+)*$`)

// IsKey reports whether text can be the key of a ladder, rung or drill: small letters, digits and single hyphens, at most 60.
func IsKey(text string) bool { return len(text) <= 60 && keyPattern.MatchString(text) }

// Validate checks every ladder and drill by itself and that their keys are unique. Field names the place, such as "hs-hold.look".
// Whether rungs and drills that are named exist, and circles of prerequisites, are judged with the library that they join.
func (l Library) Validate() []FieldError {
	var c checks
	seen := map[string]bool{}
	unique := func(kind, key string) {
		if seen[kind+key] {
			c.refuse(key, "this key is used twice")
		}
		seen[kind+key] = true
	}
	for _, ladder := range l.Ladders {
		unique("ladder ", ladder.Key)
		c.add("", ladder.Validate())
		for _, r := range ladder.Rungs {
			unique("rung ", r.Key)
			c.add(r.Key+".", r.Validate())
		}
	}
	for _, d := range l.Drills {
		unique("drill ", d.Key)
		c.add(d.Key+".", d.Validate())
	}
	return c.errors
}

// Validate checks a ladder's own words, not its rungs.
func (l Ladder) Validate() []FieldError {
	var c checks
	c.key("key", l.Key)
	c.pageWord(l.Key)
	c.text("name", l.Name, 80)
	if !slices.Contains(Families(), l.Family) {
		c.refuse("family", "one of the families that the studio knows")
	}
	return c.errors
}

// Validate checks a rung by itself. Field names are those of the library file.
func (r Rung) Validate() []FieldError {
	var c checks
	c.key("key", r.Key)
	c.text("name", r.Name, 120)
	c.between("turn_seconds", r.TurnSeconds, 5, 180)
	c.load(r.Load)
	c.spotting(r.Spotting)
	c.equipment(r.Equipment)
	c.figure(r.Figure)
	c.home(r.Home, r.Inverted || r.BackBend || r.Flight || r.Spotting.People > 0)
	if slices.Contains(r.Needs, r.Key) {
		c.refuse("needs", "a rung cannot need itself")
	}
	seen := map[string]bool{}
	for _, f := range r.Faults {
		if seen[f.Key] {
			c.refuse("faults."+f.Key, "this fault stands twice")
		}
		seen[f.Key] = true
		c.add("faults."+f.Key+".", f.Validate())
	}
	c.leads(r)
	return c.errors
}

// leads refuses a cause that leads to one that the rung does not have. Circles are judged with the engine that reads them.
func (c *checks) leads(r Rung) {
	for _, f := range r.Faults {
		for _, cause := range f.Causes {
			for _, to := range cause.LeadsTo {
				if !r.hasCause(to) {
					c.refuse("faults."+f.Key+".causes."+cause.Key+".leads_to", "the rung has no cause "+to)
				}
			}
		}
	}
}

func (r Rung) hasCause(key string) bool {
	return slices.ContainsFunc(r.Faults, func(f Fault) bool {
		return slices.ContainsFunc(f.Causes, func(c Cause) bool { return c.Key == key })
	})
}

// Validate checks a fault and its causes.
func (f Fault) Validate() []FieldError {
	var c checks
	c.key("key", f.Key)
	c.text("name", f.Name, 160)
	seen := map[string]bool{}
	for _, cause := range f.Causes {
		if seen[cause.Key] {
			c.refuse("causes."+cause.Key, "this cause stands twice")
		}
		seen[cause.Key] = true
		c.key("causes.key", cause.Key)
		c.text("causes."+cause.Key+".name", cause.Name, 160)
		c.text("causes."+cause.Key+".cue", cause.Cue, 80)
		if cause.Strength <= 0 || cause.Strength > 1 {
			c.refuse("causes."+cause.Key+".strength", "above 0 and at most 1")
		}
		if !(cause.Prior >= 0 && cause.Prior < 1) {
			c.refuse("causes."+cause.Key+".prior", "from 0 to below 1")
		}
		if len([]rune(cause.LookFor)) > 200 {
			c.refuse("causes."+cause.Key+".look_for", "at most 200 characters")
		}
	}
	return c.errors
}

// Validate checks a drill by itself. Field names are those of the library file.
func (d Drill) Validate() []FieldError {
	var c checks
	c.key("key", d.Key)
	c.pageWord(d.Key)
	c.text("name", d.Name, 120)
	if !slices.Contains(DrillKinds(), d.Kind) {
		c.refuse("kind", "warm-up, conditioning, skill or cool-down")
	}
	c.figure(d.Figure)
	if len(d.Steps) == 0 {
		c.refuse("steps", "say at least one step")
	}
	c.between("turn_seconds", d.TurnSeconds, 5, 180)
	c.load(d.Load)
	c.spotting(d.Spotting)
	c.equipment(d.Equipment)
	c.between("dose.sets", d.Dose.Sets, 1, 10)
	c.between("dose.repeats", d.Dose.Repeats, 1, 50)
	c.between("dose.hold_seconds", d.Dose.HoldSeconds, 0, 300)
	c.home(d.Home, d.Inverted || d.BackBend || d.Flight || d.Partner || d.Spotting.People > 0)
	return c.errors
}

// checks collects what is wrong.
type checks struct{ errors []FieldError }

func (c *checks) refuse(field, problem string) {
	c.errors = append(c.errors, FieldError{field, problem})
}

func (c *checks) add(prefix string, errors []FieldError) {
	for _, e := range errors {
		c.refuse(prefix+e.Field, e.Problem)
	}
}

func (c *checks) key(field, v string) {
	if !IsKey(v) {
		c.refuse(field, "small letters, digits and single hyphens, such as hs-hold")
	}
}

func (c *checks) pageWord(key string) {
	if IsPageWord(key) {
		c.refuse("key", "a page of the program has this word; choose another")
	}
}

func (c *checks) text(field, v string, most int) {
	switch n := len([]rune(strings.TrimSpace(v))); {
	case n == 0:
		c.refuse(field, "fill this in")
	case n > most:
		c.refuse(field, fmt.Sprintf("at most %d characters", most))
	}
}

func (c *checks) between(field string, v, least, most int) {
	if v < least || v > most {
		c.refuse(field, fmt.Sprintf("a whole number from %d to %d", least, most))
	}
}

func (c *checks) load(l Load) {
	c.between("load.back", l.Back, 0, 3)
	c.between("load.wrists", l.Wrists, 0, 3)
	c.between("load.landing", l.Landing, 0, 3)
}

func (c *checks) spotting(s Spotting) {
	c.between("spotting.people", s.People, 0, 2)
	if !slices.Contains([]Manner{NoSpotting, Near, HandsOn}, s.Manner) || (s.People == 0) != (s.Manner == NoSpotting) {
		c.refuse("spotting.manner", "none when nobody is needed, else near or hands-on")
	}
}

func (c *checks) equipment(needs []EquipmentNeed) {
	for _, e := range needs {
		c.key("equipment.key", e.Key)
		c.between("equipment.count", e.Count, 1, 50)
		c.between("equipment.places", e.Places, 1, 50)
	}
}

func (c *checks) figure(poses []string) {
	if len(poses) > figure.Most {
		c.refuse("figure", fmt.Sprintf("at most %d poses", figure.Most))
	}
	for _, name := range poses {
		if !figure.Known(name) {
			c.refuse("figure", "there is no pose "+name+"; choose one that the program can draw")
		}
	}
}

func (c *checks) home(h HomeSafety, risky bool) {
	if strings.TrimSpace(h.Reason) == "" {
		c.refuse("home.reason", "say why, whichever it is")
	}
	if h.Safe && risky {
		c.refuse("home.safe", "nothing upside down, bent back over the head, in flight, with a partner or spotted goes home")
	}
}
