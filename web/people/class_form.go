package people

import (
	"net/http"
	"time"

	"github.com/google/uuid"
	"rungbook/internal/app"
	"rungbook/internal/studio"
	"rungbook/web/kit"
)

// classFormView is what the form of a class chooses from.
type classFormView struct {
	URL, Back string
	Terms     []kit.Choice // empty where the term is fixed
	Ladders   []kit.Choice
}

// NewClassPage asks about a new class.
func (h *Handler) NewClassPage(w http.ResponseWriter, r *http.Request) error {
	return h.newClassPage(w, r, form{Values: classValues(h.app.NewClass())})
}

func (h *Handler) newClassPage(w http.ResponseWriter, r *http.Request, f form) error {
	terms, err := h.app.Terms(r.Context(), kit.Actor(r))
	if err != nil {
		return err
	}
	page := h.page(w, r, "Add a class", kit.Crumb{Label: "Classes", URL: "/studio/classes"})
	if len(terms) == 0 {
		return h.show(w, r, http.StatusOK, listPage(page, nil, kit.TableView{}, kit.EmptyState{Title: "A term comes first",
			Text: "A class meets within a term. Add the term that is on, then come back.", Button: &kit.Action{Label: "Add a term", URL: "/studio/terms/new"}}))
	}
	v := classFormView{URL: "/studio/classes/new", Back: "/studio/classes"}
	for _, t := range terms {
		v.Terms = append(v.Terms, kit.Choice{Value: t.ID.String(), Label: t.Name + ", " + inWords(t.StartsOn) + " to " + inWords(t.EndsOn)})
	}
	if v.Ladders, err = h.ladderChoices(r); err != nil {
		return err
	}
	return h.show(w, r, f.status(), classFormPage(page, v, f))
}

func (h *Handler) ladderChoices(r *http.Request) ([]kit.Choice, error) {
	library, err := h.app.Library(r.Context(), kit.Actor(r))
	var choices []kit.Choice
	for _, l := range library.Ladders {
		choices = append(choices, kit.Choice{Value: l.Key, Label: l.Name})
	}
	return choices, err
}

func classValues(c studio.Class) map[string][]string {
	v := values("name", c.Name, "starts_at", c.StartsAt, "minutes", itoa(c.Minutes), "time_zone", c.TimeZone, "places", itoa(c.Places),
		"rotations", itoa(c.Rotations), "groups", itoa(c.Groups), "turn_floor", itoa(c.TurnFloor), "max_activities", itoa(c.MaxActivities))
	if c.StartsAt != "" {
		v.Set("weekday", itoa(int(c.Weekday)))
	}
	if c.TeacherRoams {
		v.Set("teacher_roams", "yes")
	}
	v["focus"] = c.Focus
	return v
}

func weekdayChoices() []kit.Choice {
	var choices []kit.Choice
	for d := range 7 {
		day := time.Weekday((d + 1) % 7) // Monday first
		choices = append(choices, kit.Choice{Value: itoa(int(day)), Label: day.String()})
	}
	return choices
}

func readClass(f *kit.Reader) studio.Class {
	return studio.Class{Name: f.Text("name", 80, true), Weekday: time.Weekday(f.Whole("weekday", 0, 6)), StartsAt: f.Text("starts_at", 5, true),
		Minutes: f.Whole("minutes", 20, 180), TimeZone: f.Text("time_zone", 60, true), Places: f.Whole("places", 1, 60), Rotations: f.Whole("rotations", 1, 6),
		Groups: f.Whole("groups", 1, 8), TurnFloor: f.Whole("turn_floor", 0, 60), MaxActivities: f.Whole("max_activities", 1, 4), TeacherRoams: f.Tick("teacher_roams"), Focus: f.Values["focus"]}
}

// AddClass writes a new class and makes its lessons.
func (h *Handler) AddClass(w http.ResponseWriter, r *http.Request) error {
	var c studio.Class
	return h.submit(w, r, func(f *kit.Reader) {
		if c = readClass(f); chosen(f, "term") == uuid.Nil {
			f.Refuse("term", "Choose a term.")
		}
		c.TermID = chosen(f, "term")
	}, func() (done, error) {
		id, err := h.app.AddClass(r.Context(), kit.Actor(r), c)
		if err != nil {
			return done{}, err
		}
		change, err := h.app.MakeLessons(r.Context(), kit.Actor(r), id)
		return done{c.Name + " is added with " + kit.Count(change.Made, "lesson", "lessons") + ". Say who takes it.", classURL(id)}, err
	}, func(f form) error { return h.newClassPage(w, r, f) })
}

// EditClassPage asks what changes about a class.
func (h *Handler) EditClassPage(w http.ResponseWriter, r *http.Request) error {
	return h.editClassPage(w, r, nil)
}

func (h *Handler) editClassPage(w http.ResponseWriter, r *http.Request, typed *form) error {
	id, err := kit.ID(r, "class")
	if err != nil {
		return err
	}
	c, err := h.app.ClassRecord(r.Context(), kit.Actor(r), id)
	if err != nil {
		return err
	}
	page := h.page(w, r, "Change "+c.Name, kit.Crumb{Label: "Classes", URL: "/studio/classes"}, kit.Crumb{Label: c.Name, URL: classURL(id)})
	v := classFormView{URL: classURL(id) + "/edit", Back: classURL(id)}
	for _, l := range c.Ladders {
		v.Ladders = append(v.Ladders, kit.Choice{Value: l.Key, Label: l.Name})
	}
	f := form{Values: classValues(c.Class)}
	if typed != nil {
		f = *typed
	}
	return h.show(w, r, f.status(), classFormPage(page, v, f))
}

// SaveClass changes a class and brings its lessons in line.
func (h *Handler) SaveClass(w http.ResponseWriter, r *http.Request) error {
	id, err := kit.ID(r, "class")
	if err != nil {
		return err
	}
	var c studio.Class
	return h.submit(w, r, func(f *kit.Reader) { c = readClass(f) }, func() (done, error) {
		c.ID = id
		if err := h.app.SaveClass(r.Context(), kit.Actor(r), c); err != nil {
			return done{}, err
		}
		change, err := h.app.MakeLessons(r.Context(), kit.Actor(r), id)
		return done{"Saved. " + lessonsChanged(change), classURL(id)}, err
	}, func(f form) error { return h.editClassPage(w, r, &f) })
}

// lessonsChanged says what happened to the lessons of a class.
func lessonsChanged(c app.CalendarChange) string {
	if c.Made+c.Removed+len(c.Kept) == 0 {
		return "Its lessons are in line with the term."
	}
	text := kit.Count(c.Made, "lesson", "lessons") + " made, " + itoa(c.Removed) + " taken out."
	if len(c.Kept) > 0 {
		var days []string
		for _, at := range c.Kept {
			days = append(days, at.Format("2 Jan"))
		}
		text += " Kept, since something is written for them already: " + joined(days, "") + "."
	}
	return text
}
