// Package library is the skill library: ladders, rungs, faults and drills to read and to edit, and its exchange as files.
package library

import (
	"net/http"

	"github.com/a-h/templ"
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

// Ladders shows all ladders by family.
func (h *Handler) Ladders(w http.ResponseWriter, r *http.Request) error {
	shelf, err := h.app.Shelf(r.Context(), kit.Actor(r))
	if err != nil {
		return err
	}
	view := newLaddersView(shelf, h.mayEdit(r))
	page := h.page(w, r, "Ladders")
	page.Intro = view.Count
	page.Actions = laddersActions(view)
	return h.kit.Render(w, r, http.StatusOK, laddersPage(page, view))
}

// Ladder shows one ladder, drawn, with the facts of its rungs, the map of what they need, and how the actor's classes are spread over
// it; ?map=whole draws everything that the rungs need, near or far.
func (h *Handler) Ladder(w http.ResponseWriter, r *http.Request) error {
	key, err := kit.Key(r, "ladder")
	if err != nil {
		return err
	}
	found, err := h.app.LadderPageOf(r.Context(), kit.Actor(r), key, r.URL.Query().Get("map") == "whole")
	if err != nil {
		return err
	}
	view := newLadderView(found.Shelf, found.Ladder, h.mayEdit(r))
	view.Map, view.Classes = found.Map, found.Classes
	page := h.page(w, r, found.Ladder.Name, laddersCrumb)
	page.Intro = found.Ladder.About
	if view.Edit {
		page.Actions = ladderActions(view)
	}
	return h.kit.Render(w, r, http.StatusOK, ladderPage(page, view))
}

// Rung shows one rung with everything that is known of it.
func (h *Handler) Rung(w http.ResponseWriter, r *http.Request) error {
	shelf, key, err := h.shelf(r, "rung")
	if err != nil {
		return err
	}
	rung, ok := shelf.Rung(key)
	if !ok {
		return studio.Missing()
	}
	view := newRungView(shelf, rung, h.mayEdit(r))
	page := h.page(w, r, rung.Name, laddersCrumb, ladderCrumb(rung.Ladder))
	page.Intro = view.Place
	if view.Edit {
		page.Actions = rungActions(view)
	}
	return h.kit.Render(w, r, http.StatusOK, rungPage(page, view))
}

// Drills shows the drills that a search finds; with no search, all.
func (h *Handler) Drills(w http.ResponseWriter, r *http.Request) error {
	shelf, err := h.app.Shelf(r.Context(), kit.Actor(r))
	if err != nil {
		return err
	}
	q := r.URL.Query()
	view := newDrillsView(shelf, drillSearch{Kind: q.Get("kind"), Home: q.Get("home") != "", Text: q.Get("q")}, h.mayEdit(r))
	page := h.page(w, r, "Drills", laddersCrumb)
	page.Intro = view.Count
	if view.Edit {
		page.Actions = drillsActions()
	}
	return h.kit.Render(w, r, http.StatusOK, drillsPage(page, view))
}

// Drill shows one drill.
func (h *Handler) Drill(w http.ResponseWriter, r *http.Request) error {
	shelf, key, err := h.shelf(r, "drill")
	if err != nil {
		return err
	}
	drill, ok := shelf.Drill(key)
	if !ok {
		return studio.Missing()
	}
	view := newDrillView(shelf, drill, h.mayEdit(r))
	page := h.page(w, r, drill.Name, laddersCrumb, drillsCrumb)
	page.Intro = view.Intro
	if view.Edit {
		page.Actions = drillActions(view)
	}
	return h.kit.Render(w, r, http.StatusOK, drillPage(page, view))
}

var (
	laddersCrumb = kit.Crumb{Label: "Ladders", URL: "/ladders"}
	drillsCrumb  = kit.Crumb{Label: "Drills", URL: "/drills"}
)

func ladderCrumb(l studio.Ladder) kit.Crumb { return kit.Crumb{Label: l.Name, URL: ladderURL(l.Key)} }

func rungCrumb(r studio.RungPlace) kit.Crumb { return kit.Crumb{Label: r.Name, URL: rungURL(r.Key)} }

func (h *Handler) page(w http.ResponseWriter, r *http.Request, title string, crumbs ...kit.Crumb) kit.Page {
	page := h.kit.Page(w, r, title, kit.SectionLadders)
	page.Crumbs = crumbs
	return page
}

// shelf reads the library for a page about the noun that the path names.
func (h *Handler) shelf(r *http.Request, noun string) (app.Shelf, string, error) {
	key, err := kit.Key(r, noun)
	if err != nil {
		return app.Shelf{}, "", err
	}
	shelf, err := h.app.Shelf(r.Context(), kit.Actor(r))
	return shelf, key, err
}

func (h *Handler) mayEdit(r *http.Request) bool {
	return h.kit.Allowed(kit.Actor(r), studio.EditLibrary)
}

// render answers with a form, at the status that its state calls for.
func (h *Handler) render(w http.ResponseWriter, r *http.Request, f form, page templ.Component) error {
	return h.kit.Render(w, r, f.status(), page)
}

func ladderURL(key string) string { return "/ladders/" + key }
func rungURL(key string) string   { return "/rungs/" + key }
func drillURL(key string) string  { return "/drills/" + key }
