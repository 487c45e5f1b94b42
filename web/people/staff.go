package people

import (
	"net/http"
	"slices"

	"github.com/google/uuid"
	"rungbook/internal/app"
	"rungbook/internal/studio"
	"rungbook/web/kit"
)

// Staff lists who takes or helps at classes.
func (h *Handler) Staff(w http.ResponseWriter, r *http.Request) error {
	p, err := h.app.People(r.Context(), kit.Actor(r))
	if err != nil {
		return err
	}
	page := h.page(w, r, "Staff", kit.Crumb{Label: "People", URL: "/studio/people"})
	page.Actions = kit.LinkButton(kit.Action{Label: "Add staff", URL: "/studio/staff/new", Icon: "plus"})
	return h.show(w, r, http.StatusOK, listPage(page, peopleTabs(p, "staff"), staffTable(p), kit.EmptyState{Title: "Nobody takes a class yet",
		Text:   "Add yourself first, then whoever else teaches or helps. A record needs no account.",
		Button: &kit.Action{Label: "Add staff", URL: "/studio/staff/new"}}))
}

func staffTable(p app.People) kit.TableView {
	t := kit.TableView{Caption: "Staff", HideCaption: true, Columns: []kit.Column{{Label: "Name"}, {Label: "Age", Numeric: true}, {Label: "At a class"}, {Label: "Phone"}, {Label: "Account"}}}
	for _, s := range p.Staff {
		account := kit.Text("None")
		if i := slices.IndexFunc(p.Accounts, func(a studio.Account) bool { return s.AccountID != nil && a.ID == *s.AccountID }); i >= 0 {
			account = kit.Link(p.Accounts[i].Email, accountURL(p.Accounts[i].ID))
		}
		name := s.Name
		if left(s.LeftOn, p.Day) {
			name += " (left)"
		}
		t.Rows = append(t.Rows, kit.Row{Quiet: left(s.LeftOn, p.Day), Cells: []kit.Cell{kit.Link(name, staffURL(s.ID)),
			kit.Text(itoa(studio.AgeOn(s.BirthDate, p.Day.Today))), kit.Text(atClass(s.Staff)), kit.Text(s.Phone), account}})
	}
	return t
}

func staffURL(id uuid.UUID) string { return "/studio/staff/" + id.String() }

func atClass(s studio.Staff) string {
	switch {
	case s.Trainee:
		return "Trainee: helps, never spots"
	case s.CanLead:
		return "May run a station"
	}
	return "Helps at a station"
}

// NewStaffPage asks about somebody new.
func (h *Handler) NewStaffPage(w http.ResponseWriter, r *http.Request) error {
	return h.newStaffPage(w, r, form{Values: values("can_lead", "yes")})
}

func (h *Handler) newStaffPage(w http.ResponseWriter, r *http.Request, f form) error {
	page := h.page(w, r, "Add staff", kit.Crumb{Label: "People", URL: "/studio/people"}, kit.Crumb{Label: "Staff", URL: "/studio/staff"})
	return h.show(w, r, f.status(), staffPage(page, staffView{URL: "/studio/staff/new"}, f))
}

// AddStaff writes somebody new.
func (h *Handler) AddStaff(w http.ResponseWriter, r *http.Request) error {
	var s studio.StaffDetail
	return h.submit(w, r, func(f *kit.Reader) { s = readStaff(f) }, func() (done, error) {
		id, err := h.app.AddStaff(r.Context(), kit.Actor(r), s)
		return done{s.Name + " is added.", staffURL(id)}, err
	}, func(f form) error { return h.newStaffPage(w, r, f) })
}

func readStaff(f *kit.Reader) studio.StaffDetail {
	s := studio.StaffDetail{BirthDate: f.Date("birth_date", true), Phone: f.Text("phone", 40, false)}
	s.Name, s.Trainee, s.CanLead = f.Text("name", 120, true), f.Tick("trainee"), f.Tick("can_lead")
	s.LeftOn = optional(f.Date("left_on", false))
	return s
}

// staffView is a staff record's page.
type staffView struct {
	URL, InviteURL, AccountURL string
	SignOffs                   kit.TableView
	Known                      bool
}

// StaffMember shows one record.
func (h *Handler) StaffMember(w http.ResponseWriter, r *http.Request) error {
	return h.staffMemberPage(w, r, nil)
}

func (h *Handler) staffMemberPage(w http.ResponseWriter, r *http.Request, typed *form) error {
	id, err := kit.ID(r, "staff")
	if err != nil {
		return err
	}
	m, err := h.app.StaffMember(r.Context(), kit.Actor(r), id)
	if err != nil {
		return err
	}
	page := h.page(w, r, m.Name, kit.Crumb{Label: "People", URL: "/studio/people"}, kit.Crumb{Label: "Staff", URL: "/studio/staff"})
	v := staffView{URL: staffURL(id), Known: true, SignOffs: signOffTable(m.SignOffs, m.Day, false)}
	if m.AccountID != nil {
		v.AccountURL = accountURL(*m.AccountID)
	} else if !left(m.LeftOn, m.Day) {
		v.InviteURL = inviteURL("staff", id.String(), m.Name)
	}
	f := form{Values: values("name", m.Name, "birth_date", isoDate(&m.BirthDate), "phone", m.Phone, "trainee", tick(m.Trainee), "can_lead", tick(m.CanLead), "left_on", isoDate(m.LeftOn))}
	if typed != nil {
		f = *typed
	}
	return h.show(w, r, f.status(), staffPage(page, v, f))
}

// SaveStaff changes one record.
func (h *Handler) SaveStaff(w http.ResponseWriter, r *http.Request) error {
	id, err := kit.ID(r, "staff")
	if err != nil {
		return err
	}
	var s studio.StaffDetail
	return h.submit(w, r, func(f *kit.Reader) { s = readStaff(f) }, func() (done, error) {
		s.ID = id
		return done{"Saved.", staffURL(id)}, h.app.SaveStaff(r.Context(), kit.Actor(r), s)
	}, func(f form) error { return h.staffMemberPage(w, r, &f) })
}
