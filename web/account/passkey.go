package account

import (
	"encoding/json"
	"net/http"

	"rungbook/internal/studio"
	"rungbook/web/kit"
)

// begin answers a script with the options for the browser's own dialogue, and keeps the challenge in the session.
func (h *Handler) begin(w http.ResponseWriter, r *http.Request, options, kept []byte, err error) error {
	if err != nil {
		return err
	}
	if err := h.kit.Hold(w, r, kit.ChallengeValue, string(kept)); err != nil {
		return err
	}
	return kit.WriteJSON(w, http.StatusOK, json.RawMessage(options))
}

// challenge takes the kept challenge, which is for one answer only.
func (h *Handler) challenge(w http.ResponseWriter, r *http.Request) ([]byte, error) {
	kept, err := h.kit.Held(r, kit.ChallengeValue)
	if err != nil || kept == "" {
		return nil, err
	}
	return []byte(kept), h.kit.Hold(w, r, kit.ChallengeValue, "")
}

// BeginPasskey gives the options for a new passkey.
func (h *Handler) BeginPasskey(w http.ResponseWriter, r *http.Request) error {
	options, kept, err := h.app.BeginPasskey(r.Context(), kit.Actor(r))
	return h.begin(w, r, options, kept, err)
}

// AddPasskey keeps what the browser made.
func (h *Handler) AddPasskey(w http.ResponseWriter, r *http.Request) error {
	values, err := kit.Form(w, r)
	if err != nil {
		return err
	}
	kept, err := h.challenge(w, r)
	if err != nil {
		return err
	}
	err = h.app.AddPasskey(r.Context(), kit.Actor(r), values.Get("name"), kept, []byte(values.Get("answer")))
	if refused := refusal(err); refused != nil {
		return h.refused(w, r, ownForm{Which: "passkey", Refused: refused})
	}
	if err != nil {
		return err
	}
	return h.kit.Done(w, r, kit.Words(r).Say("passkey.added"), "/account#passkeys")
}

// RenamePasskey names one of one's passkeys.
func (h *Handler) RenamePasskey(w http.ResponseWriter, r *http.Request) error {
	values, err := kit.Form(w, r)
	if err != nil {
		return err
	}
	id, err := kit.ID(r, "passkey")
	if err == nil {
		err = h.app.RenamePasskey(r.Context(), kit.Actor(r), id, values.Get("name"))
	}
	if refused := refusal(err); refused != nil {
		return h.ownPage(w, r, ownForm{Which: "passkey", Refused: refused})
	}
	if err != nil {
		return err
	}
	return h.kit.Done(w, r, kit.Words(r).Say("passkey.renamed"), "/account#passkeys")
}

// RemovePasskey makes one useless.
func (h *Handler) RemovePasskey(w http.ResponseWriter, r *http.Request) error {
	id, err := kit.ID(r, "passkey")
	if err == nil {
		err = h.app.RemovePasskey(r.Context(), kit.Actor(r), id)
	}
	if err != nil {
		return err
	}
	return h.kit.Done(w, r, kit.Words(r).Say("passkey.removed"), "/account#passkeys")
}

// BeginPasskeySignIn gives the options for signing in.
func (h *Handler) BeginPasskeySignIn(w http.ResponseWriter, r *http.Request) error {
	options, kept, err := h.app.BeginPasskeySignIn()
	return h.begin(w, r, options, kept, err)
}

// PasskeySignIn checks the browser's answer and opens the session.
func (h *Handler) PasskeySignIn(w http.ResponseWriter, r *http.Request) error {
	values, err := kit.Form(w, r)
	if err != nil {
		return err
	}
	if !h.app.OffersPasskeys() {
		return studio.Missing()
	}
	form := signInForm{Next: values.Get("next")}
	kept, err := h.challenge(w, r)
	if err != nil {
		return err
	}
	account, err := h.app.SignInByPasskey(r.Context(), kept, []byte(values.Get("answer")))
	if refused := refusal(err); refused != nil {
		form.Error = refused.Text
		return h.signInPage(w, r, statusOf(refused), form)
	}
	if err != nil {
		return err
	}
	if err := h.kit.SignIn(w, r, account); err != nil {
		return err
	}
	http.Redirect(w, r, localPath(form.Next), http.StatusSeeOther)
	return nil
}
