package library

import (
	"errors"
	"net/http"
	"net/url"
	"slices"
	"strconv"
	"strings"

	"rungbook/internal/app"
	"rungbook/internal/studio"
	"rungbook/web/kit"
)

// form is a form as it was typed, with what is wrong with it. Field names are those of the library file.
type form struct {
	url.Values
	Errors   []studio.FieldError
	Problem  string // what happened, when it is not about a field
	Conflict bool
	Shelf    app.Shelf
	Shown    *studio.Fault // a fault whose numbers are shown and not saved
}

// value is what stands in a field.
func (f form) value(field string) string { return f.Get(field) }

// ticked reports whether a tick box is on.
func (f form) ticked(field string) bool { return f.Get(field) != "" }

// wrong is what is wrong with a field, or "".
func (f form) wrong(field string) string {
	e := studio.Error{Fields: f.Errors}
	return sentence(e.Problem(field))
}

// status is that of the page: 200 for a fresh form.
func (f form) status() int {
	switch {
	case f.Conflict:
		return http.StatusConflict
	case f.Problem != "":
		return http.StatusUnprocessableEntity
	}
	return http.StatusOK
}

// lines are those of the summary above the form.
func (f form) lines() []kit.FieldError {
	var lines []kit.FieldError
	for _, e := range f.Errors {
		lines = append(lines, kit.FieldError{ID: kit.FieldID(e.Field), Text: fieldWord(e.Field) + ": " + e.Problem})
	}
	if len(lines) == 0 && f.Problem != "" {
		lines = append(lines, kit.FieldError{Text: f.Problem})
	}
	return lines
}

// summary heads the lines.
func (f form) summary() string {
	if len(f.Errors) == 0 {
		return "That was not saved"
	}
	return "Nothing was saved yet: " + kit.Count(len(f.Errors), "field", "fields") + " to look at again"
}

// refused takes up an error that the writer can mend; any other one comes back.
func (f *form) refused(err error) error {
	var e *studio.Error
	if !errors.As(err, &e) || e.Code != studio.Invalid && e.Code != studio.Conflict {
		return err
	}
	f.Problem, f.Errors, f.Conflict = e.Text, e.Fields, e.Code == studio.Conflict
	return nil
}

var fieldWords = map[string]string{
	"name": "Name", "family": "Family", "look": "Look for", "needs": "Needs first", "turn_seconds": "A turn takes", "spotting.people": "Spotters",
	"spotting.manner": "How they stand", "spotting.until": "Until when", "spotting.how": "What they do", "home.safe": "Safe at home", "home.reason": "Why",
	"load.back": "Back", "load.wrists": "Wrists", "load.landing": "Landing", "steps": "Steps", "dose.sets": "Sets", "dose.repeats": "Repeats",
	"dose.hold_seconds": "Hold", "above": "Place", "kind": "Kind", "about": "About", "start": "Start", "finish": "Finish", "caution": "Caution",
	"figure": "Figure", "prepares": "Prepares", "space": "Space", "file": "File",
}

// fieldWord names a field as its label does, more or less.
func fieldWord(field string) string {
	if word, ok := fieldWords[field]; ok {
		return word
	}
	parts := strings.Split(field, ".")
	if n, err := strconv.Atoi(parts[min(1, len(parts)-1)]); err == nil {
		return kit.Capital(parts[0]) + " " + strconv.Itoa(n+1)
	}
	return kit.Capital(strings.ReplaceAll(parts[0], "_", " "))
}

// rows counts the rows of a repeated part, such as equipment.0.key: those that are there and spare empty ones.
func (f form) rows(part string, spare int) []int {
	last := -1
	for name, values := range f.Values {
		rest, ok := strings.CutPrefix(name, part+".")
		number, _, _ := strings.Cut(rest, ".")
		if n, err := strconv.Atoi(number); ok && err == nil && n < rowLimit && n >= 0 && strings.Join(values, "") != "" {
			last = max(last, n)
		}
	}
	var rows []int
	for i := range last + 1 + spare {
		rows = append(rows, i)
	}
	return rows
}

