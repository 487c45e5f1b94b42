// Package people is the owner's desk: people and links, terms, classes, equipment, sign-offs, the roster and the trail.
package people

import (
	"net/http"

	"rungbook/internal/app"
	"rungbook/internal/studio"
	"rungbook/web/kit"
)

// Handler serves the area.
type Handler struct {
	app *app.App
	kit *kit.Kit
}

// New makes the area.
func New(a *app.App, k *kit.Kit) *Handler { return &Handler{app: a, kit: k} }

// page is the frame of a page below /studio. The trail begins at the overview for whoever may see that.
func (h *Handler) page(w http.ResponseWriter, r *http.Request, title string, crumbs ...kit.Crumb) kit.Page {
	page := h.kit.Page(w, r, title, kit.SectionStudio)
	if kit.Actor(r).Is(studio.OwnerRole) {
		page.Crumbs = append([]kit.Crumb{{Label: "Studio", URL: "/studio"}}, crumbs...)
	}
	return page
}

// show answers with a page that went well.
func (h *Handler) show(w http.ResponseWriter, r *http.Request, status int, page renderer) error {
	return h.kit.Render(w, r, status, page)
}
