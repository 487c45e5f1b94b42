package family

import (
	"net/http"

	"rungbook/web/kit"
)

// Messages opens what teachers wrote.
func (h *Handler) Messages(w http.ResponseWriter, r *http.Request) error {
	id, err := kit.ID(r, "child")
	if err != nil {
		return err
	}
	view, err := h.app.ReadMessages(r.Context(), kit.Actor(r), id)
	if err != nil {
		return err
	}
	page := h.kit.Page(w, r, kit.Words(r).Say("messages.title", "Name", view.Name), kit.SectionHome)
	page.Crumbs = crumbs(r, kit.Crumb{Label: view.Name, URL: childURL(id)})
	return h.kit.Render(w, r, http.StatusOK, messagesPage(page, view))
}

// Report answers with the released term report of a class.
func (h *Handler) Report(w http.ResponseWriter, r *http.Request) error {
	child, err := kit.ID(r, "child")
	if err != nil {
		return err
	}
	class, err := kit.ID(r, "class")
	if err != nil {
		return err
	}
	file, err := h.app.ReleasedReport(r.Context(), kit.Actor(r), class, child)
	if err != nil {
		return err
	}
	return kit.Download(w, file.Kind, file.Name, file.Body)
}
