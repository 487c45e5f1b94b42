package reports

import (
	"fmt"
	"net/http"

	"rungbook/web/kit"
)

// Release lets the families of the children named, or of all the class, read their reports as they are now.
func (h *Handler) Release(w http.ResponseWriter, r *http.Request) error {
	class, err := kit.ID(r, "class")
	if err != nil {
		return err
	}
	values, err := kit.Form(w, r)
	if err != nil {
		return err
	}
	form := kit.Reader{Values: values}
	children := form.IDs("child")
	if err := form.Err(); err != nil {
		return err
	}
	released, err := h.app.ReleaseReports(r.Context(), kit.Actor(r), class, children)
	if err != nil {
		return err
	}
	said := "Released: the family reads it on its home page."
	if released != 1 {
		said = fmt.Sprintf("%d reports are released: each family reads its own on its home page.", released)
	}
	return h.kit.Done(w, r, said, "/reports/"+class.String())
}

// TakeBack keeps a family from reading a report that was released.
func (h *Handler) TakeBack(w http.ResponseWriter, r *http.Request) error {
	class, err := kit.ID(r, "class")
	if err != nil {
		return err
	}
	child, err := kit.ID(r, "child")
	if err != nil {
		return err
	}
	if err := h.app.TakeBackReport(r.Context(), kit.Actor(r), class, child); err != nil {
		return err
	}
	return h.kit.Done(w, r, "Taken back: the family no longer sees it.", "/reports/"+class.String())
}
