package demo

import (
	"context"
	"fmt"
	"path"
	"time"

	"github.com/google/uuid"
	"rungbook/internal/app"
	"rungbook/internal/studio"
)

// house is the studio while it is made: what later parts need of earlier ones.
type house struct {
	use            *app.App
	now            time.Time
	today          time.Time
	skills         skills
	staff          map[string]uuid.UUID // by name
	children       map[string]uuid.UUID // by full name
	accounts       map[string]uuid.UUID // by e-mail address, of those who joined
	term           studio.Term
	classes        map[string]uuid.UUID
	earlier        studio.Term // the term before
	earlierClasses map[string]uuid.UUID
	tonight        app.ClassRecord // the first class
}

// ago is a birth date: so many years and days before today.
func (h *house) ago(years, days int) time.Time { return h.today.AddDate(-years, 0, -days) }

func (h *house) addEquipment(ctx context.Context) error {
	return h.use.SaveEquipment(ctx, studio.ProgramActor(),
		studio.Equipment{Key: "panel-mat", Name: "Panel mat", Stock: 12},
		studio.Equipment{Key: "landing-mat", Name: "Landing mat", Stock: 4},
		studio.Equipment{Key: "wedge", Name: "Wedge", Stock: 2},
		studio.Equipment{Key: "block", Name: "Block", Stock: 6},
		studio.Equipment{Key: "bench", Name: "Low bench", Stock: 2},
		studio.Equipment{Key: "barrel", Name: "Barrel", Stock: 1},
		studio.Equipment{Key: "wall", Name: "Stretch of free wall", Stock: 3},
		studio.Equipment{Key: "line", Name: "Taped line", Stock: 8})
}

func (h *house) addStaff(ctx context.Context) error {
	h.staff = map[string]uuid.UUID{}
	for _, p := range staff() {
		record := studio.StaffDetail{Staff: studio.Staff{Name: p.name, Trainee: p.trainee, CanLead: p.leads}, BirthDate: h.ago(p.years, p.days), Phone: p.phone}
		id, err := h.use.AddStaff(ctx, studio.ProgramActor(), record)
		if err != nil {
			return err
		}
		h.staff[p.name] = id
	}
	return nil
}

func (h *house) addChildren(ctx context.Context) error {
	h.children = map[string]uuid.UUID{}
	term, _ := theTerm(h.today)
	for i, p := range pupils() {
		record := studio.ChildDetail{Child: studio.Child{GivenName: p.given, JoinedOn: h.ago(1, 7*i)}, FamilyName: p.family, BirthDate: h.ago(p.years, p.days),
			RosterRef: fmt.Sprintf("TB-%03d", 101+i)}
		if p.earlierClass() == "" {
			record.JoinedOn = term.StartsOn
		}
		id, err := h.use.AddChild(ctx, studio.ProgramActor(), record)
		if err != nil {
			return err
		}
		h.children[p.fullName()] = id
	}
	return nil
}

// addAccounts invites everybody and answers the invitations of those who have a passphrase.
func (h *house) addAccounts(ctx context.Context) error {
	h.accounts = map[string]uuid.UUID{}
	for _, p := range staff() {
		if p.email == "" {
			continue
		}
		record := h.staff[p.name]
		if err := h.invite(ctx, studio.Invitation{Email: p.email, Name: p.name, Roles: p.roles, StaffID: &record}, p.passphrase); err != nil {
			return err
		}
	}
	for _, p := range parents() {
		var children []uuid.UUID
		for _, name := range p.children {
			children = append(children, h.children[name])
		}
		if id, joined := h.accounts[p.email]; joined { // works at the studio, too
			if err := h.use.AddGuardian(ctx, studio.ProgramActor(), id, children[0], p.relation); err != nil {
				return err
			}
			continue
		}
		if err := h.invite(ctx, studio.Invitation{Email: p.email, Name: p.name, ChildIDs: children}, p.passphrase); err != nil {
			return err
		}
	}
	return nil
}

