package sheet

import (
	"net/http"

	"rungbook/web/kit"
)

// Sheet is the class sheet in the hall.
func (h *Handler) Sheet(w http.ResponseWriter, r *http.Request) error {
	id, err := kit.ID(r, "lesson")
	if err != nil {
		return err
	}
	state, err := h.app.Sheet(r.Context(), kit.Actor(r), id)
	if err != nil {
		return err
	}
	page := h.kit.Page(w, r, state.Class, kit.SectionToday)
	page.Scripts = []string{"js/sheet.js"}
	page.Crumbs = []kit.Crumb{{Label: "Today", URL: "/"}}
	if state.Teacher {
		page.Crumbs = append(page.Crumbs, kit.Crumb{Label: "The lesson", URL: "/lessons/" + id.String()})
	}
	return h.kit.Render(w, r, http.StatusOK, sheetPage(page, newSheetView(state)))
}
