package lesson

import (
	"errors"
	"net/http"
	"net/url"

	"github.com/google/uuid"
	"rungbook/internal/app"
	"rungbook/internal/studio"
	"rungbook/web/kit"
)

// Pairs shows whom the plans of the class keep together or apart.
func (h *Handler) Pairs(w http.ResponseWriter, r *http.Request) error {
	id, err := kit.ID(r, "lesson")
	if err != nil {
		return err
	}
	return h.pairsPage(w, r, id, http.StatusOK, url.Values{}, nil)
}

// KeepPair keeps two children together or apart.
func (h *Handler) KeepPair(w http.ResponseWriter, r *http.Request) error {
	id, form, err := posted(w, r)
	if err != nil {
		return err
	}
	one, other, err := bothOf(form)
	if err != nil {
		return err
	}
	wish := studio.PairWish(form.Values.Get("wish"))
	if wish != studio.Together && wish != studio.Apart {
		return studio.Missing()
	}
	err = h.app.KeepPair(r.Context(), kit.Actor(r), id, studio.ClassPair{ChildA: one, ChildB: other, Wish: wish})
	var no *studio.Error
	if errors.As(err, &no) && no.Code == studio.Invalid {
		return h.pairsPage(w, r, id, http.StatusUnprocessableEntity, form.Values, no)
	}
	if err != nil {
		return err
	}
	return h.kit.Done(w, r, "It is kept for every plan of the class. A plan that is there already does not change: propose it again.", pairsURL(id))
}

// RemovePair lets two children be in any groups again.
func (h *Handler) RemovePair(w http.ResponseWriter, r *http.Request) error {
	id, form, err := posted(w, r)
	if err != nil {
		return err
	}
	one, other, err := bothOf(form)
	if err != nil {
		return err
	}
	if err := h.app.RemovePair(r.Context(), kit.Actor(r), id, one, other); err != nil {
		return err
	}
	return h.kit.Done(w, r, "The two may be in any groups again.", pairsURL(id))
}

func bothOf(form *kit.Reader) (a, b uuid.UUID, err error) {
	if a, err = one(form, "one"); err != nil {
		return a, b, err
	}
	b, err = one(form, "other")
	return a, b, err
}

func pairsURL(lesson uuid.UUID) string { return "/lessons/" + lesson.String() + "/pairs" }

// pairsView is the pairs of a class and the form for another.
type pairsView struct {
	URL    string
	Back   string
	Pairs  []pairView
	One    kit.ChoiceField
	Other  kit.ChoiceField
	Wish   kit.ChoiceField
	Errors []kit.FieldError
}

// pairView is one pair in words.
type pairView struct{ One, Other, Names, Words string }

func (h *Handler) pairsPage(w http.ResponseWriter, r *http.Request, id uuid.UUID, status int, typed url.Values, no *studio.Error) error {
	sheet, err := h.app.Pairs(r.Context(), kit.Actor(r), id)
	if err != nil {
		return err
	}
	page := h.kit.Page(w, r, "Together or apart", kit.SectionClasses)
	page.Intro = "Whom the plans of " + sheet.Class.Name + " keep in one group, or in two. It holds for every lesson in which both are here."
	page.Crumbs = []kit.Crumb{{Label: "Classes", URL: "/classes"}, {Label: sheet.Class.Name, URL: "/classes/" + sheet.Class.ID.String()},
		{Label: "Lesson", URL: lessonURL(sheet.Lesson)}}
	return h.kit.Render(w, r, status, pairsPage(page, newPairsView(sheet, typed, no)))
}

func newPairsView(s app.PairsSheet, typed url.Values, no *studio.Error) pairsView {
	v := pairsView{URL: pairsURL(s.Lesson.ID), Back: lessonURL(s.Lesson),
		One:   kit.ChoiceField{Name: "one", Label: "This child", Values: typed["one"]},
		Other: kit.ChoiceField{Name: "other", Label: "and this child", Values: typed["other"], Error: problemOf(no, "other")},
		Wish: kit.ChoiceField{Name: "wish", Label: "In every plan", Values: []string{string(studio.Together)}, Choices: []kit.Choice{
			{Value: string(studio.Together), Label: "Together, in one group"}, {Value: string(studio.Apart), Label: "Apart, in two groups"}}}}
	if typed.Has("wish") {
		v.Wish.Values = typed["wish"]
	}
	for _, c := range s.Children {
		choice := kit.Choice{Value: c.ID.String(), Label: c.FullName}
		v.One.Choices, v.Other.Choices = append(v.One.Choices, choice), append(v.Other.Choices, choice)
	}
	if len(typed) == 0 && len(s.Children) > 1 {
		v.Other.Values = []string{s.Children[1].ID.String()}
	}
	for _, p := range s.Pairs {
		words := "together"
		if p.Wish == studio.Apart {
			words = "apart"
		}
		v.Pairs = append(v.Pairs, pairView{p.A.ID.String(), p.B.ID.String(), p.A.FullName + " and " + p.B.FullName, words})
	}
	if v.Other.Error != "" {
		v.Errors = []kit.FieldError{{ID: kit.FieldID("other"), Text: v.Other.Error}}
	}
	return v
}
