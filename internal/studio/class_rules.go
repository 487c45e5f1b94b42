package studio

import (
	"fmt"
	"slices"
	"time"
)

// longestTerm bounds a term, in days.
const longestTerm = 370

// Validate checks a term by itself.
func (t Term) Validate() []FieldError {
	var c checks
	c.text("name", t.Name, 80)
	c.day("starts_on", t.StartsOn)
	c.day("ends_on", t.EndsOn)
	switch {
	case !t.EndsOn.After(t.StartsOn):
		c.refuse("ends_on", "after the first day")
	case t.EndsOn.Sub(t.StartsOn) > longestTerm*24*time.Hour:
		c.refuse("ends_on", fmt.Sprintf("at most %d days after the first", longestTerm))
	}
	if t.ShowcaseOn != nil && (t.ShowcaseOn.Before(t.StartsOn) || t.ShowcaseOn.After(t.EndsOn)) {
		c.refuse("showcase_on", "within the term")
	}
	return c.errors
}

// Validate checks a holiday within its term.
func (h Holiday) Validate(term Term) []FieldError {
	var c checks
	c.text("name", h.Name, 80)
	c.day("starts_on", h.StartsOn)
	c.order("ends_on", h.StartsOn, &h.EndsOn)
	if h.EndsOn.Before(term.StartsOn) || h.StartsOn.After(term.EndsOn) {
		c.refuse("starts_on", "within the term")
	}
	return c.errors
}

// Covers reports whether the holiday covers a day.
func (h Holiday) Covers(day time.Time) bool { return !day.Before(h.StartsOn) && !day.After(h.EndsOn) }

// Validate checks a class by itself.
func (c Class) Validate() []FieldError {
	var k checks
	k.text("name", c.Name, 80)
	k.between("weekday", int(c.Weekday), 0, 6)
	if _, err := time.Parse("15:04", c.StartsAt); err != nil {
		k.refuse("starts_at", "hours and minutes, such as 16:30")
	}
	if _, err := time.LoadLocation(c.TimeZone); err != nil || c.TimeZone == "" || c.TimeZone == "Local" {
		k.refuse("time_zone", "the name of a time zone, such as Europe/Dublin")
	}
	k.between("minutes", c.Minutes, 20, 180)
	k.between("places", c.Places, 1, 60)
	k.between("rotations", c.Rotations, 1, 6)
	k.between("groups", c.Groups, 1, 8)
	k.between("turn_floor", c.TurnFloor, 0, 60)
	k.between("max_activities", c.MaxActivities, 1, 4)
	for _, key := range c.Focus {
		k.key("focus", key)
	}
	return k.errors
}

// Validate checks somebody's place in a class.
func (s ClassStaff) Validate() []FieldError {
	var c checks
	if !slices.Contains([]Duty{TeacherDuty, AssistantDuty}, s.Duty) {
		c.refuse("duty", "choose one of those offered")
	}
	c.day("from_on", s.FromOn)
	c.order("until_on", s.FromOn, s.UntilOn)
	return c.errors
}

// Validate checks a kind of equipment.
func (e Equipment) Validate() []FieldError {
	var c checks
	c.key("key", e.Key)
	c.text("name", e.Name, 80)
	c.between("stock", e.Stock, 0, 500)
	return c.errors
}
