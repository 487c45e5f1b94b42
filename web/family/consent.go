package family

import (
	"net/http"

	"github.com/go-chi/chi/v5"
	"rungbook/internal/app"
	"rungbook/internal/studio"
	"rungbook/internal/words"
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
	page := h.kit.Page(w, r, kit.Words(r).Say("consent.title", "Name", view.Name), kit.SectionHome)
	page.Crumbs = crumbs(r, kit.Crumb{Label: view.Name, URL: childURL(id)})
	page.Intro = kit.Words(r).Say("consent.intro")
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
	reader := &kit.Reader{Values: values, Words: kit.Words(r)}
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
	b := kit.Words(r)
	said := b.Say("consent.said-no", "Purpose", purposeTitle(b, purpose))
	if given {
		said = b.Say("consent.said-yes", "Purpose", purposeTitle(b, purpose))
	}
	return h.kit.Done(w, r, said, childURL(id)+"/consents")
}

// purposeTitle is a purpose in a few words.
func purposeTitle(b *words.Book, p studio.Purpose) string { return b.Say("purpose." + string(p)) }

// answerWords says where a purpose stands.
func answerWords(b *words.Book, l app.ConsentLine) string {
	switch {
	case l.Mine == nil && l.Holds:
		return b.Say("consent.other-yes")
	case l.Mine == nil:
		return b.Say("consent.none")
	case *l.Mine && l.Holds:
		return b.Say("consent.own-yes")
	case *l.Mine:
		return b.Say("consent.other-no")
	}
	return b.Say("consent.own-no")
}

// eventWords is one answer in the ledger: to which words, by whom, and what.
func eventWords(b *words.Book, e app.ConsentEvent) string {
	by, answer := b.Say("consent.by-other"), b.Say("consent.answer-no")
	if e.Mine {
		by = b.Say("consent.by-you")
	}
	if e.Given {
		answer = b.Say("consent.answer-yes")
	}
	return b.Say("consent.event", "Version", e.Version, "By", by, "Answer", answer)
}
