package standing

import (
	"net/http"
	"net/url"
	"slices"
	"strconv"

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
		page.Title, page.Intro = "Mark the class: "+view.Rung.Name, "One turn of each child, with at most two faults where it was not clean. Leave out whom you did not see."
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
	var seen []app.ClassTurns
	marks := 0
	for _, child := range problems.IDs("child") {
		if s := seenOf(values, child); len(s.Turns)+len(s.Faults) > 0 {
			seen = append(seen, s)
			marks += len(s.Turns)
		}
	}
	if problems.Err() == nil {
		err = h.app.MarkClass(r.Context(), kit.Actor(r), id, rung, lesson, seen)
	}
	if problems.Took(err) {
		return h.classMarksPage(w, r, http.StatusUnprocessableEntity, rung, problems)
	}
	if err != nil {
		return err
	}
	return h.kit.Done(w, r, kit.Count(marks, "mark is written.", "marks are written."), "/classes/"+id.String())
}

// seenOf reads what was seen of a child: a turn, or one a side, and faults.
func seenOf(values url.Values, child uuid.UUID) app.ClassTurns {
	faults := slices.Sorted(slices.Values(values[app.FaultsField(child)]))
	seen := app.ClassTurns{Child: child, Faults: slices.Compact(faults)}
	for _, side := range []studio.Side{studio.NoSide, studio.Left, studio.Right} {
		if outcome := values.Get(string(side) + "-" + child.String()); outcome != "" {
			seen.Turns = append(seen.Turns, app.Turn{Side: side, Outcome: studio.Outcome(outcome)})
		}
	}
	return seen
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

func (m classMarksModel) faultField(c app.ClassMark) kit.ChoiceField {
	name := app.FaultsField(c.ID)
	f := kit.ChoiceField{Name: name, Label: "Faults of " + c.Name, Hint: "At most two, where the turn was not clean.", Values: m.Problems.Values[name], Error: m.Problems.Problem(name)}
	for _, fault := range m.Rung.Faults {
		f.Choices = append(f.Choices, faultChoice(fault))
	}
	return f
}

// faultSummary is what the closed list of a child's faults says.
func faultSummary(f kit.ChoiceField) string {
	if len(f.Values) == 0 {
		return f.Label + ": none noted"
	}
	return f.Label + ": " + strconv.Itoa(len(f.Values)) + " noted"
}

// faultChoice is a fault of a rung to tick.
func faultChoice(fault studio.Fault) kit.Choice {
	c := kit.Choice{Value: fault.Key, Label: fault.Name}
	if fault.Safety {
		c.Hint = "Can hurt: the rung is not secure while this is seen."
	}
	return c
}
