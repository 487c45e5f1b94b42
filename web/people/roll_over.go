package people

import (
	"fmt"
	"net/http"
	"strings"

	"github.com/google/uuid"
	"rungbook/internal/app"
	"rungbook/internal/studio"
	"rungbook/web/kit"
)

// rollOverView is the page on which a term goes over into the next.
type rollOverView struct {
	URL, Term string
	Classes   []rollOverClass
	Targets   []kit.Choice // the classes that can go on
}

// rollOverClass is a class with the children in it.
type rollOverClass struct {
	Goes, NameField string // names of its fields
	Name, Meets     string
	On              bool
	NewName         string
	Problem         string
	Children        []rollOverChild
}

// rollOverChild is a child with where it goes.
type rollOverChild struct {
	Field, Name, Seen string
	To                string
}

// RollOverPage asks how a term goes over into the next.
func (h *Handler) RollOverPage(w http.ResponseWriter, r *http.Request) error {
	return h.rollOverPage(w, r, nil)
}

func (h *Handler) rollOverPage(w http.ResponseWriter, r *http.Request, typed *form) error {
	id, err := kit.ID(r, "term")
	if err != nil {
		return err
	}
	term, classes, err := h.app.RollOverOf(r.Context(), kit.Actor(r), id)
	if err != nil {
		return err
	}
	f := form{Values: values()}
	if typed != nil {
		f = *typed
	}
	page := h.page(w, r, "The term after "+term.Name, kit.Crumb{Label: "Terms", URL: "/studio/terms"}, kit.Crumb{Label: term.Name, URL: termURL(id)})
	page.Intro = "Classes go on with their times, their settings, their ladders and whoever takes them, and their lessons are made. Wishes about pairs go along where both go into one class. Children keep everything that was seen. " + term.Name + " stays as it is."
	return h.show(w, r, f.status(), rollOverPage(page, viewRollOver(id, term, classes, typed), f))
}

func viewRollOver(id uuid.UUID, term studio.Term, classes []app.RollOverClass, typed *form) rollOverView {
	v := rollOverView{URL: termURL(id) + "/next", Term: term.Name}
	for _, c := range classes {
		v.Targets = append(v.Targets, kit.Choice{Value: c.ID.String(), Label: c.Name})
	}
	for _, c := range classes {
		line := rollOverClass{Goes: "goes." + c.ID.String(), NameField: "name." + c.ID.String(), Name: c.Name, Meets: meets(c.Class), On: true, NewName: c.Name}
		if typed != nil {
			line.On, line.NewName, line.Problem = typed.ticked(line.Goes), typed.Get(line.NameField), typed.wrong(line.NameField)
		}
		for _, child := range c.Children {
			place := rollOverChild{Field: placeField(child.ChildID, c.ID), Name: strings.TrimSpace(child.GivenName + " " + child.FamilyName), To: c.ID.String(),
				Seen: fmt.Sprintf("%d years old then, %d of %d rungs secure", child.Age, child.Secure, child.Rungs)}
			if typed != nil {
				place.To = typed.Get(place.Field)
			}
			line.Children = append(line.Children, place)
		}
		v.Classes = append(v.Classes, line)
	}
	return v
}

func placeField(child, class uuid.UUID) string { return "to." + child.String() + "." + class.String() }

// RollOver makes the next term.
func (h *Handler) RollOver(w http.ResponseWriter, r *http.Request) error {
	id, err := kit.ID(r, "term")
	if err != nil {
		return err
	}
	var plan app.RollOver
	return h.submit(w, r, func(f *kit.Reader) { plan = readRollOver(f, id) }, func() (done, error) {
		made, err := h.app.RollTermOver(r.Context(), kit.Actor(r), plan)
		return done{fmt.Sprintf("%s is made: %s, %s in them, %s, %s about pairs.", plan.Next.Name, kit.Count(made.Classes, "class", "classes"),
			kit.Count(made.Children, "child", "children"), kit.Count(made.Lessons, "lesson", "lessons"), kit.Count(made.Pairs, "wish", "wishes")), termURL(made.Term)}, err
	}, func(f form) error { return h.rollOverPage(w, r, &f) })
}

// readRollOver reads which classes go on, and where each child goes: a class that goes on, or none.
func readRollOver(f *kit.Reader, from uuid.UUID) app.RollOver {
	plan := app.RollOver{From: from}
	plan.Next, plan.Holidays = readTerm(f)
	goes := map[uuid.UUID]bool{}
	for field := range f.Values {
		if id, ok := strings.CutPrefix(field, "goes."); ok {
			class, err := uuid.Parse(id)
			if err != nil {
				f.Refuse("classes", "Choose classes of the list.")
				continue
			}
			goes[class] = true
			plan.Classes = append(plan.Classes, app.ClassCopy{Class: class, Name: f.Text("name."+id, 80, true)})
		}
	}
	if len(goes) == 0 {
		f.Refuse("classes", "Choose at least one class that goes on.")
	}
	for field := range f.Values {
		parts := strings.Split(field, ".")
		to := f.Values.Get(field)
		if len(parts) != 3 || parts[0] != "to" || to == "" {
			continue
		}
		place, ok := readPlace(parts[1], parts[2], to)
		if !ok {
			f.Refuse("classes", "Choose a class of the list for each child.")
			continue
		}
		if goes[place.To] { // a child of a class that does not go on is in none yet
			plan.Places = append(plan.Places, place)
		}
	}
	return plan
}

func readPlace(child, from, to string) (p app.ChildPlace, ok bool) {
	for _, part := range []struct {
		text string
		into *uuid.UUID
	}{{child, &p.Child}, {from, &p.From}, {to, &p.To}} {
		id, err := uuid.Parse(part.text)
		if err != nil {
			return p, false
		}
		*part.into = id
	}
	return p, true
}

// PutAway makes a term read-only.
func (h *Handler) PutAway(w http.ResponseWriter, r *http.Request) error {
	return h.putAway(w, r, true, "Put away: it can be read, and nothing in it changes.")
}

// TakeOut lets a term that was put away be changed again.
func (h *Handler) TakeOut(w http.ResponseWriter, r *http.Request) error {
	return h.putAway(w, r, false, "Taken out: it can be changed again.")
}

func (h *Handler) putAway(w http.ResponseWriter, r *http.Request, away bool, said string) error {
	id, err := kit.ID(r, "term")
	if err != nil {
		return err
	}
	return h.act(w, r, func(*kit.Reader) (done, error) {
		return done{said, termURL(id)}, h.app.PutTermAway(r.Context(), kit.Actor(r), id, away)
	})
}
