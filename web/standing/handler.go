// Package standing shows teachers their classes and children: where each child stands, its marks, its care and what it has at home.
package standing

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

// Classes lists the classes that the actor takes.
func (h *Handler) Classes(w http.ResponseWriter, r *http.Request) error {
	actor := kit.Actor(r)
	lines, err := h.app.ClassesTaken(r.Context(), actor)
	if err != nil {
		return err
	}
	page := h.kit.Page(w, r, "Classes", kit.SectionClasses)
	return h.kit.Render(w, r, http.StatusOK, classesPage(page, newClassList(lines, actor)))
}

// Class shows one class: its children on the ladders, how they are spread, its lessons.
func (h *Handler) Class(w http.ResponseWriter, r *http.Request) error {
	id, err := kit.ID(r, "class")
	if err != nil {
		return err
	}
	q := r.URL.Query()
	view, err := h.app.ClassOf(r.Context(), kit.Actor(r), id, app.ClassAsk{Show: q.Get("ladders"), Sort: q.Get("sort")})
	if err != nil {
		return err
	}
	page := h.kit.Page(w, r, view.Name, kit.SectionClasses)
	page.Intro = view.When + ". " + view.Term + "."
	page.Crumbs = []kit.Crumb{{Label: "Classes", URL: "/classes"}}
	page.Wide = true
	page.Actions = kit.LinkButton(kit.Action{Label: "The term", URL: "/classes/" + id.String() + "/term", Icon: "calendar"})
	return h.kit.Render(w, r, http.StatusOK, classPage(page, classModel{view}))
}

// Children lists the children of the actor's classes.
func (h *Handler) Children(w http.ResponseWriter, r *http.Request) error {
	search := searched(r)
	lines, err := h.app.ChildrenTaken(r.Context(), kit.Actor(r), search)
	if err != nil {
		return err
	}
	page := h.kit.Page(w, r, "Children", kit.SectionChildren)
	return h.kit.Render(w, r, http.StatusOK, childrenPage(page, childrenModel{Search: search, Lines: lines}))
}

// searched is the text looked for; one that is no text, or is longer than any name, looks for nothing.
func searched(r *http.Request) string {
	text := r.URL.Query().Get("q")
	if !kit.Clean(text) || len(text) > 160 {
		return ""
	}
	return text
}

// Child shows where a child stands; ?ladder= chooses the ladder that is drawn in full.
func (h *Handler) Child(w http.ResponseWriter, r *http.Request) error {
	id, err := kit.ID(r, "child")
	if err != nil {
		return err
	}
	view, err := h.app.ChildOf(r.Context(), kit.Actor(r), id)
	if err != nil {
		return err
	}
	page := h.childPage(w, r, view.ChildHead, view.Name)
	return h.kit.Render(w, r, http.StatusOK, childPage(page, newChildModel(view, r.URL.Query().Get("ladder"))))
}

// childPage is the frame of each page about a child.
func (h *Handler) childPage(w http.ResponseWriter, r *http.Request, head app.ChildHead, title string) kit.Page {
	page := h.kit.Page(w, r, title, kit.SectionChildren)
	page.Heading = head.Name
	page.Intro = headIntro(head)
	page.Crumbs = []kit.Crumb{{Label: "Children", URL: "/children"}}
	return page
}
