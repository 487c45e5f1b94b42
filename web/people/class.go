package people

import (
	"fmt"
	"net/http"
	"slices"
	"time"

	"github.com/google/uuid"
	"rungbook/internal/app"
	"rungbook/internal/studio"
	"rungbook/web/kit"
)

func classURL(id uuid.UUID) string { return "/studio/classes/" + id.String() }

// meets is "Wednesdays, 16:30, 60 minutes".
func meets(c studio.Class) string {
	return fmt.Sprintf("%ss, %s, %d minutes", c.Weekday, c.StartsAt, c.Minutes)
}

// Classes lists the classes of every term.
func (h *Handler) Classes(w http.ResponseWriter, r *http.Request) error {
	records, err := h.app.ClassRecords(r.Context(), kit.Actor(r))
	if err != nil {
		return err
	}
	page := h.page(w, r, "Classes of the studio")
	page.Intro = "When they meet, who takes them, who is in them."
	page.Actions = kit.LinkButton(kit.Action{Label: "Add a class", URL: "/studio/classes/new", Icon: "plus"})
	return h.show(w, r, http.StatusOK, listPage(page, nil, classesTable(records), kit.EmptyState{Title: "No class yet",
		Text: "A class belongs to a term and meets weekly. Its lessons are made from the two.", Button: &kit.Action{Label: "Add a class", URL: "/studio/classes/new"}}))
}

func classesTable(records []app.ClassRecord) kit.TableView {
	t := kit.TableView{Caption: "Classes", HideCaption: true, Columns: []kit.Column{{Label: "Class"}, {Label: "Term"}, {Label: "Meets"}, {Label: "Taken by"}, {Label: "Children"}}}
	for _, c := range records {
		day := c.Day.Today
		if c.Term.StartsOn.After(day) {
			day = c.Term.StartsOn
		}
		t.Rows = append(t.Rows, kit.Row{Quiet: c.Term.EndsOn.Before(c.Day.Today), Cells: []kit.Cell{kit.Link(c.Name, classURL(c.ID)), kit.Text(c.Term.Name),
			kit.Text(meets(c.Class)), takenBy(c, day), kit.Text(fmt.Sprintf("%d of %d places", enrolledOn(c.Enrolments, day), c.Places))}})
	}
	return t
}

func takenBy(c app.ClassRecord, day time.Time) kit.Cell {
	var names []string
	for _, s := range c.Staff {
		if s.Duty == studio.TeacherDuty && s.HoldsOn(day) {
			names = append(names, s.StaffName)
		}
	}
	if len(names) == 0 {
		return kit.Part(kit.Label("Nobody", "warning", true))
	}
	return kit.Text(joined(names, ""))
}

func enrolledOn(enrolments []studio.Enrolment, day time.Time) int {
	n := 0
	for _, e := range enrolments {
		if e.HoldsOn(day) {
			n++
		}
	}
	return n
}

// classView is a class's page.
type classView struct {
	URL, TeachURL, Today string
	Facts                []kit.Def
	Alike                []string
	Staff                []staffLine
	StaffChoices         []kit.Choice
	Children             []enrolmentLine
	Full                 string // a sentence when there are more children than places
	ChildChoices         []kit.Choice
	Lessons              []string
	LessonCount          string
	Kept                 string
}

type staffLine struct {
	ID, Name, Duty, When, From string
	Ended                      bool
}

type enrolmentLine struct {
	Name, URL, When, RemoveURL string
	Ended                      bool
}

// Class shows one class: who takes it, who is in it, its lessons.
func (h *Handler) Class(w http.ResponseWriter, r *http.Request) error {
	return h.classRecordPage(w, r, form{})
}

func (h *Handler) classRecordPage(w http.ResponseWriter, r *http.Request, f form) error {
	id, err := kit.ID(r, "class")
	if err != nil {
		return err
	}
	c, err := h.app.ClassRecord(r.Context(), kit.Actor(r), id)
	if err != nil {
		return err
	}
	page := h.page(w, r, c.Name, kit.Crumb{Label: "Classes", URL: "/studio/classes"})
	page.Intro = meets(c.Class) + ", " + c.Term.Name + "."
	page.Actions = classActions(classURL(id))
	return h.show(w, r, f.status(), classPage(page, newClassView(c), f))
}

