package account

import (
	"net/http"
	"strings"

	"rungbook/internal/app"
	"rungbook/internal/studio"
	"rungbook/internal/words"
	"rungbook/web/kit"
)

// ownView is one's own account.
type ownView struct {
	Name, Email string
	Language    string // chosen, or ""
	Browsers    []browserLine
	Others      bool // there are other browsers
	Passkeys    []passkeyLine
	Offers      bool // passkeys
	Codes       app.Authenticator
	Children    []childLine
	Lately      []latelyLine
	Pending     string // the address that counts once its link is opened
	Mail        bool   // the studio sends e-mail
	Form        ownForm
}

type browserLine struct {
	Kind, Since, Seen, EndURL string
	This                      bool
}

type passkeyLine struct {
	Name, When, URL string // When it was added and last used
}

type childLine struct {
	Name, May, URL string // URL is empty when the actor cannot let others in
}

// ownForm is a form of the page that was refused: which one, what was typed and what is wrong.
type ownForm struct {
	Which, Email string
	Refused      *studio.Error
}

// wrong is what is wrong with a field of one of the forms.
func (f ownForm) wrong(which, field string) string {
	if f.Refused == nil || f.Which != which {
		return ""
	}
	return f.Refused.Problem(field)
}

// open reports whether a form is drawn open: it was refused.
func (f ownForm) open(which string) bool { return f.Refused != nil && f.Which == which }

// status is that of the page.
func (f ownForm) status() int {
	if f.Refused == nil {
		return http.StatusOK
	}
	return statusOf(f.Refused)
}

// general is what is wrong with no single field.
func (f ownForm) general() string {
	if f.Refused == nil || len(f.Refused.Fields) > 0 {
		return ""
	}
	return f.Refused.Text
}

// Account shows one's own account.
func (h *Handler) Account(w http.ResponseWriter, r *http.Request) error {
	return h.ownPage(w, r, ownForm{})
}

func (h *Handler) ownPage(w http.ResponseWriter, r *http.Request, form ownForm) error {
	v, err := h.own(r)
	if err != nil {
		return err
	}
	v.Form = form
	page := h.kit.Page(w, r, kit.Words(r).Say("account.title"), "")
	if v.Offers {
		page.Scripts = []string{passkeyScript}
	}
	return h.kit.Render(w, r, form.status(), ownPage(page, v))
}

func (h *Handler) own(r *http.Request) (ownView, error) {
	actor, b := kit.Actor(r), kit.Words(r)
	v := ownView{Name: actor.Name, Email: actor.Email, Language: actor.Language, Offers: h.app.OffersPasskeys(), Mail: h.app.SendsMail()}
	hash, err := h.kit.SessionHash(r)
	if err != nil {
		return v, err
	}
	browsers, day, err := h.app.Browsers(r.Context(), actor, hash)
	if err != nil {
		return v, err
	}
	for _, one := range browsers {
		v.Browsers = append(v.Browsers, browserLine{Kind: app.BrowserInWords(b, one.Kind), Since: moment(b, one.SignedIn, day), Seen: moment(b, one.Seen, day),
			EndURL: "/account/sessions/" + one.ID.String() + "/end", This: one.This})
		v.Others = v.Others || !one.This
	}
	if v.Offers {
		if err := h.addPasskeys(r, day, &v); err != nil {
			return v, err
		}
	}
	if err := h.addLately(r, day, &v); err != nil {
		return v, err
	}
	if v.Pending, err = h.app.PendingEmail(r.Context(), actor); err != nil {
		return v, err
	}
	if v.Codes, err = h.app.OwnAuthenticator(r.Context(), actor); err != nil {
		return v, err
	}
	children, err := h.app.OwnGuardianships(r.Context(), actor)
	for _, c := range children {
		line := childLine{Name: c.ChildName, May: mayInWords(b, c.Rights)}
		if c.May(studio.RightToInvite) {
			line.URL = "/account/children/" + c.ChildID.String()
		}
		v.Children = append(v.Children, line)
	}
	return v, err
}