// rowLimit is how many rows a repeated part may have.
const rowLimit = 30

func at(part string, row int, field string) string {
	return part + "." + strconv.Itoa(row) + "." + field
}

// textLines reads a text area with one entry a line.
func textLines(r *kit.Reader, field string, most, longest int, required bool) []string {
	var lines []string
	for line := range strings.Lines(r.Text(field, most*(longest+2), required)) {
		if line = strings.TrimSpace(line); line == "" {
			continue
		}
		if len([]rune(line)) > longest {
			r.Refuse(field, "Each line at most "+strconv.Itoa(longest)+" characters.")
			return nil
		}
		lines = append(lines, line)
	}
	if len(lines) > most {
		r.Refuse(field, "At most "+strconv.Itoa(most)+" lines.")
	}
	return lines
}

// Parts that rungs and drills share.

func readSpotting(r *kit.Reader) studio.Spotting {
	s := studio.Spotting{People: r.Whole("spotting.people", 0, 2), Manner: studio.NoSpotting,
		Until: r.Text("spotting.until", 400, false), How: r.Text("spotting.how", 400, false)}
	if s.People > 0 {
		s.Manner = studio.Manner(r.Choice("spotting.manner", string(studio.Near), string(studio.HandsOn)))
	}
	return s
}

func writeSpotting(v url.Values, s studio.Spotting) {
	v.Set("spotting.people", strconv.Itoa(s.People))
	if s.Manner != studio.NoSpotting {
		v.Set("spotting.manner", string(s.Manner))
	}
	v.Set("spotting.until", s.Until)
	v.Set("spotting.how", s.How)
}

func readLoad(r *kit.Reader) studio.Load {
	return studio.Load{Back: r.Whole("load.back", 0, 3), Wrists: r.Whole("load.wrists", 0, 3), Landing: r.Whole("load.landing", 0, 3)}
}

func writeLoad(v url.Values, l studio.Load) {
	v.Set("load.back", strconv.Itoa(l.Back))
	v.Set("load.wrists", strconv.Itoa(l.Wrists))
	v.Set("load.landing", strconv.Itoa(l.Landing))
}

func readEquipment(r *kit.Reader, f form) []studio.EquipmentNeed {
	var needs []studio.EquipmentNeed
	for _, i := range f.rows("equipment", 0) {
		key := r.Values.Get(at("equipment", i, "key"))
		if key == "" {
			continue
		}
		known := slices.ContainsFunc(f.Shelf.Equipment, func(e studio.Equipment) bool { return e.Key == key })
		twice := slices.ContainsFunc(needs, func(n studio.EquipmentNeed) bool { return n.Key == key })
		if !known || twice {
			r.Refuse(at("equipment", i, "key"), "Choose each kind once, from those offered.")
			continue
		}
		needs = append(needs, studio.EquipmentNeed{Key: key, Count: r.Whole(at("equipment", i, "count"), 1, 50), Places: r.Whole(at("equipment", i, "places"), 1, 50)})
	}
	return needs
}

func writeEquipment(v url.Values, needs []studio.EquipmentNeed) {
	for i, n := range needs {
		v.Set(at("equipment", i, "key"), n.Key)
		v.Set(at("equipment", i, "count"), strconv.Itoa(n.Count))
		v.Set(at("equipment", i, "places"), strconv.Itoa(n.Places))
	}
}

func readHome(r *kit.Reader) studio.HomeSafety {
	return studio.HomeSafety{Safe: r.Tick("home.safe"), Reason: r.Text("home.reason", 300, true)}
}

func writeHome(v url.Values, h studio.HomeSafety) {
	tick(v, "home.safe", h.Safe)
	v.Set("home.reason", h.Reason)
}

func tick(v url.Values, field string, on bool) {
	if on {
		v.Set(field, "yes")
	}
}
