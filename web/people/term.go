package people

import (
	"net/http"
	"strings"
	"time"

	"github.com/google/uuid"
	"rungbook/internal/app"
	"rungbook/internal/studio"
	"rungbook/web/kit"
)

// Terms lists the terms.
func (h *Handler) Terms(w http.ResponseWriter, r *http.Request) error {
	terms, err := h.app.Terms(r.Context(), kit.Actor(r))
	if err != nil {
		return err
	}
	page := h.page(w, r, "Terms")
	page.Intro = "A term says between which days classes meet, and on which days they do not."
	page.Actions = kit.LinkButton(kit.Action{Label: "Add a term", URL: "/studio/terms/new", Icon: "plus"})
	return h.show(w, r, http.StatusOK, listPage(page, nil, termsTable(terms), kit.EmptyState{Title: "No term yet",
		Text: "Begin with the term that is on: its first and last day, its holidays, its showcase. Classes come next.", Button: &kit.Action{Label: "Add a term", URL: "/studio/terms/new"}}))
}

func termsTable(terms []app.TermRecord) kit.TableView {
	t := kit.TableView{Caption: "Terms", HideCaption: true, Columns: []kit.Column{{Label: "Term"}, {Label: "Days"}, {Label: "Holidays"}, {Label: "Showcase"}, {Label: "Classes", Numeric: true}}}
	for _, m := range terms {
		var holidays []string
		for _, h := range m.Holidays {
			holidays = append(holidays, h.Name)
		}
		showcase := "None"
		if m.ShowcaseOn != nil {
			showcase = inWords(*m.ShowcaseOn)
		}
		t.Rows = append(t.Rows, kit.Row{Quiet: m.EndsOn.Before(m.Day.Today), Cells: []kit.Cell{kit.Link(m.Name, termURL(m.ID)),
			kit.Text(termDays(m)), kit.Text(joined(holidays, "None")), kit.Text(showcase), kit.Text(itoa(len(m.Classes)))}})
	}
	return t
}

func termDays(m app.TermRecord) string {
	days := inWords(m.StartsOn) + " to " + inWords(m.EndsOn)
	if m.ArchivedAt != nil {
		days += "; put away"
	}
	return days
}

func termURL(id uuid.UUID) string { return "/studio/terms/" + id.String() }

// termView is a term's page.
type termView struct {
	URL     string
	Known   bool
	Over    bool
	Away    string // since when it has been put away, in words; "" when it is not
	Classes kit.TableView
}

// NewTermPage asks about a new term.
func (h *Handler) NewTermPage(w http.ResponseWriter, r *http.Request) error {
	return h.newTermPage(w, r, form{})
}

func (h *Handler) newTermPage(w http.ResponseWriter, r *http.Request, f form) error {
	page := h.page(w, r, "Add a term", kit.Crumb{Label: "Terms", URL: "/studio/terms"})
	return h.show(w, r, f.status(), termPage(page, termView{URL: "/studio/terms/new"}, f))
}

// AddTerm writes a new term.
func (h *Handler) AddTerm(w http.ResponseWriter, r *http.Request) error {
	var term studio.Term
	var holidays []studio.Holiday
	return h.submit(w, r, func(f *kit.Reader) { term, holidays = readTerm(f) }, func() (done, error) {
		id, err := h.app.AddTerm(r.Context(), kit.Actor(r), term, holidays)
		return done{term.Name + " is added.", termURL(id)}, err
	}, func(f form) error { return h.newTermPage(w, r, f) })
}

func readTerm(f *kit.Reader) (studio.Term, []studio.Holiday) {
	return studio.Term{Name: f.Text("name", 80, true), StartsOn: f.Date("starts_on", true), EndsOn: f.Date("ends_on", true),
		ShowcaseOn: optional(f.Date("showcase_on", false))}, readHolidays(f)
}

