package account

import (
	"net/http"
	"strings"

	"github.com/google/uuid"
	"rungbook/internal/studio"
	"rungbook/web/kit"
)

const passkeyScript = "js/passkey.js"

// SignInPage asks for e-mail address and passphrase.
func (h *Handler) SignInPage(w http.ResponseWriter, r *http.Request) error {
	if kit.Actor(r).SignedIn() {
		http.Redirect(w, r, "/", http.StatusSeeOther)
		return nil
	}
	return h.signInPage(w, r, http.StatusOK, signInForm{Next: r.URL.Query().Get("next")})
}

func (h *Handler) signInPage(w http.ResponseWriter, r *http.Request, status int, form signInForm) error {
	page := h.kit.Page(w, r, kit.Words(r).Say("sign-in.title"), "")
	if form.Mail = h.app.SendsMail(); h.app.OffersPasskeys() {
		form.Passkeys, page.Scripts = true, []string{passkeyScript}
	}
	return h.kit.Render(w, r, status, signInPage(page, form))
}

// SignIn opens a session and goes on to where the visitor was heading; where the account signs in with codes, the code is asked first.
func (h *Handler) SignIn(w http.ResponseWriter, r *http.Request) error {
	values, err := kit.Form(w, r)
	if err != nil {
		return err
	}
	form := signInForm{Email: values.Get("email"), Next: values.Get("next")}
	account, err := h.app.SignIn(r.Context(), form.Email, values.Get("passphrase"))
	if refused := refusal(err); refused != nil {
		form.Error = refused.Text
		return h.signInPage(w, r, statusOf(refused), form)
	}
	if err != nil {
		return err
	}
	return h.enter(w, r, account, form.Next)
}

func statusOf(e *studio.Error) int {
	if e.Code == studio.TooMany {
		return http.StatusTooManyRequests
	}
	return http.StatusUnprocessableEntity
}

// enter opens a session of the account, or asks for a code first where it signs in with codes.
func (h *Handler) enter(w http.ResponseWriter, r *http.Request, account uuid.UUID, next string) error {
	pending, err := h.app.NeedsCode(r.Context(), account)
	if refused := refusal(err); refused != nil {
		return h.signInPage(w, r, statusOf(refused), signInForm{Next: next, Error: refused.Text})
	}
	if err != nil {
		return err
	}
	if pending != "" {
		if err := h.kit.Hold(w, r, kit.PendingValue, pending); err != nil {
			return err
		}
		http.Redirect(w, r, "/sign-in/code"+query(next), http.StatusSeeOther)
		return nil
	}
	if err := h.kit.SignIn(w, r, account); err != nil {
		return err
	}
	http.Redirect(w, r, localPath(next), http.StatusSeeOther)
	return nil
}

// CodePage asks for the code of an authenticator, once the passphrase was shown.
func (h *Handler) CodePage(w http.ResponseWriter, r *http.Request) error {
	pending, err := h.kit.Held(r, kit.PendingValue)
	if err != nil {
		return err
	}
	if pending == "" {
		http.Redirect(w, r, "/sign-in"+query(r.URL.Query().Get("next")), http.StatusSeeOther)
		return nil
	}
	return h.codePage(w, r, http.StatusOK, codeForm{Next: r.URL.Query().Get("next")})
}

func (h *Handler) codePage(w http.ResponseWriter, r *http.Request, status int, form codeForm) error {
	return h.kit.Render(w, r, status, codePage(h.kit.Page(w, r, kit.Words(r).Say("code.title"), ""), form))
}

// EnterCode checks the code and opens the session.
func (h *Handler) EnterCode(w http.ResponseWriter, r *http.Request) error {
	values, err := kit.Form(w, r)
	if err != nil {
		return err
	}
	pending, err := h.kit.Held(r, kit.PendingValue)
	if err != nil {
		return err
	}
	account, err := h.app.EnterCode(r.Context(), pending, values.Get("code"))
	if refused := refusal(err); refused != nil {
		form := codeForm{Next: values.Get("next"), Error: refused.Problem("code")}
		if form.Error == "" {
			form.Error = refused.Text
		}
		return h.codePage(w, r, statusOf(refused), form)
	}
	if studio.CodeOf(err) == studio.SignedOut {
		http.Redirect(w, r, "/sign-in"+query(values.Get("next")), http.StatusSeeOther)
		return nil
	}
	if err != nil {
		return err
	}
	if err := h.kit.SignIn(w, r, account); err != nil {
		return err
	}
	http.Redirect(w, r, localPath(values.Get("next")), http.StatusSeeOther)
	return nil
}

// SignOut ends the session.
func (h *Handler) SignOut(w http.ResponseWriter, r *http.Request) error {
	if err := h.kit.SignOut(w, r); err != nil {
		return err
	}
	http.Redirect(w, r, "/sign-in", http.StatusSeeOther)
	return nil
}

// localPath is where to go after sign-in: a path of this site, never another one.
func localPath(next string) string {
	if !strings.HasPrefix(next, "/") || strings.HasPrefix(next, "//") || strings.ContainsAny(next, "\\\r\n") {
		return "/"
	}
	return next
}
