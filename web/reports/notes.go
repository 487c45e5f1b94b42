package reports

import (
	"errors"
	"net/http"

	"github.com/google/uuid"
	"rungbook/internal/app"
	"rungbook/internal/studio"
	"rungbook/web/kit"
)

// noteForm is what is written to the parents of one child.
type noteForm struct {
	ID, Name, URL string
	Text          string // as typed, or as kept
	Problem       string
	Kept          bool // something is kept
	Seen          string
}

// Notes lists the children of a class with what is written to their parents; who has none comes first.
func (h *Handler) Notes(w http.ResponseWriter, r *http.Request) error {
	class, err := kit.ID(r, "class")
	if err != nil {
		return err
	}
	return h.notesPage(w, r, class, nil)
}

// notesPage shows the notes of a class; typed is a form that was refused.
func (h *Handler) notesPage(w http.ResponseWriter, r *http.Request, class uuid.UUID, typed *noteForm) error {
	report, err := h.app.ReportOf(r.Context(), kit.Actor(r), class)
	if err != nil {
		return err
	}
	url, status := "/reports/"+class.String(), http.StatusOK
	if typed != nil {
		status = http.StatusUnprocessableEntity
	}
	open, kept := noteForms(report, url, typed)
	page := h.kit.Page(w, r, "Notes to parents, "+report.Class, kit.SectionReports)
	page.Crumbs = []kit.Crumb{{Label: "Reports", URL: "/reports"}, {Label: report.Class, URL: url}}
	page.Intro = "What you write stands at the head of the child’s report. Families read it once you release the report; one that was released stays as it was until you release it anew."
	return h.kit.Render(w, r, status, notesPage(page, open, kept))
}

// noteForms are the forms of those without a note, and of those with one.
func noteForms(report app.ReportView, url string, typed *noteForm) (open, kept []noteForm) {
	for _, c := range report.Children {
		f := noteForm{ID: c.ID.String(), Name: c.Name, URL: url + "/" + c.ID.String() + "/note", Text: c.Note, Kept: c.Note != "",
			Seen: "Secured this term: " + names(c.Secured) + ". Working on: " + names(c.Working) + "."}
		if typed != nil && typed.ID == f.ID {
			f.Text, f.Problem = typed.Text, typed.Problem
		}
		if f.Kept {
			kept = append(kept, f)
		} else {
			open = append(open, f)
		}
	}
	return open, kept
}

// WriteNote keeps what is written to the parents of one child.
func (h *Handler) WriteNote(w http.ResponseWriter, r *http.Request) error {
	class, err := kit.ID(r, "class")
	if err != nil {
		return err
	}
	child, err := kit.ID(r, "child")
	if err != nil {
		return err
	}
	values, err := kit.Form(w, r)
	if err != nil {
		return err
	}
	form := kit.Reader{Values: values}
	note := studio.ReportNote{ClassID: class, ChildID: child, Note: form.Text("note", 2000, false)}
	if problem := form.Problem("note"); problem != "" {
		return h.notesPage(w, r, class, &noteForm{ID: child.String(), Text: values.Get("note"), Problem: problem})
	}
	err = h.app.WriteReportNote(r.Context(), kit.Actor(r), note)
	var refused *studio.Error
	if errors.As(err, &refused) && refused.Code == studio.Invalid {
		return h.notesPage(w, r, class, &noteForm{ID: child.String(), Text: values.Get("note"), Problem: refused.Text})
	}
	if err != nil {
		return err
	}
	said := "Kept: it stands in the report."
	if note.Note == "" {
		said = "Taken away: the report holds no note."
	}
	return h.kit.Done(w, r, said, "/reports/"+class.String()+"/notes")
}
