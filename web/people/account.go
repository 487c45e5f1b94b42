package people

import (
	"fmt"
	"net/http"
	"strconv"
	"time"

	"github.com/google/uuid"
	"rungbook/internal/app"
	"rungbook/internal/studio"
	"rungbook/web/kit"
)

func itoa(n int) string { return strconv.Itoa(n) }

// People lists accounts and open links.
func (h *Handler) People(w http.ResponseWriter, r *http.Request) error {
	p, err := h.app.People(r.Context(), kit.Actor(r))
	if err != nil {
		return err
	}
	page := h.page(w, r, "People")
	page.Intro = "Accounts may sign in. Staff take or help at classes, with or without an account. Children have none: their guardians do."
	page.Actions = kit.LinkButton(kit.Action{Label: "Invite somebody", URL: "/studio/people/invite", Icon: "plus"})
	return h.show(w, r, http.StatusOK, peoplePage(page, peopleTabs(p, "accounts"), accountsTable(p), linksTable(p)))
}

func peopleTabs(p app.People, current string) []kit.Tab {
	return []kit.Tab{
		{Label: "Accounts", URL: "/studio/people", Current: current == "accounts", Count: itoa(len(p.Accounts))},
		{Label: "Staff", URL: "/studio/staff", Current: current == "staff", Count: itoa(len(p.Staff))},
		{Label: "Children", URL: "/studio/children", Current: current == "children", Count: itoa(len(p.Children))},
	}
}

func accountsTable(p app.People) kit.TableView {
	t := kit.TableView{Caption: "Accounts", HideCaption: true, Columns: []kit.Column{{Label: "Name"}, {Label: "E-mail address"}, {Label: "May be"}, {Label: "State"}}}
	for _, a := range p.Accounts {
		t.Rows = append(t.Rows, kit.Row{Quiet: a.DisabledAt != nil, Cells: []kit.Cell{
			kit.Link(a.Name, accountURL(a.ID)), kit.Text(a.Email), kit.Text(mayBe(a)), kit.Text(accountState(a))}})
	}
	return t
}

func accountURL(id uuid.UUID) string { return "/studio/people/" + id.String() }

// mayBe says what an account is to the studio.
func mayBe(a studio.Account) string {
	var words []string
	for _, role := range a.Roles {
		words = append(words, string(role))
	}
	if a.Children > 0 {
		words = append(words, "guardian of "+kit.Count(a.Children, "child", "children"))
	}
	return sentenceCase(joined(words, "nothing yet"))
}

func sentenceCase(words string) string {
	if words == "" {
		return ""
	}
	return string(words[0]-'a'+'A') + words[1:]
}

func accountState(a studio.Account) string {
	switch {
	case a.DisabledAt != nil:
		return "Locked"
	case a.JoinedAt == nil:
		return "No passphrase yet"
	}
	return "Can sign in"
}

func linksTable(p app.People) kit.TableView {
	t := kit.TableView{Caption: "Open links", HideCaption: true, Columns: []kit.Column{{Label: "For"}, {Label: "What it does"}, {Label: "Works until"}, {Label: ""}}}
	for _, i := range p.Invitations {
		t.Rows = append(t.Rows, kit.Row{Quiet: !i.OpenAt(p.Day.Now), Cells: []kit.Cell{
			kit.Text(i.Name + ", " + i.Email), kit.Text(linkPurpose(i)), kit.Text(linkEnd(i, p.Day)),
			kit.Part(withdrawButton(i.ID.String(), i.Name))}})
	}
	return t
}

func linkPurpose(i studio.Invitation) string {
	if i.Kind == studio.ResetLink {
		return "New passphrase"
	}
	var words []string
	for _, role := range i.Roles {
		words = append(words, string(role))
	}
	if len(i.ChildNames) > 0 {
		words = append(words, "guardian of "+joined(i.ChildNames, ""))
	}
	return "Join as " + joined(words, "nobody")
}

