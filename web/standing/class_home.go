package standing

import (
	"net/http"
	"net/url"
	"strconv"
	"strings"

	"github.com/google/uuid"
	"rungbook/internal/app"
	"rungbook/internal/studio"
	"rungbook/web/kit"
)

// classHomeModel is the page that sends drills home with a class, with what was typed.
type classHomeModel struct {
	app.ClassHomeView
	homeForm
	ticked []string // children, as typed; nil before anything was
}

// ClassHome ranks drills for a class; ?drill= opens the form for one, and ?lesson= means only who was at that lesson.
func (h *Handler) ClassHome(w http.ResponseWriter, r *http.Request) error {
	q := r.URL.Query()
	return h.classHomePage(w, r, http.StatusOK, q.Get("lesson"), classHomeModel{homeForm: homeForm{Drill: q.Get("drill")}})
}

func (h *Handler) classHomePage(w http.ResponseWriter, r *http.Request, status int, lesson string, m classHomeModel) error {
	id, err := kit.ID(r, "class")
	if err != nil {
		return err
	}
	meant, err := lessonMeant(lesson)
	if err != nil || m.Drill != "" && !studio.IsKey(m.Drill) {
		return studio.Missing()
	}
	if m.ClassHomeView, err = h.app.HomeOfClass(r.Context(), kit.Actor(r), id, meant, m.Drill); err != nil {
		return err
	}
	if m.Chosen != nil && status == http.StatusOK {
		m.fill(*m.Chosen, m.Today, m.Today.AddDate(0, 0, 13))
	}
	page := h.kit.Page(w, r, "Drills for home: "+m.Class, kit.SectionClasses).WithProblem(m.Problems.Err())
	page.Heading = "Drills for home"
	page.Intro = "For the children of " + m.Class + "."
	if meant != uuid.Nil {
		page.Intro = "For the children of " + m.Class + " who were at the lesson."
	}
	page.Crumbs = []kit.Crumb{{Label: "Classes", URL: "/classes"}, {Label: m.Class, URL: "/classes/" + id.String()}}
	if m.Chosen != nil {
		page.Crumbs = append(page.Crumbs, kit.Crumb{Label: "Drills for home", URL: m.path("")})
		page.Title, page.Heading = m.Chosen.Name+": "+m.Class, m.Chosen.Name
	}
	return h.kit.Render(w, r, status, classHomePage(page, m))
}

// lessonMeant reads an id that may be left out.
func lessonMeant(text string) (uuid.UUID, error) {
	if text == "" {
		return uuid.Nil, nil
	}
	return uuid.Parse(text)
}

// SendClass sends a drill home with the children who are ticked.
func (h *Handler) SendClass(w http.ResponseWriter, r *http.Request) error {
	id, err := kit.ID(r, "class")
	if err != nil {
		return err
	}
	values, err := kit.Form(w, r)
	if err != nil {
		return err
	}
	form, send := readHome(values)
	f := &form.Problems
	children := f.IDs("child")
	lesson, err := lessonMeant(values.Get("lesson"))
	if err != nil {
		return studio.Missing()
	}
	var sent app.ClassSent
	if f.Err() == nil {
		sent, err = h.app.SendClass(r.Context(), kit.Actor(r), app.ClassSend{Class: id, Lesson: lesson, Drill: send.Drill, Dose: send.Dose, From: send.From, Until: send.Until, Why: send.Why, Children: children})
	}
	if f.Took(err) {
		return h.classHomePage(w, r, http.StatusUnprocessableEntity, values.Get("lesson"), classHomeModel{homeForm: form, ticked: append([]string{""}, values["child"]...)})
	}
	if err != nil {
		return err
	}
	m := classHomeModel{ClassHomeView: app.ClassHomeView{ID: id, Lesson: lesson}}
	return h.kit.Done(w, r, sent.Words(), m.path(""))
}

// path is the page for a drill, "" for the list.
func (m classHomeModel) path(drill string) string {
	q := url.Values{}
	if m.Lesson != uuid.Nil {
		q.Set("lesson", m.Lesson.String())
	}
	if drill != "" {
		q.Set("drill", drill)
	}
	at := "/classes/" + m.ID.String() + "/home"
	if len(q) > 0 {
		at += "?" + q.Encode()
	}
	return at
}

// childField offers the children with whom the drill may go; ticked are those whom it helps now.
func (m classHomeModel) childField() kit.ChoiceField {
	f := kit.ChoiceField{Name: "child", Label: "With whom", Values: m.ticked, Error: m.Problems.Problem("child")}
	for _, c := range m.Children {
		if !c.May {
			continue
		}
		f.Choices = append(f.Choices, kit.Choice{Value: c.ID.String(), Label: c.Name, Hint: kit.Capital(strings.TrimPrefix(c.Reason, m.Chosen.Name+" "))})
		if m.ticked == nil && c.Useful {
			f.Values = append(f.Values, c.ID.String())
		}
	}
	return f
}

// kept are the children with whom the drill may not go.
func (m classHomeModel) kept() []app.ClassHomeChild {
	var kept []app.ClassHomeChild
	for _, c := range m.Children {
		if !c.May {
			kept = append(kept, c)
		}
	}
	return kept
}

func (m classHomeModel) forLesson() bool { return m.Lesson != uuid.Nil }

// suitsWords names whom a drill suits, or the few whom it does not.
func suitsWords(d app.ClassDrill) string {
	switch all := len(d.Suits) + len(d.Others); {
	case len(d.Others) == 0:
		return "Suits everybody here: " + kit.Count(all, "child", "children") + "."
	case len(d.Others) < len(d.Suits):
		return "Suits " + strconv.Itoa(len(d.Suits)) + " of " + strconv.Itoa(all) + " children, not " + kit.List(d.Others) + "."
	default:
		return "Suits " + strconv.Itoa(len(d.Suits)) + " of " + kit.Count(all, "child", "children") + ": " + kit.List(d.Suits) + "."
	}
}
