package people

import (
	"fmt"
	"strconv"

	"rungbook/internal/app"
	"rungbook/internal/studio"
	"rungbook/web/kit"
)

// settingsGroup is a part of the settings with a form of its own: what it decides and where its figures come from, then the fields.
type settingsGroup struct {
	ID, Heading string
	Words       []string
	Rows        []settingsRow
}

// settingsRow is lines of fields side by side; Legend names them together, "" where their labels are enough.
type settingsRow struct {
	Legend string
	Lines  [][]kit.Field
	Check  *kit.CheckField
}

func line(fields ...kit.Field) settingsRow { return settingsRow{Lines: [][]kit.Field{fields}} }

// groupMaker writes the fields of the settings, as they are kept or were typed.
type groupMaker struct {
	kept  studio.Settings
	typed form
	value form // of the group in hand
}

func settingsGroups(s studio.Settings, typed form) []settingsGroup {
	m := &groupMaker{kept: s, typed: typed}
	var all []settingsGroup
	for _, id := range groupIDs() {
		m.value = form{Values: settingsValues(s)}
		if typed.Get("group") == id {
			m.value = typed
		}
		g := m.group(id)
		g.ID = id
		all = append(all, g)
	}
	return all
}

func (m *groupMaker) group(id string) settingsGroup {
	switch id {
	case "secure":
		return settingsGroup{Heading: "When a rung is secure", Words: []string{
			"So many clean marks of the last ones, seen over so many lessons; on a rung with two sides each side for itself, and never while a fault is seen that can hurt.",
			"No published figure says how many are enough for acro. A page that decides from few marks says so."},
			Rows: []settingsRow{line(m.whole("secure-clean", "Clean marks", "", 1, 20), m.whole("secure-window", "Of the last", "marks", 1, 20),
				m.whole("secure-lessons", "Over at least", "lessons", 1, 20))}}
	case "memory":
		return settingsGroup{Heading: "When a secure rung is due another look", Words: []string{
			"The chance that a child still has a rung is taken to halve in so many days unseen. The time grows with each clean mark that comes some days after the last one. Below the share given, the rung is rechecked.",
			"Practice that is spread out lasts longer (Shea and others 2000, for movements); how fast acro skills fade has no published figure."},
			Rows: []settingsRow{
				line(m.whole("memory-first", "Halves first in", "days", 1, 365), m.real("memory-growth", "Then times", "1", "10"), m.whole("memory-most", "At most", "days", 1, 3650)),
				line(m.whole("memory-gap", "A mark counts anew after", "days", 1, 60), m.whole("memory-recheck", "Recheck below", "%", 0, 99))}}
	case "caps":
		return settingsGroup{Heading: "Caps of body load", Words: []string{
			"A turn loads back, wrists and landing 0 (nothing) to 3 (much), as its rung or drill says. No plan goes above the caps of a lesson; those of a week count every class of a child and its drills at home.",
			app.LoadCaution + " A cap never says that what is below it is safe. To leave a band out, empty its age."},
			Rows: m.capsRows()}
	case "stations":
		return settingsGroup{Heading: "At the stations", Words: []string{
			"Without the tick, no plan lets a child work the back hard, or the wrists hard, in two rotations one after the other; hard is a load of 2 or 3 a turn. No published figure.",
			"So many corrections for a child at a station at most. That one or two are enough is common practice, no source."},
			Rows: []settingsRow{{Check: m.tick("hard-in-row", "A child may work the back hard, or the wrists hard, at two stations in a row")},
				line(m.whole("cues", "Corrections at once", "", 1, 4))}}
	case "language":
		return settingsGroup{Heading: "The studio's own language", Words: []string{
			"What you write yourselves (names, steps, messages, notes) is marked as being in this language where a family reads its pages in another, so that it is read out right. Nothing is translated."},
			Rows: []settingsRow{line(kit.Field{Name: "language", Label: "Language tag", Hint: "Such as en-GB or de, as BCP 47 has them.", Value: m.value.Get("language"), Error: m.value.wrong("language"), Short: true,
				Required: true, MaxLength: 35})}}
	case "marks":
		return settingsGroup{Heading: "Marks of assistants", Words: []string{
			"With the tick, what an assistant marks waits until a teacher has confirmed it.",
			"Where two people marked the same turns, their agreement is Cohen's weighted kappa: 0 is what chance gives, 1 is always alike. Below the figure they are asked to mark together again. Its usual bands (Landis and Koch 1977) are arbitrary, by their own words."},
			Rows: []settingsRow{{Check: m.tick("confirm", "Marks of assistants wait for a teacher")}, line(m.real("agreement", "Agreement at least", "0", "1"))}}
	case "home":
		return settingsGroup{Heading: "At home", Words: []string{
			"On how many days a week a drill is done; it counts as that often in the load of a week. No published figure for children's acro.",
			"A teacher may let one child do one drill at home that is not safe alone, with an adult in the room, for so many weeks at most. No published figure; short, so that somebody looks again."},
			Rows: []settingsRow{line(m.whole("home-days", "Days a week", "", 1, 7), m.whole("home-exception", "An exception holds at most", "weeks", 1, studio.MostExceptionWeeks))}}
	case "pacing":
		return m.pacingGroup()
	case "retention":
		return settingsGroup{Heading: "How long things are kept", Words: []string{
			"Once a day the program deletes what has been kept longer. Marks, attendance and the trail stay.",
			"The defaults are ours, and your local rule comes first. Incident records: three years (RIDDOR), and to the 21st birthday, until when a child’s claim can be made (Limitation Act 1980); that the later counts is our inference. A change holds for records written from then on."},
			Rows: m.retentionRows()}
	}
	if id == "sign-in" {
		return m.signInGroup()
	}
	return settingsGroup{Heading: "Adults in the room", Words: []string{
		"One adult, free of spotting, for at most so many children; where ages are mixed, the youngest decides for all.",
		"The defaults are the ratios that the NSPCC recommends as minimums, and never fewer than two adults. A local rule, or the needs of a child, may ask for more; a rule that asks for fewer needs your words below."},
		Rows: m.coverRows()}
}

