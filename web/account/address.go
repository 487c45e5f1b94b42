package account

import (
	"net/http"

	"github.com/go-chi/chi/v5"
	"rungbook/web/kit"
)

// addressView is a change of address that a link is about.
type addressView struct {
	URL, Was, Email string
	Done            bool // it counts already
}

// ConfirmEmailPage asks whoever opens the link at a new address to confirm it. Opening it uses nothing up: some mail servers open links.
func (h *Handler) ConfirmEmailPage(w http.ResponseWriter, r *http.Request) error {
	c, err := h.app.EmailToConfirm(r.Context(), chi.URLParam(r, "change"))
	if err != nil {
		return h.linkError(w, r, err)
	}
	w.Header().Set("Referrer-Policy", "no-referrer") // the address holds a secret
	page := h.kit.Page(w, r, kit.Words(r).Say("address.confirm-title"), "")
	return h.kit.Render(w, r, http.StatusOK, confirmEmailPage(page, addressView{URL: r.URL.Path, Was: c.Was, Email: c.Email}))
}

// ConfirmEmail makes the change.
func (h *Handler) ConfirmEmail(w http.ResponseWriter, r *http.Request) error {
	if err := h.app.ConfirmEmail(r.Context(), chi.URLParam(r, "change")); err != nil {
		return h.linkError(w, r, err)
	}
	if kit.Actor(r).SignedIn() {
		return h.kit.Done(w, r, kit.Words(r).Say("address.counts"), "/account")
	}
	return h.kit.Done(w, r, kit.Words(r).Say("address.counts-sign-in"), "/sign-in")
}

// StopEmailPage asks whoever opens the link at an old address whether to stop the change.
func (h *Handler) StopEmailPage(w http.ResponseWriter, r *http.Request) error {
	c, err := h.app.EmailToStop(r.Context(), chi.URLParam(r, "stop"))
	if err != nil {
		return h.linkError(w, r, err)
	}
	w.Header().Set("Referrer-Policy", "no-referrer")
	page := h.kit.Page(w, r, kit.Words(r).Say("address.stop-title"), "")
	return h.kit.Render(w, r, http.StatusOK, stopEmailPage(page, addressView{URL: r.URL.Path, Was: c.Was, Email: c.Email, Done: c.ConfirmedAt != nil}))
}

// StopEmail stops the change, and leads on to a new passphrase.
func (h *Handler) StopEmail(w http.ResponseWriter, r *http.Request) error {
	link, err := h.app.StopEmail(r.Context(), chi.URLParam(r, "stop"))
	if err != nil {
		return h.linkError(w, r, err)
	}
	http.Redirect(w, r, h.app.LocalPath(link), http.StatusSeeOther)
	return nil
}
