package demo

import (
	"sync"
	"time"

	"rungbook/internal/studio"
)

// The classes, named after birds of the shore.
const (
	sandpipers = "Sandpipers"
	terns      = "Terns"
	cormorants = "Cormorants"
	petrels    = "Storm Petrels"
)

// The term, in weeks from the Monday of the week of today.
const (
	weeksBefore = 8
	weeksAfter  = 5
	holidayWeek = -3
)

// course is a class with who takes it and what it works at. After is the number of days from today to its weekday, Sundays left out:
// 0 is the weekday of today.
type course struct {
	name      string
	after     int
	startsAt  string
	minutes   int
	groups    int
	focus     []string
	teachers  []string
	helpers   []string
	knows     []string // rungs that are secure, with all they need, in a gifted child when the term begins
	programme [][]string
}

// courses lists the classes; the first one meets tonight. Programme is the ladders of each lesson, in turn.
func courses() []course {
	return []course{
		{name: terns, after: 0, startsAt: "16:45", minutes: 60, groups: 3,
			focus:    []string{"cartwheel", "handstand", "bridge", "forward-roll"},
			teachers: []string{"Zoë Adeyemi-Hart"}, helpers: []string{"Łucja Wróblewska", absentTonight, expiredSignOff, "Joss Penhale", "D’Arcy Mbeki"},
			knows:     []string{"cw-over-bench", "re-straddle", "hs-return", "ha-arch", "re-shoulders", "fr-crouch", "su-bunny", "br-lift"},
			programme: [][]string{{"cartwheel", "handstand", "forward-roll"}, {"cartwheel", "bridge", "support"}, {"handstand", "bridge", "hollow-arch"}, {"cartwheel", "handstand", "backward-roll"}}},
		{name: sandpipers, after: 1, startsAt: "15:45", minutes: 45, groups: 2,
			focus:    []string{"support", "forward-roll", "hollow-arch", "cartwheel"},
			teachers: []string{"Çağla Demirtaş"}, helpers: []string{"Łucja Wróblewska", "D’Arcy Mbeki"},
			knows:     []string{"su-bear", "ha-tuck", "re-squat", "re-hip"},
			programme: [][]string{{"readiness", "support"}, {"forward-roll", "hollow-arch"}, {"cartwheel", "support"}}},
		{name: cormorants, after: 2, startsAt: "17:30", minutes: 75, groups: 3,
			focus:    []string{"handstand", "round-off", "bridge", "backward-roll"},
			teachers: []string{"Çağla Demirtaş"}, helpers: []string{absentTonight, expiredSignOff},
			knows:     []string{"cw-lunge", "hs-l-shape", "br-straight", "bk-wedge", "ha-hollow", "fr-stand", "ro-push", "hd-place"},
			programme: [][]string{{"handstand", "cartwheel", "bridge"}, {"round-off", "backward-roll", "headstand"}, {"handstand", "bridge", "standing-bridge"}, {"cartwheel", "round-off", "forward-roll"}}},
		{name: petrels, after: 4, startsAt: "18:15", minutes: 60, groups: 2,
			focus:    []string{"standing-bridge", "back-over", "front-over", "no-hands-wheel"},
			teachers: []string{"Marit Ó Faoláin"}, helpers: []string{"Zoë Adeyemi-Hart", expiredSignOff, absentTonight, "Łucja Wróblewska"},
			knows:     []string{"cw-open", "hs-straight", "br-one-leg", "br-lower", "sb-wall-down", "ro-block", "fr-stand"},
			programme: [][]string{{"standing-bridge", "round-off", "handstand"}, {"back-over", "cartwheel", "headstand"}, {"front-over", "standing-bridge", "forearm-stand"}, {"back-over", "no-hands-wheel", "handstand"}}},
	}
}

// studioZone is TimeZone, read from the machine once; UTC where it does not know it.
var studioZone = sync.OnceValue(func() *time.Location {
	zone, err := time.LoadLocation(TimeZone)
	if err != nil {
		return time.UTC
	}
	return zone
})

// dayOf is the day of a moment at the studio, as midnight UTC.
func dayOf(now time.Time) time.Time {
	y, m, d := now.In(studioZone()).Date()
	return time.Date(y, m, d, 0, 0, 0, 0, time.UTC)
}

// weekday is the day of the week on which a course meets, seen from today.
func (c course) weekday(today time.Time) time.Weekday {
	day := today
	for left := c.after; left > 0; {
		day = day.AddDate(0, 0, 1)
		if day.Weekday() != time.Sunday {
			left--
		}
	}
	return day.Weekday()
}

// theTerm is the term in progress around today, with its holiday.
func theTerm(today time.Time) (studio.Term, studio.Holiday) {
	monday := today.AddDate(0, 0, -(int(today.Weekday())+6)%7)
	week := func(n int) time.Time { return monday.AddDate(0, 0, 7*n) }
	showcase := week(weeksAfter).AddDate(0, 0, 5)
	term := studio.Term{Name: "Term of the long tides", StartsOn: week(-weeksBefore), EndsOn: week(weeksAfter).AddDate(0, 0, 6), ShowcaseOn: &showcase}
	return term, studio.Holiday{Name: "Harbour week", StartsOn: week(holidayWeek), EndsOn: week(holidayWeek).AddDate(0, 0, 6)}
}
