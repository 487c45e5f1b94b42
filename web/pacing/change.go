package pacing

import (
	"fmt"
	"net/http"

	"github.com/google/uuid"
	"rungbook/internal/app"
	"rungbook/internal/studio"
	"rungbook/web/kit"
)

// mostWeeks bounds the number of a week in a form.
const mostWeeks = 60

// change is a posted change of a term: whose, and from which version.
type change struct {
	class   uuid.UUID
	version int
	form    *kit.Reader
}

func readChange(w http.ResponseWriter, r *http.Request) (change, error) {
	id, err := kit.ID(r, "class")
	if err != nil {
		return change{}, err
	}
	values, err := kit.Form(w, r)
	if err != nil {
		return change{}, err
	}
	c := change{class: id, form: &kit.Reader{Values: values}}
	c.version = c.form.Whole("version", 0, 1<<30)
	if len(c.form.Errors) > 0 {
		return c, studio.Missing()
	}
	return c, nil
}

// week reads a week that a form offers; 0 is none.
func (c change) week(field string) int {
	if c.form.Values.Get(field) == "" {
		return 0
	}
	return c.form.Whole(field, 0, mostWeeks)
}

// answer ends a change: back to the page with a sentence, or the page again with what stands in the way.
func (h *Handler) answer(w http.ResponseWriter, r *http.Request, c change, err error, sentence string) error {
	if err == nil {
		return h.kit.Done(w, r, sentence, "/classes/"+c.class.String()+"/term")
	}
	if no, ok := refused(err); ok {
		return h.termPage(w, r, c.class, no)
	}
	return err
}

// Propose lays the term out.
func (h *Handler) Propose(w http.ResponseWriter, r *http.Request) error {
	c, err := readChange(w, r)
	if err != nil {
		return err
	}
	done, err := h.app.ProposePacing(r.Context(), kit.Actor(r), c.class, c.version)
	return h.answer(w, r, c, err, proposedWords(done))
}

// proposedWords say what a proposal did.
func proposedWords(p app.Proposed) string {
	sentence := "The weeks to come are laid out."
	switch {
	case p.Moved == 0 && p.Kept > 0:
		sentence = "The weeks to come were laid out again, and every rung stays in its week."
	case p.Moved > 0:
		sentence += fmt.Sprintf(" %s moved, %d stayed.", kit.Count(p.Moved, "rung", "rungs"), p.Kept)
	}
	sentence += " What was taught and what is pinned is where it was."
	if len(p.Left) > 0 {
		sentence += " The weeks that are left have no room for " + kit.List(p.Left) + "."
	}
	return sentence
}

// Move puts a rung into another week.
func (h *Handler) Move(w http.ResponseWriter, r *http.Request) error {
	c, err := readChange(w, r)
	if err != nil {
		return err
	}
	week := c.week("week")
	if len(c.form.Errors) > 0 {
		return studio.Missing()
	}
	err = h.app.MovePaced(r.Context(), kit.Actor(r), c.class, c.version, c.form.Values.Get("rung"), week)
	return h.answer(w, r, c, err, "The rung is moved.")
}

// Set says when a rung is to be met.
func (h *Handler) Set(w http.ResponseWriter, r *http.Request) error {
	c, err := readChange(w, r)
	if err != nil {
		return err
	}
	to := app.PacedChange{Week: c.week("week"), Earliest: c.week("earliest"), Latest: c.week("latest"), Pinned: c.form.Tick("pinned"), Focus: c.form.Tick("focus")}
	if len(c.form.Errors) > 0 {
		return studio.Missing()
	}
	err = h.app.SetPaced(r.Context(), kit.Actor(r), c.class, c.version, c.form.Values.Get("rung"), to)
	return h.answer(w, r, c, err, "Saved.")
}

// Undo takes the last change back.
func (h *Handler) Undo(w http.ResponseWriter, r *http.Request) error {
	c, err := readChange(w, r)
	if err != nil {
		return err
	}
	err = h.app.UndoPacing(r.Context(), kit.Actor(r), c.class, c.version)
	return h.answer(w, r, c, err, "The last change is taken back; undo once more to have it again.")
}

// RungsPage chooses the rungs of the term.
func (h *Handler) RungsPage(w http.ResponseWriter, r *http.Request) error {
	id, err := kit.ID(r, "class")
	if err != nil {
		return err
	}
	return h.rungsPage(w, r, id, nil, refusal{status: http.StatusOK})
}

func (h *Handler) rungsPage(w http.ResponseWriter, r *http.Request, id uuid.UUID, typed *kit.Reader, answer refusal) error {
	view, err := h.app.Pacing(r.Context(), kit.Actor(r), id, app.PacingAsk{})
	if err != nil {
		return err
	}
	page := h.page(w, r, view.ID, view.Class, "Rungs of the term")
	page.Crumbs = append(page.Crumbs, kit.Crumb{Label: "The term", URL: "/classes/" + id.String() + "/term"})
	return h.kit.Render(w, r, answer.status, rungsPage(page, newRungsModel(view, typed, answer.err)))
}

// Choose keeps the rungs of the term.
func (h *Handler) Choose(w http.ResponseWriter, r *http.Request) error {
	c, err := readChange(w, r)
	if err != nil {
		return err
	}
	mostNew, lag := c.form.Whole("most_new", 1, 6), c.form.Whole("lag", 1, 6)
	if err := c.form.Err(); err != nil {
		no, _ := refused(err)
		return h.rungsPage(w, r, c.class, c.form, no)
	}
	err = h.app.ChoosePaced(r.Context(), kit.Actor(r), c.class, c.version, c.form.Values["rung"], mostNew, lag)
	if no, ok := refused(err); ok {
		return h.rungsPage(w, r, c.class, c.form, no)
	}
	sentence := "The rungs of the term are kept. New ones have no week yet: propose, or give them one."
	return h.answer(w, r, c, err, sentence)
}
