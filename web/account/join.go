package account

import (
	"errors"
	"net/http"

	"github.com/go-chi/chi/v5"
	"rungbook/internal/studio"
	"rungbook/web/kit"
)

// joinView is what a link is for.
type joinView struct {
	URL, Name, Email string
	Reset            bool
	Studio           bool // somebody at the studio made the link
	Known            bool // the address has an account already
	Own              bool // and its holder is signed in
	Roles            string
	Children         []string
	Passphrase       string // what is wrong with it
}

// JoinPage shows whom a link is for and asks for a passphrase. Opening it uses nothing up.
func (h *Handler) JoinPage(w http.ResponseWriter, r *http.Request) error {
	return h.joinPage(w, r, http.StatusOK, "")
}

func (h *Handler) joinPage(w http.ResponseWriter, r *http.Request, status int, wrong string) error {
	i, err := h.app.Invitation(r.Context(), chi.URLParam(r, "token"))
	if err != nil {
		return h.linkError(w, r, err)
	}
	v := joinView{URL: r.URL.Path, Name: i.Name, Email: i.Email, Reset: i.Kind == studio.ResetLink, Studio: i.CreatedBy != nil, Children: i.ChildNames, Passphrase: wrong}
	v.Roles = kit.RolesIn(kit.Words(r), i.Roles)
	if v.Known, err = h.app.LinkHasAccount(r.Context(), chi.URLParam(r, "token")); err != nil {
		return h.linkError(w, r, err)
	}
	v.Own = v.Known && kit.Actor(r).Email == i.Email
	title := kit.Words(r).Say("join.welcome", "Name", i.Name)
	if v.Reset {
		title = kit.Words(r).Say("join.reset")
	}
	w.Header().Set("Referrer-Policy", "no-referrer") // the address holds a secret
	return h.kit.Render(w, r, status, joinPage(h.kit.Page(w, r, title, ""), v))
}

// Join uses the link and signs its holder in. One to an address that has an account is accepted by that account.
func (h *Handler) Join(w http.ResponseWriter, r *http.Request) error {
	values, err := kit.Form(w, r)
	if err != nil {
		return err
	}
	token := chi.URLParam(r, "token")
	if known, err := h.app.LinkHasAccount(r.Context(), token); err != nil {
		return h.linkError(w, r, err)
	} else if known {
		return h.accept(w, r, token)
	}
	account, err := h.app.JoinBy(r.Context(), token, values.Get("passphrase"))
	var refused *studio.Error
	if errors.As(err, &refused) && refused.Problem("passphrase") != "" {
		return h.joinPage(w, r, http.StatusUnprocessableEntity, refused.Problem("passphrase"))
	}
	if err != nil {
		return h.linkError(w, r, err)
	}
	return h.enter(w, r, account, "")
}

func (h *Handler) accept(w http.ResponseWriter, r *http.Request, token string) error {
	if err := h.app.AcceptLink(r.Context(), kit.Actor(r), token); err != nil {
		return h.linkError(w, r, err)
	}
	return h.kit.Done(w, r, kit.Words(r).Say("join.accepted"), "/home")
}

// linkError shows a link that does not work on a plain page with the way out.
func (h *Handler) linkError(w http.ResponseWriter, r *http.Request, err error) error {
	var e *studio.Error
	if !errors.As(err, &e) || e.Code != studio.NotFound {
		return err
	}
	return h.kit.Render(w, r, http.StatusNotFound, spentPage(h.kit.Page(w, r, kit.Words(r).Say("join.spent-title"), ""), e.Text))
}
