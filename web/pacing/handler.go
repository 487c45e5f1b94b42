// Package pacing is the pages of a class's term: its rungs over the weeks, what they weigh, and what may come of them.
package pacing

import (
	"errors"
	"net/http"
	"strconv"

	"github.com/google/uuid"
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

// refusal is what a change was answered: the page is drawn again with it. The zero error is none.
type refusal struct {
	status int
	err    *studio.Error
}

// refused puts an error that a page can show into a refusal; ok is false for any other.
func refused(err error) (refusal, bool) {
	var e *studio.Error
	if !errors.As(err, &e) {
		return refusal{}, false
	}
	switch e.Code {
	case studio.Conflict:
		return refusal{http.StatusConflict, e}, true
	case studio.Invalid:
		return refusal{http.StatusUnprocessableEntity, e}, true
	}
	return refusal{}, false
}

// Term shows a class's term; ?lose=7, ?showcase=9 and ?child=more try something out.
func (h *Handler) Term(w http.ResponseWriter, r *http.Request) error {
	id, err := kit.ID(r, "class")
	if err != nil {
		return err
	}
	return h.termPage(w, r, id, refusal{status: http.StatusOK})
}

func (h *Handler) termPage(w http.ResponseWriter, r *http.Request, id uuid.UUID, answer refusal) error {
	view, err := h.app.Pacing(r.Context(), kit.Actor(r), id, readAsk(r))
	if err != nil {
		return err
	}
	m := newTermModel(view, answer.err)
	page := h.page(w, r, view.ID, view.Class, "The term")
	page.Intro = m.intro()
	page.Wide = true
	page.Scripts = []string{"js/term.js"}
	page.Actions = termActions(m)
	return h.kit.Render(w, r, answer.status, termPage(page, m))
}

// page is the frame of each page of a class's term.
func (h *Handler) page(w http.ResponseWriter, r *http.Request, class uuid.UUID, name, what string) kit.Page {
	page := h.kit.Page(w, r, what+": "+name, kit.SectionClasses)
	page.Crumbs = []kit.Crumb{{Label: "Classes", URL: "/classes"}, {Label: name, URL: "/classes/" + class.String()}}
	return page
}

// readAsk reads what is tried out; what makes no sense asks nothing.
func readAsk(r *http.Request) app.PacingAsk {
	q := r.URL.Query()
	week := func(name string) int {
		n, err := strconv.Atoi(q.Get(name))
		if err != nil {
			return 0
		}
		return n
	}
	return app.PacingAsk{Lose: week("lose"), Showcase: week("showcase"), Child: q.Get("child") == "more"}
}

// Print is the term on one sheet.
func (h *Handler) Print(w http.ResponseWriter, r *http.Request) error {
	id, err := kit.ID(r, "class")
	if err != nil {
		return err
	}
	view, err := h.app.Pacing(r.Context(), kit.Actor(r), id, app.PacingAsk{})
	if err != nil {
		return err
	}
	m := newTermModel(view, nil)
	m.Paper = true
	page := h.page(w, r, view.ID, view.Class, "The term")
	page.Intro = m.intro()
	page.Crumbs = []kit.Crumb{{Label: "the term", URL: m.url()}}
	return h.kit.Render(w, r, http.StatusOK, printPage(page, m))
}

// Forecast shows how many children are likely to have each rung.
func (h *Handler) Forecast(w http.ResponseWriter, r *http.Request) error {
	id, err := kit.ID(r, "class")
	if err != nil {
		return err
	}
	view, err := h.app.PacingForecast(r.Context(), kit.Actor(r), id)
	if err != nil {
		return err
	}
	page := h.page(w, r, view.ID, view.Class, "What is likely")
	page.Crumbs = append(page.Crumbs, kit.Crumb{Label: "The term", URL: "/classes/" + id.String() + "/term"})
	page.Intro = forecastIntro(view)
	return h.kit.Render(w, r, http.StatusOK, forecastPage(page, view))
}
