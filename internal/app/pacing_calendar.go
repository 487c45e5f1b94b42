package app

import (
	"time"

	"rungbook/internal/postgres"
	"rungbook/internal/studio"
)

// mostWeeks bounds a term, as the engine does.
const mostWeeks = 60

// TermWeek is a week of a class's term. Day is that of its lesson; Why says why it has none.
type TermWeek struct {
	No       int
	Monday   time.Time
	Day      time.Time
	Lesson   bool
	Why      string
	Over     bool
	Showcase bool // the showcase is in this week
}

// termCalendar is the weeks of a class's term, from the first that has the class's day. Done of them are over; the lessons up to week
// show are before the showcase (0: there is none to come).
type termCalendar struct {
	weeks []TermWeek
	done  int
	show  int
}

func newTermCalendar(page postgres.TermPage, now, today time.Time) termCalendar {
	var c termCalendar
	first := page.Term.StartsOn
	for first.Weekday() != page.Card.Weekday {
		first = first.AddDate(0, 0, 1)
	}
	held := map[time.Time][]studio.Lesson{}
	for _, l := range page.Lessons {
		monday := studio.MondayOf(dayIn(l.StartsAt, page.Card.TimeZone))
		held[monday] = append(held[monday], l)
	}
	for day := first; !day.After(page.Term.EndsOn) && len(c.weeks) < mostWeeks; day = day.AddDate(0, 0, 7) {
		week := TermWeek{No: len(c.weeks) + 1, Monday: studio.MondayOf(day), Day: day, Lesson: true, Over: day.Before(today)}
		week.take(held[week.Monday], page, now)
		c.add(week, page.Term.ShowcaseOn, today)
	}
	return c
}

// take settles whether a week has a lesson: by the lessons that were made for it, else by the holidays.
func (w *TermWeek) take(lessons []studio.Lesson, page postgres.TermPage, now time.Time) {
	for _, l := range lessons {
		if l.CancelledAt == nil {
			w.Day, w.Over = dayIn(l.StartsAt, page.Card.TimeZone), !l.EndsAt().After(now)
			return
		}
	}
	if len(lessons) > 0 {
		w.Lesson, w.Why = false, "cancelled"
		return
	}
	for _, h := range page.Holidays {
		if h.Covers(w.Day) {
			w.Lesson, w.Why = false, h.Name
		}
	}
}

func (c *termCalendar) add(w TermWeek, showcase *time.Time, today time.Time) {
	if w.Over && c.done == w.No-1 {
		c.done = w.No
	}
	if showcase != nil {
		w.Showcase = studio.MondayOf(*showcase).Equal(w.Monday)
		if !showcase.Before(today) && !w.Day.After(*showcase) {
			c.show = w.No
		}
	}
	c.weeks = append(c.weeks, w)
}

// dayIn is the day of a moment in a class's time zone, as midnight UTC.
func dayIn(moment time.Time, zone string) time.Time {
	y, m, d := inZone(moment, zone).Date()
	return time.Date(y, m, d, 0, 0, 0, 0, time.UTC)
}

// number is the week of a Monday: 0 before the first week, one more than there are after the last.
func (c termCalendar) number(monday time.Time) int {
	days := int(monday.Sub(c.weeks[0].Monday).Hours() / 24)
	switch {
	case days < 0:
		return 0
	case days/7 >= len(c.weeks):
		return len(c.weeks) + 1
	}
	return days/7 + 1
}

// monday is the Monday of a week, nil for one that the term has not.
func (c termCalendar) monday(week int) *time.Time {
	if week < 1 || week > len(c.weeks) {
		return nil
	}
	day := c.weeks[week-1].Monday
	return &day
}

// has reports whether the term has the week and it has a lesson.
func (c termCalendar) has(week int) bool {
	return week >= 1 && week <= len(c.weeks) && c.weeks[week-1].Lesson
}

// ahead are the weeks with a lesson to come, up to a week.
func (c termCalendar) ahead(last int) []int {
	var weeks []int
	for _, w := range c.weeks {
		if w.Lesson && w.No > c.done && w.No <= last {
			weeks = append(weeks, w.No)
		}
	}
	return weeks
}
