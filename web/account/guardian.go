package account

import (
	"fmt"
	"net/http"
	"net/url"

	"github.com/google/uuid"
	"rungbook/internal/app"
	"rungbook/internal/studio"
	"rungbook/internal/words"
	"rungbook/web/kit"
)

// besideView is who else is a guardian of one's child.
type besideView struct {
	URL, Child string
	Guardians  []guardianLine
	Open       []openLine
	Values     url.Values
	Refused    *studio.Error
}

type guardianLine struct {
	Name, What, May, URL string
	Rights               []string
	Mine                 bool // let in by who asks
}

type openLine struct {
	Name, Until, WithdrawURL string
}

// wrong is what is wrong with a field of the invitation.
func (v besideView) wrong(field string) string {
	if v.Refused == nil {
		return ""
	}
	return v.Refused.Problem(field)
}

// rights are those ticked in the invitation; all of them at first.
func (v besideView) rights() []string {
	if v.Values == nil {
		return []string{string(studio.RightToReport), string(studio.RightToRead)}
	}
	return v.Values["rights"]
}

// rightChoices are the rights that a guardian can give to another.
func rightChoices(b *words.Book) []kit.Choice {
	return []kit.Choice{
		{Value: string(studio.RightToReport), Label: b.Say("guardian.hurt"), Hint: b.Say("guardian.hurt-hint")},
		{Value: string(studio.RightToRead), Label: b.Say("guardian.reports")},
	}
}

func box(size int) string { return fmt.Sprintf("0 0 %d %d", size, size) }

// Guardians shows who else is a guardian of one's child, and the way to invite somebody.
func (h *Handler) Guardians(w http.ResponseWriter, r *http.Request) error {
	return h.besidePage(w, r, nil, nil)
}

func (h *Handler) besidePage(w http.ResponseWriter, r *http.Request, values url.Values, refused *studio.Error) error {
	child, err := kit.ID(r, "child")
	if err != nil {
		return err
	}
	actor, b := kit.Actor(r), kit.Words(r)
	beside, err := h.app.GuardiansOf(r.Context(), actor, child)
	if err != nil {
		return err
	}
	v := besideView{URL: "/account/children/" + child.String(), Child: beside.ChildName, Values: values, Refused: refused}
	for _, g := range beside.Guardians {
		v.Guardians = append(v.Guardians, lineOf(b, v.URL, g, actor, beside.Day))
	}
	for _, i := range beside.Open {
		v.Open = append(v.Open, openLine{Name: i.Name + ", " + i.Email, Until: moment(b, i.ExpiresAt, beside.Day), WithdrawURL: v.URL + "/links/" + i.ID.String() + "/withdraw"})
	}
	page := h.kit.Page(w, r, b.Say("guardian.title", "Child", beside.ChildName), "")
	page.Crumbs = []kit.Crumb{{Label: kit.Words(r).Say("account.title"), URL: "/account"}}
	page.Intro = b.Say("guardian.intro")
	status := http.StatusOK
	if refused != nil {
		status = statusOf(refused)
	}
	return h.kit.Render(w, r, status, besidePage(page, v))
}

func lineOf(b *words.Book, at string, g studio.Guardian, actor studio.Actor, day app.Day) guardianLine {
	since := b.Date(g.Since.In(day.Zone))
	line := guardianLine{Name: g.Name, What: b.Say("guardian.since", "Day", since), May: mayInWords(b, g.Rights), URL: at + "/guardians/" + g.AccountID.String()}
	for _, r := range g.Rights {
		line.Rights = append(line.Rights, string(r))
	}
	switch {
	case g.AccountID == actor.ID:
		line.Name = b.Say("guardian.you", "Name", g.Name)
	case g.InvitedBy != nil && *g.InvitedBy == actor.ID:
		line.Mine, line.What = true, b.Say("guardian.since-yours", "Day", since)
	default:
		line.What = b.Say("guardian.since-other", "Day", since)
	}
	return line
}

func rightsOf(values []string) []studio.GuardianRight {
	var rights []studio.GuardianRight
	for _, v := range values {
		rights = append(rights, studio.GuardianRight(v))
	}
	return rights
}

// InviteGuardian makes the link and shows it once.
func (h *Handler) InviteGuardian(w http.ResponseWriter, r *http.Request) error {
	values, err := kit.Form(w, r)
	if err != nil {
		return err
	}
	child, err := kit.ID(r, "child")
	if err != nil {
		return err
	}
	link, err := h.app.InviteGuardian(r.Context(), kit.Actor(r), child, values.Get("name"), values.Get("email"), rightsOf(values["rights"]))
	if refused := refusal(err); refused != nil {
		return h.besidePage(w, r, values, refused)
	}
	if err != nil {
		return err
	}
	page := h.kit.Page(w, r, kit.Words(r).Say("guardian.invitation"), "")
	page.Crumbs = []kit.Crumb{{Label: kit.Words(r).Say("account.title"), URL: "/account"}, {Label: kit.Words(r).Say("account.guardians"), URL: "/account/children/" + child.String()}}
	return h.kit.Render(w, r, http.StatusOK, guardianLinkPage(page, linkView{URL: link.URL, Name: link.Name, Email: link.Email, Until: moment(kit.Words(r), link.ExpiresAt, link.Day),
		Sent: link.Sent, Failed: link.SendError != nil, BackURL: "/account/children/" + child.String()}))
}

// linkView is a link that is shown this once.
type linkView struct {
	URL, Name, Email, Until, BackURL string
	Sent, Failed                     bool
}

// changeGuardian runs a change of one guardian of one's child.
func (h *Handler) changeGuardian(w http.ResponseWriter, r *http.Request, part, done string, change func(child, id uuid.UUID) error) error {
	child, err := kit.ID(r, "child")
	if err != nil {
		return err
	}
	id, err := kit.ID(r, part)
	if err != nil {
		return err
	}
	if err := change(child, id); err != nil {
		return err
	}
	return h.kit.Done(w, r, done, "/account/children/"+child.String())
}

// ChangeGuardian changes what somebody may whom one let in.
func (h *Handler) ChangeGuardian(w http.ResponseWriter, r *http.Request) error {
	values, err := kit.Form(w, r)
	if err != nil {
		return err
	}
	return h.changeGuardian(w, r, "guardian", kit.Words(r).Say("guardian.saved"), func(child, account uuid.UUID) error {
		return h.app.ChangeGuardian(r.Context(), kit.Actor(r), child, account, rightsOf(values["rights"]))
	})
}

// EndGuardian takes somebody away again whom one let in.
func (h *Handler) EndGuardian(w http.ResponseWriter, r *http.Request) error {
	return h.changeGuardian(w, r, "guardian", kit.Words(r).Say("guardian.removed"), func(child, account uuid.UUID) error {
		return h.app.EndGuardian(r.Context(), kit.Actor(r), child, account)
	})
}

// WithdrawGuardian ends an open link of one's own.
func (h *Handler) WithdrawGuardian(w http.ResponseWriter, r *http.Request) error {
	return h.changeGuardian(w, r, "link", kit.Words(r).Say("guardian.withdrawn"), func(child, invitation uuid.UUID) error {
		return h.app.WithdrawGuardian(r.Context(), kit.Actor(r), child, invitation)
	})
}
