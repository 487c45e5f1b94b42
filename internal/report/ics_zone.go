package report

import (
	"fmt"
	"time"

	ics "github.com/arran4/golang-ical"
)

// icsZone is a time zone as a calendar tells it (RFC 5545, 3.6.5): each period of one offset that the events touch.
type icsZone struct {
	name    string
	periods []zonePeriod
}

// zonePeriod begins at a moment: clocks go from one offset to another, in seconds east of UTC.
type zonePeriod struct {
	begins   time.Time
	from, to int
	name     string
	daylight bool
}

func isUTC(zone *time.Location) bool { return zone == time.UTC || zone.String() == "UTC" }

// zonesOf lists the zones of events in the order in which they are met, each over the time that its events span.
func zonesOf(events []Event) []icsZone {
	type span struct{ first, last time.Time }
	spans := map[string]span{}
	var names []string
	for _, e := range events {
		if e.AllDay || isUTC(e.Starts.Location()) {
			continue
		}
		name := e.Starts.Location().String()
		s, met := spans[name]
		if !met {
			names = append(names, name)
			s = span{e.Starts, e.Ends}
		}
		if e.Starts.Before(s.first) {
			s.first = e.Starts
		}
		if e.Ends.After(s.last) {
			s.last = e.Ends
		}
		spans[name] = s
	}
	var zones []icsZone
	for _, name := range names {
		zones = append(zones, icsZone{name, periodsBetween(spans[name].first, spans[name].last)})
	}
	return zones
}

// periodsBetween lists the periods of one offset from the one that holds first to the one that holds last, and the one after it, for
// lessons that are added before the calendar is asked for again.
func periodsBetween(first, last time.Time) []zonePeriod {
	var periods []zonePeriod
	for at := first; ; {
		begins, ends := at.ZoneBounds()
		periods = append(periods, periodAt(at, begins))
		if ends.IsZero() || begins.After(last) {
			return periods
		}
		at = ends
	}
}

// periodAt is the period that holds a moment; begins is the zero time for one that has always been.
func periodAt(at, begins time.Time) zonePeriod {
	name, to := at.Zone()
	p := zonePeriod{begins: begins, from: to, to: to, name: name, daylight: at.IsDST()}
	if begins.IsZero() {
		p.begins = time.Date(1970, 1, 1, 0, 0, 0, 0, time.FixedZone(name, to))
		return p
	}
	_, p.from = begins.Add(-time.Second).Zone()
	return p
}

func (z icsZone) addTo(cal *ics.Calendar) {
	zone := cal.AddTimezone(z.name)
	for _, p := range z.periods {
		base := ics.ComponentBase{}
		// The onset is told in the wall time that clocks showed until then.
		base.SetProperty(ics.ComponentPropertyDtStart, p.begins.In(time.FixedZone("", p.from)).Format(icsMoment))
		base.SetProperty("TZOFFSETFROM", offsetText(p.from))
		base.SetProperty("TZOFFSETTO", offsetText(p.to))
		base.SetProperty("TZNAME", p.name)
		if p.daylight {
			zone.Components = append(zone.Components, &ics.Daylight{ComponentBase: base})
		} else {
			zone.Components = append(zone.Components, &ics.Standard{ComponentBase: base})
		}
	}
}

// offsetText is an offset as "+0100", with seconds only where there are any.
func offsetText(seconds int) string {
	sign := '+'
	if seconds < 0 {
		sign, seconds = '-', -seconds
	}
	text := fmt.Sprintf("%c%02d%02d", sign, seconds/3600, seconds/60%60)
	if seconds%60 != 0 {
		text += fmt.Sprintf("%02d", seconds%60)
	}
	return text
}