func (h *Handler) addPasskeys(r *http.Request, day app.Day, v *ownView) error {
	b := kit.Words(r)
	keys, err := h.app.OwnPasskeys(r.Context(), kit.Actor(r))
	for _, k := range keys {
		made := moment(b, k.MadeAt, day)
		line := passkeyLine{Name: k.Name, When: b.Say("passkey.added-unused", "Made", made), URL: "/account/passkeys/" + k.ID.String()}
		if k.UsedAt != nil {
			line.When = b.Say("passkey.added-on", "Made", made, "Used", moment(b, *k.UsedAt, day))
		}
		v.Passkeys = append(v.Passkeys, line)
	}
	return err
}

// mayInWords says what a guardian may.
func mayInWords(b *words.Book, rights []studio.GuardianRight) string {
	may := []string{b.Say("guardian.may-see")}
	for _, r := range rights {
		switch r {
		case studio.RightToReport:
			may = append(may, b.Say("guardian.may-hurt"))
		case studio.RightToRead:
			may = append(may, b.Say("guardian.may-reports"))
		case studio.RightToInvite:
			may = append(may, b.Say("guardian.may-invite"))
		}
	}
	return b.Say("guardian.may", "What", b.List(may))
}

// ChangePassphrase replaces the passphrase, ends all sessions and signs this browser in again.
func (h *Handler) ChangePassphrase(w http.ResponseWriter, r *http.Request) error {
	values, err := kit.Form(w, r)
	if err != nil {
		return err
	}
	actor := kit.Actor(r)
	err = h.app.ChangePassphrase(r.Context(), actor, values.Get("present"), values.Get("next"))
	if refused := refusal(err); refused != nil {
		return h.ownPage(w, r, ownForm{Which: "passphrase", Refused: refused})
	}
	if err != nil {
		return err
	}
	if err := h.kit.SignIn(w, r, actor.ID); err != nil {
		return err
	}
	return h.kit.Done(w, r, kit.Words(r).Say("passphrase.changed"), "/account")
}

// ChangeEmail changes the address, given the passphrase.
func (h *Handler) ChangeEmail(w http.ResponseWriter, r *http.Request) error {
	values, err := kit.Form(w, r)
	if err != nil {
		return err
	}
	email := strings.TrimSpace(values.Get("email"))
	err = h.app.ChangeEmail(r.Context(), kit.Actor(r), values.Get("email-present"), email)
	if refused := refusal(err); refused != nil {
		return h.ownPage(w, r, ownForm{Which: "email", Email: email, Refused: refused})
	}
	if err != nil {
		return err
	}
	return h.kit.Done(w, r, changedEmail(kit.Words(r), email, h.app.SendsMail()), "/account")
}

// EndSession signs one of one's browsers out.
func (h *Handler) EndSession(w http.ResponseWriter, r *http.Request) error {
	id, err := kit.ID(r, "session")
	if err == nil {
		err = h.app.EndBrowser(r.Context(), kit.Actor(r), id)
	}
	if err != nil {
		return err
	}
	err = h.kit.Done(w, r, kit.Words(r).Say("browser.ended"), "/account#browsers")
	if studio.CodeOf(err) == studio.SignedOut { // it was this one
		http.Redirect(w, r, "/sign-in", http.StatusSeeOther)
		return nil
	}
	return err
}

// EndOtherSessions signs every other browser out.
func (h *Handler) EndOtherSessions(w http.ResponseWriter, r *http.Request) error {
	hash, err := h.kit.SessionHash(r)
	if err != nil {
		return err
	}
	if _, err := h.app.EndOtherBrowsers(r.Context(), kit.Actor(r), hash); err != nil {
		return err
	}
	return h.kit.Done(w, r, kit.Words(r).Say("browser.others-ended"), "/account#browsers")
}