func (h *house) invite(ctx context.Context, i studio.Invitation, passphrase string) error {
	link, err := h.use.Invite(ctx, studio.ProgramActor(), i)
	if err != nil {
		return fmt.Errorf("invite %s: %w", i.Email, err)
	}
	if passphrase == "" {
		return nil
	}
	if h.accounts[i.Email], err = h.use.JoinBy(ctx, path.Base(link.URL), passphrase); err != nil {
		return fmt.Errorf("join as %s: %w", i.Email, err)
	}
	return nil
}

func (h *house) addTerm(ctx context.Context) error {
	term, holiday := theTerm(h.today)
	var err error
	term.ID, err = h.use.AddTerm(ctx, studio.ProgramActor(), term, []studio.Holiday{holiday})
	h.term = term
	return err
}

func (h *house) addClasses(ctx context.Context) error {
	h.classes = map[string]uuid.UUID{}
	for _, c := range courses() {
		id, err := h.use.AddClass(ctx, studio.ProgramActor(), h.classOf(c, h.term.ID))
		if err != nil {
			return err
		}
		h.classes[c.name] = id
		if err := h.fillClass(ctx, c, id); err != nil {
			return err
		}
	}
	var err error
	h.tonight, err = h.use.ClassRecord(ctx, studio.ProgramActor(), h.classes[courses()[0].name])
	return err
}

// classOf is a course as a class of a term.
func (h *house) classOf(c course, term uuid.UUID) studio.Class {
	class := h.use.NewClass()
	class.TermID, class.Name, class.Weekday, class.StartsAt = term, c.name, c.weekday(h.today), c.startsAt
	class.TimeZone, class.Minutes, class.Groups, class.Focus = TimeZone, c.minutes, c.groups, c.focus
	return class
}

// fillClass gives a class its lessons, its people and its children.
func (h *house) fillClass(ctx context.Context, c course, id uuid.UUID) error {
	if _, err := h.use.MakeLessons(ctx, studio.ProgramActor(), id); err != nil {
		return fmt.Errorf("make the lessons of %s: %w", c.name, err)
	}
	for _, name := range c.teachers {
		if err := h.roster(ctx, id, name, studio.TeacherDuty); err != nil {
			return err
		}
	}
	for _, name := range c.helpers {
		if err := h.roster(ctx, id, name, studio.AssistantDuty); err != nil {
			return err
		}
	}
	var children []uuid.UUID
	for _, p := range pupils() {
		if p.class == c.name || p.also == c.name {
			children = append(children, h.children[p.fullName()])
		}
	}
	return h.use.Enrol(ctx, studio.ProgramActor(), id, h.term.StartsOn, children...)
}

func (h *house) roster(ctx context.Context, class uuid.UUID, name string, duty studio.Duty) error {
	place := studio.ClassStaff{ClassID: class, StaffID: h.staff[name], Duty: duty, FromOn: h.term.StartsOn}
	if err := h.use.Roster(ctx, studio.ProgramActor(), place); err != nil {
		return fmt.Errorf("put %s on a class: %w", name, err)
	}
	return nil
}

func (h *house) addSignOffs(ctx context.Context) error {
	for _, p := range staff() {
		for _, s := range p.signedOff {
			grant := app.SignOffGrant{StaffID: h.staff[p.name], Rungs: h.skills.spotted(s.ladder, s.until),
				From: h.today.AddDate(0, 0, -s.from), Until: h.today.AddDate(0, 0, s.expires)}
			if _, err := h.use.GrantSignOff(ctx, studio.ProgramActor(), grant); err != nil {
				return fmt.Errorf("sign off %s: %w", p.name, err)
			}
		}
	}
	return nil
}

// as is an account of the studio, acting.
func (h *house) as(email string, roles ...studio.Role) studio.Actor {
	return studio.Actor{ID: h.accounts[email], Email: email, Roles: roles}
}
