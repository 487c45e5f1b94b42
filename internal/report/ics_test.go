package report

import (
	"bytes"
	"os/exec"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"
	"unicode/utf8"
)

// What is read here by hand is RFC 5545, "Internet Calendaring and Scheduling Core Object Specification", by section. The reader shares
// no code with the library that writes.

// icsLine is a content line (3.1): a name, parameters and a value.
type icsLine struct {
	name, value string
	params      map[string]string
}

// icsPart is a component (3.6) with its lines and the components inside.
type icsPart struct {
	name  string
	lines []icsLine
	parts []*icsPart
}

func (p *icsPart) one(t *testing.T, name string) icsLine {
	t.Helper()
	var found []icsLine
	for _, l := range p.lines {
		if l.name == name {
			found = append(found, l)
		}
	}
	if len(found) != 1 {
		t.Fatalf("%s has %d lines %s, want one", p.name, len(found), name)
	}
	return found[0]
}

func (p *icsPart) all(name string) []*icsPart {
	var found []*icsPart
	for _, part := range p.parts {
		if part.name == name {
			found = append(found, part)
		}
	}
	return found
}

// readICS checks lines and nesting, and takes the file apart.
func readICS(t *testing.T, file []byte) *icsPart {
	t.Helper()
	if !utf8.Valid(file) { // 3.1.4: the default charset is UTF-8
		t.Fatal("not UTF-8")
	}
	text := string(file)
	if strings.Count(text, "\n") != strings.Count(text, "\r\n") || strings.Count(text, "\r") != strings.Count(text, "\r\n") || !strings.HasSuffix(text, "\r\n") {
		t.Fatal("3.1: lines end in CR LF, and no line end stands alone")
	}
	for _, line := range strings.Split(text, "\r\n") {
		if len(line) > 75 {
			t.Fatalf("3.1: a line of %d octets, at most 75 may be", len(line))
		}
		if !utf8.ValidString(line) {
			t.Fatalf("3.1: folding cut a letter in two: %q", line)
		}
	}
	top := &icsPart{}
	open := []*icsPart{top}
	for _, line := range strings.Split(strings.TrimSuffix(strings.ReplaceAll(text, "\r\n ", ""), "\r\n"), "\r\n") { // 3.1: unfolding
		head, value, ok := strings.Cut(line, ":")
		if !ok {
			t.Fatalf("3.1: %q is no content line", line)
		}
		words := strings.Split(head, ";")
		l := icsLine{name: words[0], value: value, params: map[string]string{}}
		for _, w := range words[1:] {
			name, v, _ := strings.Cut(w, "=")
			l.params[name] = v
		}
		last := open[len(open)-1]
		switch l.name {
		case "BEGIN":
			part := &icsPart{name: value}
			last.parts = append(last.parts, part)
			open = append(open, part)
		case "END":
			if value != last.name {
				t.Fatalf("3.6: END:%s within %s", value, last.name)
			}
			open = open[:len(open)-1]
		default:
			last.lines = append(last.lines, l)
		}
	}
	if len(open) != 1 || len(top.parts) != 1 || top.parts[0].name != "VCALENDAR" {
		t.Fatal("3.4: one iCalendar object begins and ends the file")
	}
	return top.parts[0]
}

