package report

import (
	"fmt"
	"io"
	"strings"
	"time"
	"unicode"

	ics "github.com/arran4/golang-ical"
)

// Calendar is a calendar to subscribe to, as iCalendar (RFC 5545, with NAME and REFRESH-INTERVAL of RFC 7986).
type Calendar struct {
	Name   string
	Made   time.Time // now: when events that do not know better were last changed
	Events []Event
}

// Event is one entry. Starts and Ends are moments in the wall time of their zone; AllDay events run from the day of Starts to that of
// Ends, both included. UID is the same for ever, Sequence counts the changes, the last of them at ChangedAt.
type Event struct {
	UID, Title, Where, Note string
	Starts, Ends            time.Time
	AllDay                  bool
	Sequence                int
	ChangedAt               time.Time
	CalledOff               bool
}

const (
	icsMoment = "20060102T150405"
	icsDay    = "20060102"
	productID = "-//Rungbook//Family calendar//EN"
	askAgain  = "PT6H" // how often calendar programs are asked to look
)

// WriteICS writes a calendar, lines ended by CR LF and folded at 75 octets. It has no METHOD: it is for subscribing, not for answering.
func WriteICS(w io.Writer, c Calendar) error {
	cal := ics.NewCalendarFor("")
	cal.SetProductId(productID)
	cal.SetName(oneLine(c.Name))
	cal.SetRefreshInterval(askAgain, ics.WithValue(string(ics.ValueDataTypeDuration)))
	for _, z := range zonesOf(c.Events) {
		z.addTo(cal)
	}
	for _, e := range c.Events {
		e.addTo(cal, c.Made)
	}
	if err := cal.SerializeTo(w, ics.WithNewLineWindows); err != nil {
		return fmt.Errorf("write a calendar: %w", err)
	}
	return nil
}

func (e Event) addTo(cal *ics.Calendar, made time.Time) {
	event := cal.AddEvent(e.UID)
	changed := e.ChangedAt
	if changed.IsZero() {
		changed = made
	}
	event.SetDtStampTime(changed)
	event.SetSequence(e.Sequence)
	event.SetSummary(oneLine(e.Title))
	event.SetStatus(ics.ObjectStatusConfirmed)
	if e.CalledOff {
		event.SetStatus(ics.ObjectStatusCancelled)
	}
	if e.Where != "" {
		event.SetLocation(oneLine(e.Where))
	}
	if e.Note != "" {
		event.SetDescription(oneLine(e.Note))
	}
	if e.AllDay {
		event.SetProperty(ics.ComponentPropertyDtStart, e.Starts.Format(icsDay), ics.WithValue(string(ics.ValueDataTypeDate)))
		event.SetProperty(ics.ComponentPropertyDtEnd, e.Ends.AddDate(0, 0, 1).Format(icsDay), ics.WithValue(string(ics.ValueDataTypeDate))) // the end is not included
		event.SetTimeTransparency(ics.TransparencyTransparent)
		return
	}
	setMoment(event, ics.ComponentPropertyDtStart, e.Starts)
	setMoment(event, ics.ComponentPropertyDtEnd, e.Ends)
}

// setMoment writes wall time with its zone; UTC needs none.
func setMoment(event *ics.VEvent, property ics.ComponentProperty, at time.Time) {
	if isUTC(at.Location()) {
		event.SetProperty(property, at.UTC().Format(icsMoment)+"Z")
		return
	}
	event.SetProperty(property, at.Format(icsMoment), ics.WithTZID(at.Location().String()))
}

// oneLine keeps text from holding a line of its own: control characters become spaces. The library escapes the rest.
func oneLine(text string) string {
	text = strings.Map(func(r rune) rune {
		if unicode.IsControl(r) || r == '\u2028' || r == '\u2029' {
			return ' '
		}
		return r
	}, text)
	return strings.Join(strings.Fields(text), " ")
}
