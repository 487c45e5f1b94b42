// Package lesson is the pages of one lesson: who is here, its blocks, the plan of its stations, the printout, and what an assistant
// sees of it.
package lesson

import (
	"errors"
	"net/http"

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

// Lesson shows a lesson; ?cell=2-1 opens group 1 in rotation 2 for changes.
func (h *Handler) Lesson(w http.ResponseWriter, r *http.Request) error {
	id, err := kit.ID(r, "lesson")
	if err != nil {
		return err
	}
	return h.lessonPage(w, r, id, refusal{status: http.StatusOK})
}

// refusal is what a form was answered: the page is drawn again with it. The zero error is none.
type refusal struct {
	status int
	plan   *studio.Error // of the plan
	note   *typedNote
}

// refused puts an error that a page can show into a refusal; ok is false for any other.
func refused(err error) (refusal, bool) {
	var e *studio.Error
	if !errors.As(err, &e) {
		return refusal{}, false
	}
	switch e.Code {
	case studio.Conflict:
		return refusal{status: http.StatusConflict, plan: e}, true
	case studio.Invalid:
		return refusal{status: http.StatusUnprocessableEntity, plan: e}, true
	}
	return refusal{}, false
}

func (h *Handler) lessonPage(w http.ResponseWriter, r *http.Request, id uuid.UUID, answer refusal) error {
	sheet, err := h.app.Lesson(r.Context(), kit.Actor(r), id)
	if err != nil {
		return err
	}
	view := newLessonView(sheet, openCell(r), answer)
	view.Plan.LookOn = r.URL.Query().Get(lookOn) != "" && sheet.Plan != nil && !sheet.Plan.Optimal && sheet.Plan.SharedAt == nil
	if view.Plan.Cell != nil {
		if err := h.answerWhyNot(r, id, &view.Plan.Cell.Ask); err != nil {
			return err
		}
	}
	page := h.kit.Page(w, r, view.Title, kit.SectionClasses)
	page.Intro, page.Wide, page.Scripts = view.When, true, []string{"js/board.js", "js/refine.js"}
	page.Crumbs = []kit.Crumb{{Label: "Classes", URL: "/classes"}, {Label: sheet.Class.Name, URL: "/classes/" + sheet.Class.ID.String()}}
	if sheet.Plan != nil {
		page.Actions = lessonActions(view.URL)
	}
	return h.kit.Render(w, r, answer.status, lessonPage(page, view))
}

// Print is the plan for paper: one A4 page in black and white.
func (h *Handler) Print(w http.ResponseWriter, r *http.Request) error {
	id, err := kit.ID(r, "lesson")
	if err != nil {
		return err
	}
	sheet, err := h.app.Lesson(r.Context(), kit.Actor(r), id)
	if err != nil {
		return err
	}
	view := newPrintView(sheet)
	page := h.kit.Page(w, r, view.Title, kit.SectionClasses)
	page.Intro = view.Words
	page.Crumbs = []kit.Crumb{{Label: "the lesson", URL: lessonURL(sheet.Lesson)}}
	return h.kit.Render(w, r, http.StatusOK, printPage(page, view))
}

// Picture is the plan as an SVG picture.
func (h *Handler) Picture(w http.ResponseWriter, r *http.Request) error {
	id, err := kit.ID(r, "lesson")
	if err != nil {
		return err
	}
	sheet, err := h.app.Lesson(r.Context(), kit.Actor(r), id)
	if err != nil {
		return err
	}
	if sheet.Plan == nil {
		return studio.Missing()
	}
	w.Header().Set("Content-Type", "image/svg+xml; charset=utf-8")
	_, err = w.Write([]byte(BoardSVG(sheet)))
	return err
}
