package sheet

import (
	"net/http"
	"time"

	"github.com/google/uuid"
	"rungbook/internal/app"
	"rungbook/internal/studio"
	"rungbook/web/kit"
)

const clockTime = "15:04"

// stopView is the page for when something goes wrong: what to do first, then the record.
type stopView struct {
	First    []string
	MayWrite bool
	Sheet    string
	Action   string
	Problems []kit.FieldError
	When     kit.Field
	Child    kit.ChoiceField
	What     kit.Field
	Done     kit.Field
	Told     kit.Field
	SeenBy   kit.Field
	Records  []recordLink
}

type recordLink struct{ Label, URL string }

// Stop is what to do first when something goes wrong, with the form of the record for teachers.
func (h *Handler) Stop(w http.ResponseWriter, r *http.Request) error {
	id, err := kit.ID(r, "lesson")
	if err != nil {
		return err
	}
	view, err := h.app.Stop(r.Context(), kit.Actor(r), id)
	if err != nil {
		return err
	}
	f := &kit.Reader{Values: map[string][]string{"at": {view.Now.Format(clockTime)}}}
	return h.stop(w, r, view, f, http.StatusOK)
}

func (h *Handler) stop(w http.ResponseWriter, r *http.Request, v app.StopView, f *kit.Reader, status int) error {
	page := h.kit.Page(w, r, "Stop", kit.SectionToday)
	page.Heading = "Stop: what to do first"
	sheet := "/lessons/" + v.Lesson.ID.String() + "/sheet"
	page.Crumbs = []kit.Crumb{{Label: "Today", URL: "/"}, {Label: v.Class + ", class sheet", URL: sheet}}
	return h.kit.Render(w, r, status, stopPage(page, newStopView(v, f, sheet)))
}

func newStopView(v app.StopView, f *kit.Reader, sheet string) stopView {
	area := func(name, label, hint string, rows int) kit.Field {
		return kit.Field{Name: name, Type: "textarea", Label: label, Hint: hint, Value: f.Values.Get(name), Error: f.Problem(name), Required: true, Rows: rows}
	}
	out := stopView{First: v.First, MayWrite: v.MayWrite, Sheet: sheet, Action: "/lessons/" + v.Lesson.ID.String() + "/stop",
		When: kit.Field{Name: "at", Label: "When", Type: "time", Hint: "On the day of the lesson, " + v.Lesson.StartsAt.Format("Monday 2 January") + ".",
			Value: f.Values.Get("at"), Error: f.Problem("at"), Required: true, Short: true},
		Child: kit.ChoiceField{Name: "child", Label: "Who was hurt", Empty: "Nobody, or somebody else", Values: []string{f.Values.Get("child")}, Error: f.Problem("child")},
		What:  area("what", "What happened", "What you saw, in order. Facts, no guesses at the cause.", 4),
		Done:  area("done", "What was done", "First aid, who looked after the child, how it went home.", 3),
		Told:  area("told", "Who was told, and when", "Parents, the owner, emergency services, a doctor.", 2)}
	out.SeenBy = kit.Field{Name: "seen", Label: "Who else saw it", Value: f.Values.Get("seen"), Error: f.Problem("seen"), Optional: true}
	for _, c := range v.Children {
		out.Child.Choices = append(out.Child.Choices, kit.Choice{Value: c.ID.String(), Label: c.Name})
	}
	for _, e := range f.Errors {
		out.Problems = append(out.Problems, kit.FieldError{ID: kit.FieldID(e.Field), Text: e.Problem})
	}
	for _, record := range v.Records {
		out.Records = append(out.Records, recordLink{recordLabel(record), "/incidents/" + record.ID.String()})
	}
	return out
}

func recordLabel(l studio.IncidentLine) string {
	at := inZone(l.HappenedAt, l.TimeZone)
	if l.ChildName == "" {
		return at.Format("2 January, 15:04")
	}
	return at.Format("2 January, 15:04") + ", " + l.ChildName
}

// inZone is a moment in a class's wall time; in UTC where this computer does not know the zone.
func inZone(moment time.Time, zone string) time.Time {
	location, err := time.LoadLocation(zone)
	if err != nil {
		return moment.UTC()
	}
	return moment.In(location)
}

// KeepIncident writes the record.
func (h *Handler) KeepIncident(w http.ResponseWriter, r *http.Request) error {
	id, err := kit.ID(r, "lesson")
	if err != nil {
		return err
	}
	form, err := kit.Form(w, r)
	if err != nil {
		return err
	}
	view, err := h.app.Stop(r.Context(), kit.Actor(r), id)
	if err != nil {
		return err
	}
	f := &kit.Reader{Values: form}
	record := incidentOf(f, view)
	if len(f.Errors) > 0 { // a time or a child that cannot be read
		f.Took(record.Validate(view.Now))
		return h.stop(w, r, view, f, http.StatusUnprocessableEntity)
	}
	made, err := h.app.KeepIncident(r.Context(), kit.Actor(r), record)
	if f.Took(err) {
		return h.stop(w, r, view, f, http.StatusUnprocessableEntity)
	}
	if err != nil {
		return err
	}
	return h.kit.Done(w, r, "The record is kept. It cannot be changed; you can add to it.", "/incidents/"+made.String())
}

// incidentOf reads the record. Its time is on the day of the lesson.
func incidentOf(f *kit.Reader, v app.StopView) studio.Incident {
	i := studio.Incident{LessonID: v.Lesson.ID, What: f.Text("what", 4000, false), Done: f.Text("done", 4000, false), Told: f.Text("told", 2000, false),
		SeenBy: f.Text("seen", 400, false)}
	if clock, err := time.Parse(clockTime, f.Values.Get("at")); err == nil {
		y, m, d := v.Lesson.StartsAt.Date()
		i.HappenedAt = time.Date(y, m, d, clock.Hour(), clock.Minute(), 0, 0, v.Lesson.StartsAt.Location())
	}
	if child := f.Values.Get("child"); child != "" {
		id, err := uuid.Parse(child)
		if err != nil {
			f.Refuse("child", "Choose one of those offered.")
		}
		i.ChildID = &id
	}
	return i
}
