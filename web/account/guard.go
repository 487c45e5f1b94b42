package account

import (
	"net/http"

	"rungbook/web/kit"
)

// Guard is where owners and teachers set up a code or a passkey that the studio asks for, before anything else.
func (h *Handler) Guard(w http.ResponseWriter, r *http.Request) error {
	if !kit.Actor(r).Unguarded {
		http.Redirect(w, r, "/account", http.StatusSeeOther)
		return nil
	}
	return h.guardPage(w, r, ownForm{})
}

func (h *Handler) guardPage(w http.ResponseWriter, r *http.Request, form ownForm) error {
	v := ownView{Offers: h.app.OffersPasskeys(), Form: form}
	var err error
	if v.Codes, err = h.app.OwnAuthenticator(r.Context(), kit.Actor(r)); err != nil {
		return err
	}
	page := h.framed(w, r, kit.Words(r).Say("guard.title"))
	page.Intro = kit.Words(r).Say("guard.intro")
	if v.Offers {
		page.Scripts = []string{passkeyScript}
	}
	return h.kit.Render(w, r, form.status(), guardPage(page, v))
}

// framed is the frame of a page of one's account; without ways to pages that are closed until a code or a passkey is set up.
func (h *Handler) framed(w http.ResponseWriter, r *http.Request, title string) kit.Page {
	page := h.kit.Page(w, r, title, "")
	if kit.Actor(r).Unguarded {
		page.Nav, page.UserMenu = nil, nil
	}
	return page
}

// refused shows a form about a code or a passkey again, on the page on which it stood.
func (h *Handler) refused(w http.ResponseWriter, r *http.Request, form ownForm) error {
	if kit.Actor(r).Unguarded {
		return h.guardPage(w, r, form)
	}
	return h.ownPage(w, r, form)
}