func newClassView(c app.ClassRecord) classView {
	v := classView{URL: classURL(c.ID), TeachURL: "/classes/" + c.ID.String(), Today: c.Day.Today.Format(time.DateOnly)}
	v.Facts = []kit.Def{{Term: "Term", Text: c.Term.Name + ", " + inWords(c.Term.StartsOn) + " to " + inWords(c.Term.EndsOn)}, {Term: "Time zone", Text: c.TimeZone},
		{Term: "Lesson", Text: fmt.Sprintf("%s in %s, at least %s a child", kit.Count(c.Rotations, "rotation", "rotations"), kit.Count(c.Groups, "group", "groups"), kit.Count(c.TurnFloor, "turn", "turns"))},
		{Term: "Leans on", Text: joined(ladderNames(c), "No ladder in particular")}}
	for _, pair := range c.Alike {
		v.Alike = append(v.Alike, fmt.Sprintf("%s and %s look alike on a class sheet. A nickname as first name helps.", nameOf(pair[0]), nameOf(pair[1])))
	}
	v.fillStaff(c)
	v.fillChildren(c)
	v.fillLessons(c)
	return v
}

func ladderNames(c app.ClassRecord) []string {
	var names []string
	for _, l := range c.Ladders {
		if slices.Contains(c.Focus, l.Key) {
			names = append(names, l.Name)
		}
	}
	return names
}

func nameOf(e studio.Enrolment) string {
	if e.FamilyName == "" {
		return e.GivenName
	}
	return e.GivenName + " " + e.FamilyName
}

func (v *classView) fillStaff(c app.ClassRecord) {
	for _, s := range c.Staff {
		v.Staff = append(v.Staff, staffLine{ID: s.StaffID.String(), Name: s.StaffName, Duty: sentenceCase(string(s.Duty)), When: span(s.FromOn, s.UntilOn),
			From: s.FromOn.Format(time.DateOnly), Ended: s.UntilOn != nil && s.UntilOn.Before(c.Day.Today)})
	}
	for _, s := range c.AllStaff {
		if !left(s.LeftOn, c.Day) {
			v.StaffChoices = append(v.StaffChoices, kit.Choice{Value: s.ID.String(), Label: s.Name})
		}
	}
}

func (v *classView) fillChildren(c app.ClassRecord) {
	here := map[uuid.UUID]bool{}
	for _, e := range c.Enrolments {
		ended := e.UntilOn != nil && e.UntilOn.Before(c.Day.Today)
		here[e.ChildID] = !ended
		v.Children = append(v.Children, enrolmentLine{Name: nameOf(e), URL: childURL(e.ChildID), When: span(e.FromOn, e.UntilOn), Ended: ended,
			RemoveURL: v.URL + "/children/" + e.ChildID.String() + "/remove"})
	}
	slices.SortStableFunc(v.Children, func(a, b enrolmentLine) int { return order(a.Ended) - order(b.Ended) })
	for _, child := range c.AllNames {
		if !here[child.ID] && !left(child.LeftOn, c.Day) {
			v.ChildChoices = append(v.ChildChoices, childChoice(child))
		}
	}
	if n := enrolledOn(c.Enrolments, c.Day.Today); n > c.Places {
		v.Full = fmt.Sprintf("%s for %s.", kit.Count(n, "child", "children"), kit.Count(c.Places, "place", "places"))
	}
}

func order(last bool) int {
	if last {
		return 1
	}
	return 0
}

func (v *classView) fillLessons(c app.ClassRecord) {
	zone, err := time.LoadLocation(c.TimeZone)
	if err != nil {
		zone = c.Day.Zone // the class was kept with a zone that this computer no longer knows
	}
	ahead := 0
	for _, l := range c.Lessons {
		if l.StartsAt.After(c.Day.Now) {
			ahead++
		}
		text := l.StartsAt.In(zone).Format("Mon 2 Jan, 15:04")
		if l.CancelledAt != nil {
			text += " (called off)"
		}
		v.Lessons = append(v.Lessons, text)
	}
	v.LessonCount = fmt.Sprintf("%s, %d of them ahead.", kit.Count(len(c.Lessons), "lesson", "lessons"), ahead)
}

// duty is a duty as a form sends it.
func duty(word string) string {
	if word == "Teacher" {
		return string(studio.TeacherDuty)
	}
	return string(studio.AssistantDuty)
}

func or(text, instead string) string {
	if text == "" {
		return instead
	}
	return text
}
