package sheet

import (
	"net/http"
	"strings"

	"rungbook/internal/app"
	"rungbook/internal/studio"
	"rungbook/web/kit"
)

const fullTime = "Monday 2 January 2006, 15:04"

// incidentView is one record.
type incidentView struct {
	Facts  []kit.Def
	What   []string // paragraphs
	Done   []string
	Told   []string
	Added  []addedView
	Action string
	Field  kit.Field
}

type addedView struct {
	By    string
	Words []string
}

// Incident is one record, with what was added to it.
func (h *Handler) Incident(w http.ResponseWriter, r *http.Request) error {
	return h.incident(w, r, &kit.Reader{}, http.StatusOK)
}

func (h *Handler) incident(w http.ResponseWriter, r *http.Request, f *kit.Reader, status int) error {
	id, err := kit.ID(r, "incident")
	if err != nil {
		return err
	}
	record, err := h.app.Incident(r.Context(), kit.Actor(r), id)
	if err != nil {
		return err
	}
	page := h.kit.Page(w, r, "Incident record", kit.SectionToday)
	page.Heading = "Incident record"
	page.Intro = record.ClassName + ", " + inZone(record.LessonAt, record.TimeZone).Format("Monday 2 January 2006")
	page.Crumbs = []kit.Crumb{{Label: "Today", URL: "/"}, {Label: record.ClassName, URL: "/lessons/" + record.LessonID.String()}}
	if kit.Actor(r).Is(studio.OwnerRole) {
		page.Section = kit.SectionStudio
		page.Crumbs = []kit.Crumb{{Label: "Studio", URL: "/studio"}, {Label: "Incident records", URL: "/studio/incidents"}}
	}
	return h.kit.Render(w, r, status, incidentPage(page, newIncidentView(record, f)))
}

func newIncidentView(r app.IncidentView, f *kit.Reader) incidentView {
	v := incidentView{What: paragraphs(r.What), Done: paragraphs(r.Done), Told: paragraphs(r.Told), Action: "/incidents/" + r.ID.String() + "/add",
		Facts: []kit.Def{{Term: "When", Text: inZone(r.HappenedAt, r.TimeZone).Format(fullTime)}, {Term: "Who was hurt", Text: orElse(r.ChildName, "Nobody is named")}},
		Field: kit.Field{Name: "words", Type: "textarea", Label: "What was learned later", Hint: "How the child is, what a doctor said, what the studio has changed.", Rows: 3, Required: true,
			Value: f.Values.Get("words"), Error: f.Problem("words")}}
	if r.SeenBy != "" {
		v.Facts = append(v.Facts, kit.Def{Term: "Who else saw it", Text: r.SeenBy})
	}
	v.Facts = append(v.Facts, kit.Def{Term: "Written by", Text: orElse(r.WrittenByName, "somebody who is gone") + ", " + inZone(r.WrittenAt, r.TimeZone).Format(fullTime)},
		kit.Def{Term: "Kept until", Text: r.KeepUntil.Format("2 January 2006") + ": three years, or the child’s 21st birthday where that is later"})
	for _, a := range r.Added {
		v.Added = append(v.Added, addedView{orElse(a.WrittenByName, "Somebody who is gone") + ", " + inZone(a.WrittenAt, r.TimeZone).Format(fullTime), paragraphs(a.Words)})
	}
	return v
}

func orElse(text, otherwise string) string {
	if text == "" {
		return otherwise
	}
	return text
}

// paragraphs are the lines of a text.
func paragraphs(text string) []string {
	return strings.FieldsFunc(text, func(r rune) bool { return r == '\n' || r == '\r' })
}

// AddToIncident adds what was learned later.
func (h *Handler) AddToIncident(w http.ResponseWriter, r *http.Request) error {
	id, err := kit.ID(r, "incident")
	if err != nil {
		return err
	}
	form, err := kit.Form(w, r)
	if err != nil {
		return err
	}
	f := &kit.Reader{Values: form}
	err = h.app.AddToIncident(r.Context(), kit.Actor(r), id, form.Get("words"))
	if f.Took(err) {
		return h.incident(w, r, f, http.StatusUnprocessableEntity)
	}
	if err != nil {
		return err
	}
	return h.kit.Done(w, r, "Added to the record.", "/incidents/"+id.String())
}

// Incidents lists every record, for the owner.
func (h *Handler) Incidents(w http.ResponseWriter, r *http.Request) error {
	lines, err := h.app.Incidents(r.Context(), kit.Actor(r))
	if err != nil {
		return err
	}
	page := h.kit.Page(w, r, "Incident records", kit.SectionStudio)
	page.Intro = "What went wrong, what was done, who was told. Reading them is written to the trail."
	page.Crumbs = []kit.Crumb{{Label: "Studio", URL: "/studio"}}
	return h.kit.Render(w, r, http.StatusOK, incidentsPage(page, newIncidentTable(lines)))
}

func newIncidentTable(lines []studio.IncidentLine) kit.TableView {
	t := kit.TableView{Caption: "Incident records, latest first", HideCaption: true,
		Columns: []kit.Column{{Label: "When"}, {Label: "Class"}, {Label: "Who was hurt"}, {Label: "Written by"}, {Label: "Additions", Numeric: true}}}
	for _, l := range lines {
		t.Rows = append(t.Rows, kit.Row{Cells: []kit.Cell{kit.Link(inZone(l.HappenedAt, l.TimeZone).Format("2 January 2006, 15:04"), "/incidents/"+l.ID.String()),
			kit.Text(l.ClassName), kit.Text(orElse(l.ChildName, "nobody is named")), kit.Text(orElse(l.WrittenByName, "somebody who is gone")), kit.Text(kit.Count(l.Additions, "addition", "additions"))}})
	}
	return t
}