func linkEnd(i studio.Invitation, day app.Day) string {
	if !i.OpenAt(day.Now) {
		return "Ran out " + moment(i.ExpiresAt, day)
	}
	return moment(i.ExpiresAt, day)
}

// moment is a moment in the studio's time zone.
func moment(at time.Time, day app.Day) string { return at.In(day.Zone).Format("2 Jan 2006, 15:04") }

// WithdrawLink ends an open link.
func (h *Handler) WithdrawLink(w http.ResponseWriter, r *http.Request) error {
	id, err := kit.ID(r, "invitation")
	if err != nil {
		return err
	}
	return h.act(w, r, func(*kit.Reader) (done, error) {
		return done{"The link works no longer.", "/studio/people"}, h.app.WithdrawInvitation(r.Context(), kit.Actor(r), id)
	})
}

// Person shows one account with what can be changed about it.
func (h *Handler) Person(w http.ResponseWriter, r *http.Request) error {
	return h.personPage(w, r, form{})
}

func (h *Handler) personPage(w http.ResponseWriter, r *http.Request, f form) error {
	id, err := kit.ID(r, "account")
	if err != nil {
		return err
	}
	p, err := h.app.Person(r.Context(), kit.Actor(r), id)
	if err != nil {
		return err
	}
	all, err := h.app.People(r.Context(), kit.Actor(r))
	if err != nil {
		return err
	}
	page := h.page(w, r, p.Name, kit.Crumb{Label: "People", URL: "/studio/people"})
	return h.show(w, r, f.status(), personPage(page, newPersonView(p, all, kit.Actor(r)), f))
}

// personView is an account's page.
type personView struct {
	URL, Name, Email, State string
	Self, Locked, Joined    bool
	Roles                   []string
	StaffID                 string
	StaffChoices            []kit.Choice
	Children                []childLink
	ChildChoices            []kit.Choice
}

type childLink struct {
	Name, URL, RemoveURL, RightsURL, Relation, Since string
	Rights                                           []string
}

func newPersonView(p app.Person, all app.People, actor studio.Actor) personView {
	v := personView{URL: accountURL(p.ID), Name: p.Name, Email: p.Email, State: accountState(p.Account), Self: p.ID == actor.ID,
		Locked: p.DisabledAt != nil, Joined: p.JoinedAt != nil}
	for _, role := range p.Roles {
		v.Roles = append(v.Roles, string(role))
	}
	if p.Staff != nil {
		v.StaffID = p.Staff.ID.String()
	}
	v.StaffChoices = staffChoices(all, p.ID)
	guarded := map[uuid.UUID]bool{}
	for _, g := range p.Children {
		guarded[g.ChildID] = true
		v.Children = append(v.Children, childLink{Name: g.ChildName, URL: childURL(g.ChildID), Relation: g.Relation, Since: inWords(g.Since),
			RemoveURL: v.URL + "/guardians/" + g.ChildID.String() + "/remove", RightsURL: v.URL + "/guardians/" + g.ChildID.String() + "/rights", Rights: rightWords(g.Rights)})
	}
	for _, c := range all.Children {
		if !guarded[c.ID] && !left(c.LeftOn, all.Day) {
			v.ChildChoices = append(v.ChildChoices, childChoice(c))
		}
	}
	return v
}

// staffChoices are the staff records that an account can be given: those of nobody, and its own.
func staffChoices(all app.People, account uuid.UUID) []kit.Choice {
	var choices []kit.Choice
	for _, s := range all.Staff {
		if (s.AccountID == nil || *s.AccountID == account) && !left(s.LeftOn, all.Day) {
			choices = append(choices, kit.Choice{Value: s.ID.String(), Label: s.Name})
		}
	}
	return choices
}

func left(on *time.Time, day app.Day) bool { return on != nil && !on.After(day.Today) }

func childChoice(c studio.ChildDetail) kit.Choice {
	return kit.Choice{Value: c.ID.String(), Label: fmt.Sprintf("%s, born %s", c.FullName(), inWords(c.BirthDate))}
}
