package account

import (
	"net/http"
	"net/url"

	"rungbook/web/kit"
)

// query carries on where somebody was heading.
func query(next string) string {
	if next == "" {
		return ""
	}
	return "?next=" + url.QueryEscape(next)
}

// ForgottenPage asks for the address to which a link for a new passphrase is sent.
func (h *Handler) ForgottenPage(w http.ResponseWriter, r *http.Request) error {
	return h.forgottenPage(w, r, "")
}

func (h *Handler) forgottenPage(w http.ResponseWriter, r *http.Request, asked string) error {
	page := h.kit.Page(w, r, kit.Words(r).Say("forgotten.title"), "")
	return h.kit.Render(w, r, http.StatusOK, forgottenPage(page, forgottenView{Mail: h.app.SendsMail(), Asked: asked}))
}

// Forgotten has a link sent, if the address has an account. The answer is the same when it has none.
func (h *Handler) Forgotten(w http.ResponseWriter, r *http.Request) error {
	values, err := kit.Form(w, r)
	if err != nil {
		return err
	}
	h.app.AskReset(r.Context(), values.Get("email"))
	return h.forgottenPage(w, r, values.Get("email"))
}
