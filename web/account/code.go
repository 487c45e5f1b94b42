package account

import (
	"net/http"

	"rungbook/web/kit"
)

// codesView is the way to sign in with codes: the secret to take over, or the recovery codes.
type codesView struct {
	Path, Box, Text string
	Recovery        []string
	Wrong           string
}

// BeginCodes makes a secret for an authenticator, given the passphrase.
func (h *Handler) BeginCodes(w http.ResponseWriter, r *http.Request) error {
	values, err := kit.Form(w, r)
	if err != nil {
		return err
	}
	_, err = h.app.BeginAuthenticator(r.Context(), kit.Actor(r), values.Get("codes-present"))
	if refused := refusal(err); refused != nil {
		return h.refused(w, r, ownForm{Which: "codes", Refused: refused})
	}
	if err != nil {
		return err
	}
	http.Redirect(w, r, "/account/codes", http.StatusSeeOther)
	return nil
}

// Codes shows the secret until a first code was shown.
func (h *Handler) Codes(w http.ResponseWriter, r *http.Request) error {
	return h.codesPage(w, r, http.StatusOK, "")
}

func (h *Handler) codesPage(w http.ResponseWriter, r *http.Request, status int, wrong string) error {
	made, err := h.app.PendingAuthenticator(r.Context(), kit.Actor(r))
	if err != nil {
		return err
	}
	page := h.framed(w, r, kit.Words(r).Say("code.begin-title"))
	page.Crumbs = []kit.Crumb{{Label: kit.Words(r).Say("account.title"), URL: "/account"}}
	v := codesView{Path: made.Picture.Path, Box: box(made.Picture.Size), Text: made.Text, Wrong: wrong}
	return h.kit.Render(w, r, status, codesPage(page, v))
}

// ConfirmCodes switches the codes on by a first one, and shows the recovery codes this once.
func (h *Handler) ConfirmCodes(w http.ResponseWriter, r *http.Request) error {
	values, err := kit.Form(w, r)
	if err != nil {
		return err
	}
	recovery, err := h.app.ConfirmAuthenticator(r.Context(), kit.Actor(r), values.Get("code"))
	if refused := refusal(err); refused != nil {
		wrong := refused.Problem("code")
		if wrong == "" {
			wrong = refused.Text
		}
		return h.codesPage(w, r, statusOf(refused), wrong)
	}
	if err != nil {
		return err
	}
	page := h.kit.Page(w, r, kit.Words(r).Say("code.recovery-title"), "")
	page.Crumbs = []kit.Crumb{{Label: kit.Words(r).Say("account.title"), URL: "/account"}}
	return h.kit.Render(w, r, http.StatusOK, recoveryPage(page, codesView{Recovery: recovery}))
}

// EndCodes switches the codes off, given the passphrase.
func (h *Handler) EndCodes(w http.ResponseWriter, r *http.Request) error {
	values, err := kit.Form(w, r)
	if err != nil {
		return err
	}
	err = h.app.EndAuthenticator(r.Context(), kit.Actor(r), values.Get("codes-present"))
	if refused := refusal(err); refused != nil {
		return h.ownPage(w, r, ownForm{Which: "codes", Refused: refused})
	}
	if err != nil {
		return err
	}
	return h.kit.Done(w, r, kit.Words(r).Say("code.is-off"), "/account#codes")
}
