package family

import (
	"net/http"

	"github.com/go-chi/chi/v5"
	"rungbook/internal/app"
	"rungbook/internal/studio"
	"rungbook/web/kit"
)

// Consents shows what the studio asks about a child, and every answer so far.
func (h *Handler) Consents(w http.ResponseWriter, r *http.Request) error {
	id, err := kit.ID(r, "child")
	if err != nil {
		return err
	}
	view, err := h.app.ConsentsOf(r.Context(), kit.Actor(r), id)
	if err != nil {
		return err
	}
	page := h.kit.Page(w, r, "Consents: "+view.Name, kit.SectionHome)
	page.Crumbs = []kit.Crumb{{Label: "Home", URL: "/home"}, {Label: view.Name, URL: childURL(id)}}
	page.Intro = "What the studio may do only if you say so. Nothing here is needed to be in class, and you can change your mind at any time."
	return h.kit.Render(w, r, http.StatusOK, consentsPage(page, view))
}

// AnswerConsent gives or withdraws consent.
func (h *Handler) AnswerConsent(w http.ResponseWriter, r *http.Request) error {
	id, err := kit.ID(r, "child")
	if err != nil {
		return err
	}
	purpose, err := studio.PurposeOf(chi.URLParam(r, "purpose"))
	if err != nil {
		return err
	}
	values, err := kit.Form(w, r)
	if err != nil {
		return err
	}
	reader := &kit.Reader{Values: values}
	given := reader.Choice("answer", "yes", "no") == "yes"
	if reader.Err() != nil {
		if _, err := h.app.ConsentsOf(r.Context(), kit.Actor(r), id); err != nil {
			return err // not theirs to answer at all
		}
		return reader.Err()
	}
	if err := h.app.AnswerConsent(r.Context(), kit.Actor(r), id, purpose, given); err != nil {
		return err
	}
	said := purpose.Title() + ": you said no."
	if given {
		said = purpose.Title() + ": you said yes."
	}
	return h.kit.Done(w, r, said, childURL(id)+"/consents")
}

// answerWords says where a purpose stands.
func answerWords(l app.ConsentLine) string {
	switch {
	case l.Mine == nil && l.Holds:
		return "Another guardian said yes. You have not answered."
	case l.Mine == nil:
		return "You have not answered, so it counts as no."
	case *l.Mine && l.Holds:
		return "You said yes."
	case *l.Mine:
		return "You said yes. Another guardian said no, and that counts."
	}
	return "You said no."
}

func eventWords(e app.ConsentEvent) string {
	answer := "no"
	if e.Given {
		answer = "yes"
	}
	return "version " + itoa(e.Version) + ", " + e.By + ": " + answer
}