// readHolidays reads a line a holiday: first day, last day where it is another one, and a name.
func readHolidays(f *kit.Reader) []studio.Holiday {
	var holidays []studio.Holiday
	for line := range strings.Lines(f.Text("holidays", 4000, false)) {
		words := strings.Fields(line)
		if len(words) == 0 {
			continue
		}
		first, err := time.Parse(time.DateOnly, words[0])
		if err != nil {
			f.Refuse("holidays", "“"+strings.TrimSpace(line)+"” does not begin with a day, such as 2026-10-26.")
			return nil
		}
		last, name := first, words[1:]
		if len(name) > 0 {
			if day, err := time.Parse(time.DateOnly, name[0]); err == nil {
				last, name = day, name[1:]
			}
		}
		holidays = append(holidays, studio.Holiday{Name: strings.Join(name, " "), StartsOn: first, EndsOn: last})
	}
	return holidays
}

func writeHolidays(holidays []studio.Holiday) string {
	var text strings.Builder
	for _, h := range holidays {
		text.WriteString(h.StartsOn.Format(time.DateOnly) + " ")
		if !h.EndsOn.Equal(h.StartsOn) {
			text.WriteString(h.EndsOn.Format(time.DateOnly) + " ")
		}
		text.WriteString(h.Name + "\n")
	}
	return text.String()
}

// Term shows one term.
func (h *Handler) Term(w http.ResponseWriter, r *http.Request) error {
	return h.termRecordPage(w, r, nil)
}

func (h *Handler) termRecordPage(w http.ResponseWriter, r *http.Request, typed *form) error {
	id, err := kit.ID(r, "term")
	if err != nil {
		return err
	}
	m, err := h.app.Term(r.Context(), kit.Actor(r), id)
	if err != nil {
		return err
	}
	page := h.page(w, r, m.Name, kit.Crumb{Label: "Terms", URL: "/studio/terms"})
	f := form{Values: values("name", m.Name, "starts_on", isoDate(&m.StartsOn), "ends_on", isoDate(&m.EndsOn), "showcase_on", isoDate(m.ShowcaseOn), "holidays", writeHolidays(m.Holidays))}
	if typed != nil {
		f = *typed
	}
	v := termView{URL: termURL(id), Known: true, Over: m.EndsOn.Before(m.Day.Today), Away: awayWords(m), Classes: kit.TableView{Caption: "Classes of the term", HideCaption: true, Columns: []kit.Column{{Label: "Class"}, {Label: "Meets"}}}}
	for _, c := range m.Classes {
		v.Classes.Rows = append(v.Classes.Rows, kit.Row{Cells: []kit.Cell{kit.Link(c.Name, classURL(c.ID)), kit.Text(meets(c))}})
	}
	return h.show(w, r, f.status(), termPage(page, v, f))
}

func awayWords(m app.TermRecord) string {
	if m.ArchivedAt == nil {
		return ""
	}
	return "Put away on " + inWords(m.ArchivedAt.In(m.Day.Zone))
}

// SaveTerm changes one term.
func (h *Handler) SaveTerm(w http.ResponseWriter, r *http.Request) error {
	id, err := kit.ID(r, "term")
	if err != nil {
		return err
	}
	var term studio.Term
	var holidays []studio.Holiday
	return h.submit(w, r, func(f *kit.Reader) { term, holidays = readTerm(f) }, func() (done, error) {
		term.ID = id
		return done{"Saved. The lessons of its classes follow when you bring each class's lessons in line.", termURL(id)}, h.app.SaveTerm(r.Context(), kit.Actor(r), term, holidays)
	}, func(f form) error { return h.termRecordPage(w, r, &f) })
}

// DeleteTerm removes a term without classes.
func (h *Handler) DeleteTerm(w http.ResponseWriter, r *http.Request) error {
	id, err := kit.ID(r, "term")
	if err != nil {
		return err
	}
	return h.act(w, r, func(*kit.Reader) (done, error) {
		return done{"The term is removed.", "/studio/terms"}, h.app.DeleteTerm(r.Context(), kit.Actor(r), id)
	})
}
