package people

import (
	"net/http"
	"net/url"

	"github.com/google/uuid"
	"rungbook/internal/app"
	"rungbook/internal/studio"
	"rungbook/web/kit"
)

// Children lists every child's record.
func (h *Handler) Children(w http.ResponseWriter, r *http.Request) error {
	p, err := h.app.People(r.Context(), kit.Actor(r))
	if err != nil {
		return err
	}
	page := h.page(w, r, "Children's records", kit.Crumb{Label: "People", URL: "/studio/people"})
	page.Intro = "Names, birth dates and contact. Where each child stands is under Children."
	page.Actions = kit.LinkButton(kit.Action{Label: "Add a child", URL: "/studio/children/new", Icon: "plus"})
	return h.show(w, r, http.StatusOK, listPage(page, peopleTabs(p, "children"), childrenTable(p), kit.EmptyState{Title: "No child yet",
		Text:   "Bring them all in from a spreadsheet, or add one by hand.",
		Button: &kit.Action{Label: "Import a roster", URL: "/studio/roster"}}))
}

func childrenTable(p app.People) kit.TableView {
	t := kit.TableView{Caption: "Children", HideCaption: true, Columns: []kit.Column{{Label: "Name"}, {Label: "Age", Numeric: true}, {Label: "Birth date"}, {Label: "Your number"}, {Label: "Joined"}}}
	for _, c := range p.Children {
		name := c.FullName()
		if left(c.LeftOn, p.Day) {
			name += " (left)"
		}
		t.Rows = append(t.Rows, kit.Row{Quiet: left(c.LeftOn, p.Day), Cells: []kit.Cell{kit.Link(name, childURL(c.ID)),
			kit.Text(itoa(studio.AgeOn(c.BirthDate, p.Day.Today))), kit.Text(inWords(c.BirthDate)), kit.Text(c.RosterRef), kit.Text(inWords(c.JoinedOn))}})
	}
	return t
}

func childURL(id uuid.UUID) string { return "/studio/children/" + id.String() }

// inviteURL is the invitation form with something filled in.
func inviteURL(field, id, name string) string {
	q := url.Values{field: {id}}
	if name != "" {
		q.Set("name", name)
	}
	return "/studio/people/invite?" + q.Encode()
}

// NewChildPage asks about a new child.
func (h *Handler) NewChildPage(w http.ResponseWriter, r *http.Request) error {
	return h.newChildPage(w, r, form{})
}

func (h *Handler) newChildPage(w http.ResponseWriter, r *http.Request, f form) error {
	page := h.page(w, r, "Add a child", kit.Crumb{Label: "People", URL: "/studio/people"}, kit.Crumb{Label: "Children's records", URL: "/studio/children"})
	return h.show(w, r, f.status(), childPage(page, childView{URL: "/studio/children/new"}, f))
}

// AddChild writes a new child.
func (h *Handler) AddChild(w http.ResponseWriter, r *http.Request) error {
	var c studio.ChildDetail
	return h.submit(w, r, func(f *kit.Reader) { c = readChild(f) }, func() (done, error) {
		id, err := h.app.AddChild(r.Context(), kit.Actor(r), c)
		return done{c.FullName() + " is added. A class is the next step.", childURL(id)}, err
	}, func(f form) error { return h.newChildPage(w, r, f) })
}

func readChild(f *kit.Reader) studio.ChildDetail {
	c := studio.ChildDetail{FamilyName: f.Text("family_name", 80, true), BirthDate: f.Date("birth_date", true),
		Contact: f.Text("contact", 400, false), RosterRef: f.Text("roster_ref", 60, false)}
	c.GivenName, c.JoinedOn, c.LeftOn = f.Text("given_name", 80, true), f.Date("joined_on", false), optional(f.Date("left_on", false))
	return c
}

// childView is a child's record on its page.
type childView struct {
	URL, InviteURL, StandingURL, EraseURL string
	Known                                 bool
	Alike                                 []string
	Classes                               kit.TableView
	Guardians                             []childLink // Name and URL are the guardian's
}

// Child shows one child's record.
func (h *Handler) Child(w http.ResponseWriter, r *http.Request) error {
	return h.childRecordPage(w, r, nil)
}

func (h *Handler) childRecordPage(w http.ResponseWriter, r *http.Request, typed *form) error {
	id, err := kit.ID(r, "child")
	if err != nil {
		return err
	}
	c, err := h.app.ChildRecord(r.Context(), kit.Actor(r), id)
	if err != nil {
		return err
	}
	page := h.page(w, r, c.FullName(), kit.Crumb{Label: "People", URL: "/studio/people"}, kit.Crumb{Label: "Children's records", URL: "/studio/children"})
	f := form{Values: values("given_name", c.GivenName, "family_name", c.FamilyName, "birth_date", isoDate(&c.BirthDate), "contact", c.Contact,
		"roster_ref", c.RosterRef, "joined_on", isoDate(&c.JoinedOn), "left_on", isoDate(c.LeftOn))}
	if typed != nil {
		f = *typed
	}
	return h.show(w, r, f.status(), childPage(page, newChildView(c), f))
}

func newChildView(c app.ChildRecord) childView {
	v := childView{URL: childURL(c.ID), EraseURL: eraseURL(c.ChildDetail), Known: true, Alike: c.Alike, StandingURL: "/children/" + c.ID.String(), InviteURL: inviteURL("child", c.ID.String(), "")}
	v.Classes = kit.TableView{Caption: "Classes", HideCaption: true, Columns: []kit.Column{{Label: "Class"}, {Label: "When"}}}
	for _, e := range c.Classes {
		v.Classes.Rows = append(v.Classes.Rows, kit.Row{Quiet: !e.HoldsOn(c.Day.Today), Cells: []kit.Cell{kit.Link(e.ClassName, classURL(e.ClassID)), kit.Text(span(e.FromOn, e.UntilOn))}})
	}
	for _, g := range c.Guardians {
		v.Guardians = append(v.Guardians, childLink{Name: g.Name, URL: accountURL(g.AccountID), Relation: g.Relation, Since: inWords(g.Since),
			RemoveURL: accountURL(g.AccountID) + "/guardians/" + c.ID.String() + "/remove",
			RightsURL: accountURL(g.AccountID) + "/guardians/" + c.ID.String() + "/rights", Rights: rightWords(g.Rights)})
	}
	return v
}

// SaveChild changes one child's record.
func (h *Handler) SaveChild(w http.ResponseWriter, r *http.Request) error {
	id, err := kit.ID(r, "child")
	if err != nil {
		return err
	}
	var c studio.ChildDetail
	return h.submit(w, r, func(f *kit.Reader) {
		c = readChild(f)
		if c.JoinedOn.IsZero() {
			f.Refuse("joined_on", "Fill this in.")
		}
	}, func() (done, error) {
		c.ID = id
		return done{"Saved.", childURL(id)}, h.app.SaveChild(r.Context(), kit.Actor(r), c)
	}, func(f form) error { return h.childRecordPage(w, r, &f) })
}

func joinedHint(known bool) string {
	if known {
		return ""
	}
	return "Today when left empty."
}
