package standing

import (
	"net/http"

	"rungbook/internal/app"
	"rungbook/internal/studio"
	"rungbook/web/kit"
)

// notesModel is the page of the notes about a child, with what was typed.
type notesModel struct {
	app.NotesView
	Text     string
	Problems kit.Reader
}

// Notes shows what teachers wrote about a child.
func (h *Handler) Notes(w http.ResponseWriter, r *http.Request) error {
	return h.notesPage(w, r, http.StatusOK, notesModel{})
}

func (h *Handler) notesPage(w http.ResponseWriter, r *http.Request, status int, m notesModel) error {
	id, err := kit.ID(r, "child")
	if err != nil {
		return err
	}
	if m.NotesView, err = h.app.NotesOf(r.Context(), kit.Actor(r), id); err != nil {
		return err
	}
	page := h.childPage(w, r, m.ChildHead, m.Name+": notes").WithProblem(m.Problems.Err())
	return h.kit.Render(w, r, status, notesPage(page, m))
}

// WriteNote adds a note about a child.
func (h *Handler) WriteNote(w http.ResponseWriter, r *http.Request) error {
	id, err := kit.ID(r, "child")
	if err != nil {
		return err
	}
	values, err := kit.Form(w, r)
	if err != nil {
		return err
	}
	m := notesModel{Text: values.Get("note")}
	err = h.app.WriteNote(r.Context(), kit.Actor(r), id, m.Text)
	if m.Problems.Took(err) {
		return h.notesPage(w, r, http.StatusUnprocessableEntity, m)
	}
	if err != nil {
		return err
	}
	return h.kit.Done(w, r, "The note is kept.", childURL(id)+"/notes")
}

func noteBy(n studio.ChildNote) string {
	if n.By == "" {
		return "somebody who is gone"
	}
	return n.By
}
