// Package family is what parents see: their own children, what to do at home, where they stand, and the report that something hurt.
package family

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

// Home lists one's own children; somebody with one child goes straight to it.
func (h *Handler) Home(w http.ResponseWriter, r *http.Request) error {
	family, err := h.app.Family(r.Context(), kit.Actor(r))
	if err != nil {
		return err
	}
	if len(family) == 1 {
		http.Redirect(w, r, childURL(family[0].ID), http.StatusSeeOther)
		return nil
	}
	page := h.kit.Page(w, r, kit.Words(r).Say("home.title"), kit.SectionHome)
	return h.kit.Render(w, r, http.StatusOK, homePage(page, family))
}

// Child shows one of one's own children; ?ladder= chooses the ladder that is drawn in full.
func (h *Handler) Child(w http.ResponseWriter, r *http.Request) error {
	view, err := h.child(r)
	if err != nil {
		return err
	}
	page := h.kit.Page(w, r, view.Name, kit.SectionHome)
	page.Crumbs = crumbs(r)
	page.Scripts = []string{"js/practice.js"}
	return h.kit.Render(w, r, http.StatusOK, childPage(page, newChildModel(view, r.URL.Query().Get("ladder"))))
}

// crumbs lead from the list of children to a page.
func crumbs(r *http.Request, more ...kit.Crumb) []kit.Crumb {
	return append([]kit.Crumb{{Label: kit.Words(r).Say("home.title"), URL: "/home"}}, more...)
}

func (h *Handler) child(r *http.Request) (app.FamilyView, error) {
	id, err := kit.ID(r, "child")
	if err != nil {
		return app.FamilyView{}, err
	}
	return h.app.FamilyChildOf(r.Context(), kit.Actor(r), id)
}

// Hurt asks what hurt.
func (h *Handler) Hurt(w http.ResponseWriter, r *http.Request) error {
	return h.hurtPage(w, r, http.StatusOK, hurtForm{})
}

func (h *Handler) hurtPage(w http.ResponseWriter, r *http.Request, status int, form hurtForm) error {
	view, err := h.child(r)
	if err != nil {
		return err
	}
	page := h.kit.Page(w, r, kit.Words(r).Say("hurt.title", "Name", view.Name), kit.SectionHome).WithProblem(form.Problems.Err())
	page.Crumbs = crumbs(r, kit.Crumb{Label: view.Name, URL: childURL(view.ID)})
	return h.kit.Render(w, r, status, hurtPage(page, hurtModel{view, form}))
}

// ReportHurt keeps the report and the limit that it brings. When the answers call for help at once, that is what the page says first,
// also where the form could not be kept.
func (h *Handler) ReportHurt(w http.ResponseWriter, r *http.Request) error {
	id, err := kit.ID(r, "child")
	if err != nil {
		return err
	}
	values, err := kit.Form(w, r)
	if err != nil {
		return err
	}
	b := kit.Words(r)
	form := newHurtForm(b, values)
	report := form.report(id)
	var advice app.Advice
	if form.Problems.Err() == nil {
		advice, err = h.app.ReportSoreness(r.Context(), kit.Actor(r), report)
	}
	if form.Problems.Took(err) {
		return h.hurtPage(w, r, http.StatusUnprocessableEntity, form)
	}
	if err != nil {
		return err
	}
	if advice == app.CallNow {
		return h.kit.Done(w, r, b.Say("hurt.kept"), childURL(id)+"/help")
	}
	said := b.Say("hurt.thanks")
	if form.Place == "Head" {
		said += " " + b.Say("help.head")
	}
	if advice == app.SeeDoctor {
		said = b.Say("hurt.doctor") + " " + said
	}
	return h.kit.Done(w, r, said, childURL(id))
}

// Help says what to do at once.
func (h *Handler) Help(w http.ResponseWriter, r *http.Request) error {
	view, err := h.child(r)
	if err != nil {
		return err
	}
	page := h.kit.Page(w, r, kit.Words(r).Say("help.title"), kit.SectionHome)
	page.Crumbs = crumbs(r, kit.Crumb{Label: view.Name, URL: childURL(view.ID)})
	return h.kit.Render(w, r, http.StatusOK, helpPage(page, view))
}
