package lesson

import (
	"net/http"

	"rungbook/web/kit"
)

// Compare shows the plan beside the one before.
func (h *Handler) Compare(w http.ResponseWriter, r *http.Request) error {
	id, err := kit.ID(r, "lesson")
	if err != nil {
		return err
	}
	c, err := h.app.ComparePlan(r.Context(), kit.Actor(r), id)
	if err != nil {
		return err
	}
	view := newCompareView(c)
	page := h.kit.Page(w, r, "Two plans side by side", kit.SectionClasses)
	page.Intro, page.Wide = view.Intro, true
	page.Crumbs = []kit.Crumb{{Label: "Classes", URL: "/classes"}, {Label: c.Class.Name, URL: "/classes/" + c.Class.ID.String()},
		{Label: c.Lesson.StartsAt.Format(day), URL: view.Back}}
	return h.kit.Render(w, r, http.StatusOK, comparePage(page, view))
}
