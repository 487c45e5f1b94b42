// Package account is signing in and out, joining by invitation, and one's own account.
package account

import (
	"errors"
	"net/http"
	"strings"

	"rungbook/internal/app"
	"rungbook/internal/studio"
	"rungbook/web/kit"
)

// Handler serves the area.
type Handler struct {
	app *app.App
	kit *kit.Kit
}

// New makes the area.
func New(a *app.App, k *kit.Kit) *Handler { return &Handler{app: a, kit: k} }

// SignInPage asks for e-mail address and passphrase.
func (h *Handler) SignInPage(w http.ResponseWriter, r *http.Request) error {
	if kit.Actor(r).SignedIn() {
		http.Redirect(w, r, "/", http.StatusSeeOther)
		return nil
	}
	page := h.kit.Page(w, r, "Sign in", "")
	return h.kit.Render(w, r, http.StatusOK, signInPage(page, signInForm{Next: r.URL.Query().Get("next")}))
}

// SignIn opens a session and goes on to where the visitor was heading.
func (h *Handler) SignIn(w http.ResponseWriter, r *http.Request) error {
	values, err := kit.Form(w, r)
	if err != nil {
		return err
	}
	form := signInForm{Email: values.Get("email"), Next: values.Get("next")}
	account, err := h.app.SignIn(r.Context(), form.Email, values.Get("passphrase"))
	var refused *studio.Error
	if errors.As(err, &refused) && (refused.Code == studio.Invalid || refused.Code == studio.TooMany) {
		form.Error = refused.Text
		status := http.StatusUnprocessableEntity
		if refused.Code == studio.TooMany {
			status = http.StatusTooManyRequests
		}
		return h.kit.Render(w, r, status, signInPage(h.kit.Page(w, r, "Sign in", ""), form))
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

// localPath is where to go after sign-in: a path of this site, never another one.
func localPath(next string) string {
	if !strings.HasPrefix(next, "/") || strings.HasPrefix(next, "//") || strings.ContainsAny(next, "\\\r\n") {
		return "/"
	}
	return next
}

// SignOut ends the session.
func (h *Handler) SignOut(w http.ResponseWriter, r *http.Request) error {
	if err := h.kit.SignOut(w, r); err != nil {
		return err
	}
	http.Redirect(w, r, "/sign-in", http.StatusSeeOther)
	return nil
}

// Account shows one's own account.
func (h *Handler) Account(w http.ResponseWriter, r *http.Request) error {
	return h.accountPage(w, r, http.StatusOK, nil)
}

func (h *Handler) accountPage(w http.ResponseWriter, r *http.Request, status int, refused *studio.Error) error {
	actor := kit.Actor(r)
	page := h.kit.Page(w, r, "Your account", "")
	form := accountForm{Email: actor.Email, Name: actor.Name}
	if refused != nil {
		form.Present, form.Next = refused.Problem("present"), refused.Problem("next")
	}
	return h.kit.Render(w, r, status, accountPage(page, form))
}

// ChangePassphrase replaces the passphrase, ends all sessions and signs this browser in again.
func (h *Handler) ChangePassphrase(w http.ResponseWriter, r *http.Request) error {
	values, err := kit.Form(w, r)
	if err != nil {
		return err
	}
	actor := kit.Actor(r)
	err = h.app.ChangePassphrase(r.Context(), actor, values.Get("present"), values.Get("next"))
	var refused *studio.Error
	if errors.As(err, &refused) && refused.Code == studio.Invalid {
		return h.accountPage(w, r, http.StatusUnprocessableEntity, refused)
	}
	if err != nil {
		return err
	}
	if err := h.kit.SignIn(w, r, actor.ID); err != nil {
		return err
	}
	return h.kit.Done(w, r, "Your passphrase is changed, and every other browser is signed out.", "/account")
}
