package standing

import (
	"net/http"

	"github.com/google/uuid"
	"rungbook/internal/app"
	"rungbook/internal/studio"
	"rungbook/web/kit"
)

// classMarksModel is the form that marks a class on one rung, as it was typed.
type classMarksModel struct {
	app.ClassMarks
	Problems kit.Reader
}

// ClassMarks shows the form that marks a class on the rung of ?rung=.
func (h *Handler) ClassMarks(w http.ResponseWriter, r *http.Request) error {
	q := r.URL.Query()
	return h.classMarksPage(w, r, http.StatusOK, q.Get("rung"), kit.Reader{Values: q})
}

func (h *Handler) classMarksPage(w http.ResponseWriter, r *http.Request, status int, rung string, problems kit.Reader) error {
	id, err := kit.ID(r, "class")
	if err != nil {
		return err
	}
	if rung != "" && !studio.IsKey(rung) {
		return studio.Missing()
	}
	view, err := h.app.MarksOfClass(r.Context(), kit.Actor(r), id, rung)
	if err != nil {
		return err
	}
	page := h.kit.Page(w, r, "Mark the class", kit.SectionClasses).WithProblem(problems.Err())
	page.Crumbs = []kit.Crumb{{Label: "Classes", URL: "/classes"}, {Label: view.Name, URL: "/classes/" + id.String()}}
	if view.Rung != nil {
		page.Title, page.Intro = "Mark the class: "+view.Rung.Name, "One turn of each child. Leave out whom you did not see."
	}
	return h.kit.Render(w, r, status, classMarksPage(page, classMarksModel{view, problems}))
}

// MarkClass writes what was seen of the children of a class.
func (h *Handler) MarkClass(w http.ResponseWriter, r *http.Request) error {
	id, err := kit.ID(r, "class")
	if err != nil {
		return err
	}
	values, err := kit.Form(w, r)
	if err != nil {
		return err
	}
	problems := kit.Reader{Values: values}
	rung, lesson := values.Get("rung"), optionalID(&problems, "lesson")
	var turns []app.ClassTurn
	for _, child := range problems.IDs("child") {
		turns = append(turns, turnsOf(values.Get, child)...)
	}
	if problems.Err() == nil {
		err = h.app.MarkClass(r.Context(), kit.Actor(r), id, rung, lesson, turns)
	}
	if problems.Took(err) {
		return h.classMarksPage(w, r, http.StatusUnprocessableEntity, rung, problems)
	}
	if err != nil {
		return err
	}
	return h.kit.Done(w, r, kit.Count(len(turns), "mark is written.", "marks are written."), "/classes/"+id.String())
}

// turnsOf reads the turns of a child: one, or one a side.
func turnsOf(get func(string) string, child uuid.UUID) []app.ClassTurn {
	var turns []app.ClassTurn
	for _, side := range []studio.Side{studio.NoSide, studio.Left, studio.Right} {
		if outcome := get(string(side) + "-" + child.String()); outcome != "" {
			turns = append(turns, app.ClassTurn{Child: child, Turn: app.Turn{Side: side, Outcome: studio.Outcome(outcome)}})
		}
	}
	return turns
}

func (m classMarksModel) path() string { return "/classes/" + m.ID.String() + "/marks" }

func (m classMarksModel) rungField() kit.ChoiceField {
	return kit.ChoiceField{Name: "rung", Label: "Rung", Choices: rungChoices(m.Ladders), Empty: "Choose a rung", Required: true}
}

func (m classMarksModel) lessonField() kit.ChoiceField {
	return lessonField(m.Lessons, m.Problems.Values.Get("lesson"), m.Problems.Problem("lesson"))
}

// sides are those that a turn at the rung leads with.
func (m classMarksModel) sides() []studio.Side {
	if m.Rung.TwoSided {
		return []studio.Side{studio.Left, studio.Right}
	}
	return []studio.Side{studio.NoSide}
}

func (m classMarksModel) turnField(c app.ClassMark, side studio.Side) kit.ChoiceField {
	name := string(side) + "-" + c.ID.String()
	f := kit.ChoiceField{Name: name, Label: c.Name, Inline: true, Values: []string{m.Problems.Values.Get(name)}, Choices: append([]kit.Choice{{Value: "", Label: "Not seen"}}, outcomes()...)}
	if side != studio.NoSide {
		f.Label += ", " + string(side)
	}
	return f
}