func (m *groupMaker) whole(field, label, unit string, least, most int) kit.Field {
	return kit.Field{Name: field, Label: label, Unit: unit, Type: "number", Min: strconv.Itoa(least), Max: strconv.Itoa(most), Value: m.value.Get(field),
		Error: m.value.wrong(field), Short: true, Required: true}
}

func (m *groupMaker) real(field, label, least, most string) kit.Field {
	return kit.Field{Name: field, Label: label, Type: "number", Min: least, Max: most, Step: "0.05", Value: m.value.Get(field), Error: m.value.wrong(field), Short: true, Required: true}
}

func (m *groupMaker) tick(field, label string) *kit.CheckField {
	return &kit.CheckField{Name: field, Label: label, Value: "yes", Checked: m.value.ticked(field), Error: m.value.wrong(field)}
}

// optionalWhole is a field of a band that may be left out.
func (m *groupMaker) optionalWhole(field, label, unit string, most int) kit.Field {
	f := m.whole(field, label, unit, 0, most)
	f.Required = false
	return f
}

// capsRows are the bands, and an empty one to add.
func (m *groupMaker) capsRows() []settingsRow {
	var rows []settingsRow
	for i := range min(len(m.kept.Caps)+1, mostBands) {
		no := strconv.Itoa(i)
		rows = append(rows, settingsRow{Legend: m.bandName("caps-age", i), Lines: [][]kit.Field{
			{m.optionalWhole("caps-age-"+no, "From age", "years", 120)}, m.loadFields("caps-lesson-"+no, "in a lesson", 1000), m.loadFields("caps-week-"+no, "in a week", 5000)}})
	}
	return rows
}

func (m *groupMaker) loadFields(field, span string, most int) []kit.Field {
	return []kit.Field{m.optionalWhole(field+"-back", "Back "+span, "", most), m.optionalWhole(field+"-wrists", "Wrists "+span, "", most),
		m.optionalWhole(field+"-landing", "Landing "+span, "", most)}
}

func (m *groupMaker) coverRows() []settingsRow {
	rows := []settingsRow{line(m.whole("cover-adults", "At least", "adults", 1, 20))}
	for i := range min(len(m.kept.Cover.Ratios)+1, mostBands) {
		no := strconv.Itoa(i)
		rows = append(rows, settingsRow{Legend: m.bandName("cover-age", i), Lines: [][]kit.Field{{m.optionalWhole("cover-age-"+no, "From age", "years", 120),
			m.optionalWhole("cover-children-"+no, "One adult for at most", "children", 100)}}})
	}
	return append(rows, line(kit.Field{Name: "cover-words", Label: "The local rule, where it asks for fewer adults", Value: m.value.Get("cover-words"),
		Error: m.value.wrong("cover-words"), MaxLength: 400, Optional: true}))
}

// bandName names an age band as it is kept.
func (m *groupMaker) bandName(field string, i int) string {
	age := func(i int) string { return settingsValues(m.kept).Get(field + "-" + strconv.Itoa(i)) }
	switch from, next := age(i), age(i+1); {
	case from == "":
		return "Another band"
	case next == "":
		return "From " + from + " years"
	default:
		n, _ := strconv.Atoi(next) // it is a whole number of ours
		return fmt.Sprintf("%s to %d years", from, n-1)
	}
}