// unescape reads TEXT (3.3.11).
func unescape(s string) string {
	return strings.NewReplacer(`\\`, `\`, `\n`, "\n", `\N`, "\n", `\;`, ";", `\,`, ",").Replace(s)
}

// momentOf reads a DATE-TIME (3.3.5) by the VTIMEZONE of the same file alone: the offset is that of the latest onset (3.6.5).
func momentOf(t *testing.T, cal *icsPart, l icsLine) time.Time {
	t.Helper()
	if text, utc := strings.CutSuffix(l.value, "Z"); utc {
		at, err := time.Parse(icsMoment, text)
		if err != nil || l.params["TZID"] != "" {
			t.Fatalf("3.3.5: %q in UTC: %v", l.value, err)
		}
		return at
	}
	wall, err := time.Parse(icsMoment, l.value)
	if err != nil {
		t.Fatalf("3.3.5: %v", err)
	}
	for _, zone := range cal.all("VTIMEZONE") {
		if zone.one(t, "TZID").value != l.params["TZID"] {
			continue
		}
		var latest time.Time
		offset, known := 0, false
		for _, p := range zone.parts {
			onset, err := time.Parse(icsMoment, p.one(t, "DTSTART").value)
			if err != nil || len(p.one(t, "DTSTART").params) > 0 {
				t.Fatalf("3.6.5: an onset is plain local time: %v", err)
			}
			p.one(t, "TZOFFSETFROM")
			if !onset.After(wall) && (!known || onset.After(latest)) {
				latest, offset, known = onset, offsetOf(t, p.one(t, "TZOFFSETTO").value), true
			}
		}
		if !known {
			t.Fatalf("3.6.5: no period of %s holds %s", l.params["TZID"], l.value)
		}
		return wall.Add(-time.Duration(offset) * time.Second)
	}
	t.Fatalf("3.2.19: TZID %q has no VTIMEZONE", l.params["TZID"])
	return time.Time{}
}

// offsetOf reads a UTC-OFFSET (3.3.14).
func offsetOf(t *testing.T, text string) int {
	t.Helper()
	if len(text) != 5 || text == "-0000" {
		t.Fatalf("3.3.14: %q", text)
	}
	hours, err := strconv.Atoi(text[1:3])
	if err != nil {
		t.Fatal(err)
	}
	minutes, err := strconv.Atoi(text[3:])
	if err != nil {
		t.Fatal(err)
	}
	seconds := hours*3600 + minutes*60
	if text[0] == '-' {
		return -seconds
	}
	return seconds
}

func wall(t *testing.T, zone string, y int, m time.Month, d, hour, minute int) time.Time {
	t.Helper()
	z, err := time.LoadLocation(zone)
	if err != nil {
		t.Fatal(err)
	}
	return time.Date(y, m, d, hour, minute, 0, 0, z)
}

// family is a calendar with all that one can hold: lessons on both sides of a clock change, one called off, days, and odd texts.
func family(t *testing.T) Calendar {
	before, after := wall(t, "Europe/London", 2026, 3, 25, 16, 45), wall(t, "Europe/London", 2026, 4, 1, 16, 45)
	return Calendar{Name: "Tidebell: Elowen, Jago", Made: time.Date(2026, 3, 4, 17, 0, 0, 0, time.UTC), Events: []Event{
		{UID: "00000000-0000-4000-8000-000000000001", Title: "Terns: Elowen", Where: "Tidebell Dance Studio", Starts: before, Ends: before.Add(time.Hour), Sequence: 0, ChangedAt: before.AddDate(0, -1, 0)},
		{UID: "00000000-0000-4000-8000-000000000002", Title: "Terns: Elowen", Starts: after, Ends: after.Add(time.Hour), Sequence: 2, ChangedAt: before, CalledOff: true},
		{UID: "00000000-0000-4000-8000-000000000003-showcase", Title: "Showcase; bring: a back\\pack, water\r\nEND:VCALENDAR", AllDay: true, Starts: time.Date(2026, 4, 11, 0, 0, 0, 0, time.UTC), Ends: time.Date(2026, 4, 11, 0, 0, 0, 0, time.UTC)},
		{UID: "00000000-0000-4000-8000-000000000004", Title: "No lessons: " + strings.Repeat("Çağrı Yıldız und Bảo Châu 🐚 ", 12), AllDay: true, Starts: time.Date(2026, 4, 13, 0, 0, 0, 0, time.UTC), Ends: time.Date(2026, 4, 19, 0, 0, 0, 0, time.UTC)},
		{UID: "00000000-0000-4000-8000-000000000005", Title: "In UTC", Starts: time.Date(2026, 4, 20, 9, 0, 0, 0, time.UTC), Ends: time.Date(2026, 4, 20, 10, 0, 0, 0, time.UTC)},
	}}
}

func writeICS(t *testing.T, c Calendar) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := WriteICS(&b, c); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func TestACalendarIsWhatTheStandardAsksFor(t *testing.T) {
	c := family(t)
	cal := readICS(t, writeICS(t, c))
	if v := cal.one(t, "VERSION").value; v != "2.0" { // 3.7.4
		t.Errorf("VERSION is %q", v)
	}
	if cal.one(t, "PRODID").value == "" { // 3.7.3
		t.Error("no PRODID")
	}
	if slices.ContainsFunc(cal.lines, func(l icsLine) bool { return l.name == "METHOD" }) { // 3.7.2; RFC 5546, 3.2.1 would ask for an organiser
		t.Error("a METHOD makes it a letter that wants an organiser")
	}
	if l := cal.one(t, "REFRESH-INTERVAL"); l.params["VALUE"] != "DURATION" || l.value != "PT6H" { // RFC 7986, 5.7
		t.Errorf("REFRESH-INTERVAL is %+v", l)
	}
	if l := cal.one(t, "NAME"); unescape(l.value) != c.Name { // RFC 7986, 5.1
		t.Errorf("NAME is %+v", l)
	}
	events := cal.all("VEVENT")
	if len(events) != len(c.Events) {
		t.Fatalf("%d events, want %d", len(events), len(c.Events))
	}
	met := map[string]bool{}
	for i, e := range events {
		want := c.Events[i]
		if uid := e.one(t, "UID").value; uid != want.UID || met[uid] { // 3.8.4.7: one for each, for ever
			t.Errorf("UID is %q", uid)
		}
		met[want.UID] = true
		if l := e.one(t, "DTSTAMP"); !strings.HasSuffix(l.value, "Z") { // 3.8.7.2: in UTC
			t.Errorf("DTSTAMP is %q", l.value)
		}
		if l := e.one(t, "SEQUENCE"); l.value != strconv.Itoa(want.Sequence) { // 3.8.7.4
			t.Errorf("SEQUENCE is %q", l.value)
		}
		status := map[bool]string{true: "CANCELLED", false: "CONFIRMED"}[want.CalledOff] // 3.8.1.11
		if l := e.one(t, "STATUS"); l.value != status {
			t.Errorf("STATUS is %q, want %q", l.value, status)
		}
		if want.AllDay { // 3.6.1: the end of a DATE is not included
			from, to := e.one(t, "DTSTART"), e.one(t, "DTEND")
			if from.params["VALUE"] != "DATE" || to.params["VALUE"] != "DATE" || from.value != want.Starts.Format("20060102") || to.value != want.Ends.AddDate(0, 0, 1).Format("20060102") {
				t.Errorf("the day runs from %+v to %+v", from, to)
			}
			continue
		}
		if got := momentOf(t, cal, e.one(t, "DTSTART")); !got.Equal(want.Starts) {
			t.Errorf("%s starts at %s, want %s", want.UID, got, want.Starts)
		}
		if got := momentOf(t, cal, e.one(t, "DTEND")); !got.Equal(want.Ends) {
			t.Errorf("%s ends at %s, want %s", want.UID, got, want.Ends)
		}
	}
	if got := unescape(events[2].one(t, "SUMMARY").value); got != `Showcase; bring: a back\pack, water END:VCALENDAR` { // 3.3.11: no text begins a line
		t.Errorf("the text became %q", got)
	}
	if got := unescape(events[3].one(t, "SUMMARY").value); got != strings.TrimSpace(c.Events[3].Title) {
		t.Errorf("the folded text became %q", got)
	}
	if !bytes.Equal(writeICS(t, c), writeICS(t, c)) {
		t.Error("asked twice, it differs")
	}
}

// Wall time comes back as the same moment all through the years 2026 and 2027, read by the written zone alone: zones that go forward in
// spring, in October, by half an hour, and not at all, one with a quarter of an hour and one far east.
func TestZonesTellTheSameMoments(t *testing.T) {
	for _, name := range []string{"Europe/London", "America/St_Johns", "America/New_York", "Australia/Lord_Howe", "Pacific/Auckland", "Asia/Kolkata", "Asia/Kathmandu", "Pacific/Kiritimati", "Africa/Casablanca"} {
		c := Calendar{Name: name, Made: time.Now()}
		for day := range 105 {
			start := wall(t, name, 2026, 1, 2+7*day, 16, 30)
			c.Events = append(c.Events, Event{UID: strconv.Itoa(day), Title: name, Starts: start, Ends: start.Add(time.Hour)})
		}
		cal := readICS(t, writeICS(t, c))
		for i, e := range cal.all("VEVENT") {
			if got := momentOf(t, cal, e.one(t, "DTSTART")); !got.Equal(c.Events[i].Starts) {
				t.Errorf("%s: %s became %s", name, c.Events[i].Starts, got.In(c.Events[i].Starts.Location()))
			}
			if l := e.one(t, "DTSTART"); !strings.HasSuffix(l.value, "T163000") {
				t.Errorf("%s: the wall time became %s", name, l.value)
			}
		}
		for _, p := range cal.all("VTIMEZONE")[0].parts {
			if p.name != "STANDARD" && p.name != "DAYLIGHT" { // 3.6.5
				t.Errorf("%s has a part %s", name, p.name)
			}
		}
	}
}

// readByPython prints what the general-purpose icalendar library for Python reads: uid, start in UTC, status, sequence, title.
const readByPython = `
import sys, icalendar, datetime
cal = icalendar.Calendar.from_ical(sys.stdin.buffer.read())
for e in cal.walk("VEVENT"):
    at = e["DTSTART"].dt
    when = at.astimezone(datetime.timezone.utc).strftime("%Y-%m-%dT%H:%M:%SZ") if isinstance(at, datetime.datetime) else at.isoformat()
    print("|".join([str(e["UID"]), when, str(e["STATUS"]), str(e["SEQUENCE"]), str(e["SUMMARY"])]))
`

func TestAnotherProgramReadsTheSame(t *testing.T) {
	python := ""
	for _, candidate := range []string{"python3", "/usr/bin/python3"} { // the system's own has Debian's libraries
		if exec.Command(candidate, "-c", "import icalendar").Run() == nil {
			python = candidate
		}
	}
	if python == "" {
		t.Skip("the Python library icalendar is not installed (Debian: python3-icalendar)")
	}
	c := family(t)
	read := exec.Command(python, "-c", readByPython)
	read.Stdin = bytes.NewReader(writeICS(t, c))
	out, err := read.CombinedOutput()
	if err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	var want []string
	for _, e := range c.Events {
		when := e.Starts.UTC().Format(time.RFC3339)
		if e.AllDay {
			when = e.Starts.Format(time.DateOnly)
		}
		status := map[bool]string{true: "CANCELLED", false: "CONFIRMED"}[e.CalledOff]
		want = append(want, strings.Join([]string{e.UID, when, status, strconv.Itoa(e.Sequence), oneLine(e.Title)}, "|"))
	}
	if got := strings.TrimSpace(string(out)); got != strings.Join(want, "\n") {
		t.Errorf("read\n%s\nwant\n%s", got, strings.Join(want, "\n"))
	}
}
