// Package today is the first page after signing in: what is on, by role.
package today

import (
	"net/http"

	"rungbook/internal/app"
	"rungbook/web/kit"
)

// Handler serves the area.
type Handler struct {
	app *app.App
	kit *kit.Kit
}

// New makes the area.
func New(a *app.App, k *kit.Kit) *Handler { return &Handler{app: a, kit: k} }

// Today shows what is on.
func (h *Handler) Today(w http.ResponseWriter, r *http.Request) error {
	page := h.kit.Page(w, r, "Today", kit.SectionToday)
	return h.kit.Render(w, r, http.StatusOK, todayPage(page))
}
