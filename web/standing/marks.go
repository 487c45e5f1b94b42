package standing

import (
	"fmt"
	"math"
	"net/http"
	"slices"
	"strconv"

	"github.com/google/uuid"
	"rungbook/internal/app"
	"rungbook/internal/studio"
	"rungbook/web/kit"
)

// markForm is a mark as it was typed.
type markForm struct {
	Rung, Lesson, Side, Outcome string
	FaultKeys                   []string
	Correct                     string // id of the mark that it stands for, or ""
	Why                         string // of a correction
	Problems                    kit.Reader
}

// marksModel is the page of a child's marks.
type marksModel struct {
	app.MarksView
	markForm
}

// Marks shows a child's marks; ?rung= opens the form for a rung, ?correct= that for the correction of a mark.
func (h *Handler) Marks(w http.ResponseWriter, r *http.Request) error {
	q := r.URL.Query()
	form := markForm{Rung: q.Get("rung"), Correct: q.Get("correct"), Lesson: q.Get("lesson")}
	return h.marksPage(w, r, http.StatusOK, form)
}

func (h *Handler) marksPage(w http.ResponseWriter, r *http.Request, status int, form markForm) error {
	id, err := kit.ID(r, "child")
	if err != nil {
		return err
	}
	replaces := uuid.Nil
	if form.Correct != "" {
		if replaces, err = uuid.Parse(form.Correct); err != nil {
			return studio.Missing()
		}
	}
	if !kit.Clean(form.Rung) {
		return studio.Missing()
	}
	view, err := h.app.MarksOfChild(r.Context(), kit.Actor(r), id, form.Rung, replaces)
	if err != nil {
		return err
	}
	if old := view.Form.Replaces; old != nil && status == http.StatusOK {
		form.Rung, form.Side, form.Outcome, form.FaultKeys = old.RungKey, string(old.Side), string(old.Outcome), old.Keys
	}
	page := h.childPage(w, r, view.ChildHead, view.Name+": marks").WithProblem(form.Problems.Err())
	return h.kit.Render(w, r, status, marksPage(page, marksModel{view, form}))
}

// WriteMark writes a mark or a correction.
func (h *Handler) WriteMark(w http.ResponseWriter, r *http.Request) error {
	id, err := kit.ID(r, "child")
	if err != nil {
		return err
	}
	values, err := kit.Form(w, r)
	if err != nil {
		return err
	}
	form := markForm{Rung: values.Get("rung"), Lesson: values.Get("lesson"), Side: values.Get("side"), Outcome: values.Get("outcome"),
		FaultKeys: values["faults"], Correct: values.Get("correct"), Why: values.Get("why"), Problems: kit.Reader{Values: values}}
	lesson, replaces := optionalID(&form.Problems, "lesson"), optionalID(&form.Problems, "correct")
	said := "The marks are written."
	switch {
	case form.Problems.Err() != nil:
	case replaces != uuid.Nil:
		said = "The mark is corrected. The first one stays in the book and no longer counts."
		turn := form.turn("")
		err = h.app.WriteMark(r.Context(), kit.Actor(r), app.NewMark{Child: id, Side: turn.Side, Outcome: turn.Outcome, Faults: form.FaultKeys, Replaces: replaces, Why: form.Why})
	default:
		err = h.app.WriteTurns(r.Context(), kit.Actor(r), app.NewTurns{Child: id, Rung: form.Rung, Lesson: lesson, Turns: form.turns(), Faults: form.FaultKeys})
	}
	if form.Problems.Took(err) {
		return h.marksPage(w, r, http.StatusUnprocessableEntity, form)
	}
	if err != nil {
		return err
	}
	return h.kit.Done(w, r, said, childURL(id)+"/marks")
}

// StrikeMark takes a mark back altogether.
func (h *Handler) StrikeMark(w http.ResponseWriter, r *http.Request) error {
	id, mark, err := childAnd(r, "mark")
	if err != nil {
		return err
	}
	if err := h.app.StrikeMark(r.Context(), kit.Actor(r), id, mark); err != nil {
		return err
	}
	return h.kit.Done(w, r, "The mark is taken back. It stays in the book and no longer counts.", childURL(id)+"/marks")
}

// moreTurns are the ends of the fields of the second turn and those after it; the first turn's have none.
var moreTurns = []string{"-2", "-3", "-4", "-5", "-6"}

// turn reads the turn whose fields have an end.
func (f markForm) turn(end string) app.Turn {
	turn := app.Turn{Side: studio.Side(f.Problems.Values.Get("side" + end)), Outcome: studio.Outcome(f.Problems.Values.Get("outcome" + end))}
	if turn.Side == "" {
		turn.Side = studio.NoSide
	}
	return turn
}

// turns are the first turn and those of the others that say how they went.
func (f markForm) turns() []app.Turn {
	turns := []app.Turn{f.turn("")}
	for _, end := range moreTurns {
		if turn := f.turn(end); turn.Outcome != "" {
			turns = append(turns, turn)
		}
	}
	return turns
}

// optionalID reads an id that may be empty.
func optionalID(f *kit.Reader, field string) uuid.UUID {
	text := f.Values.Get(field)
	if text == "" {
		return uuid.Nil
	}
	id, err := uuid.Parse(text)
	if err != nil {
		f.Refuse(field, "Choose one of those offered.")
	}
	return id
}

func rungChoices(ladders []studio.Ladder) []kit.Choice {
	var choices []kit.Choice
	for _, l := range ladders {
		for _, r := range l.Rungs {
			choices = append(choices, kit.Choice{Value: r.Key, Label: l.Name + " · " + r.Name})
		}
	}
	return choices
}

func lessonField(lessons []app.LessonLine, chosen, problem string) kit.ChoiceField {
	f := kit.ChoiceField{Name: "lesson", Label: "Seen in", Empty: "No lesson: just now", Values: []string{chosen}, Error: problem}
	for _, l := range lessons {
		f.Choices = append(f.Choices, kit.Choice{Value: l.ID.String(), Label: l.Class + ", " + l.StartsAt.Format("Monday 2 January, 15:04")})
	}
	return f
}

func outcomes() []kit.Choice {
	return []kit.Choice{{Value: "clean", Label: "Clean"}, {Value: "supported", Label: "Supported"}, {Value: "missed", Label: "Missed"}}
}

func (m marksModel) outcomeField() kit.ChoiceField {
	return kit.ChoiceField{Name: "outcome", Label: "How it went", Values: []string{m.Outcome}, Error: m.Problems.Problem("outcome"), Inline: true, Required: true,
		Choices: outcomes()}
}

// moreField and moreSide are the fields of a further turn.
func (m marksModel) moreField(end string) kit.ChoiceField {
	return kit.ChoiceField{ID: kit.FieldID("turn" + end), Name: "outcome" + end, Label: "Turn " + end[1:], Empty: "none", Values: []string{m.Problems.Values.Get("outcome" + end)},
		Error: m.Problems.Problem("outcome" + end), Choices: m.outcomeField().Choices}
}

func (m marksModel) moreSide(end string) kit.ChoiceField {
	return kit.ChoiceField{ID: kit.FieldID("turn-side" + end), Name: "side" + end, Label: "Side of turn " + end[1:], Empty: "none", Values: []string{m.Problems.Values.Get("side" + end)},
		Error: m.Problems.Problem("side" + end), Choices: m.sideField().Choices}
}

func (m marksModel) timeline() timeline {
	return timelineOf(m.Marks, m.Today, func(rung string) string { return markURL(m.ID, rung) })
}

func (m marksModel) sideField() kit.ChoiceField {
	return kit.ChoiceField{Name: "side", Label: "Side that led", Values: []string{m.Side}, Error: m.Problems.Problem("side"), Inline: true, Required: true,
		Choices: []kit.Choice{{Value: "left", Label: "Left"}, {Value: "right", Label: "Right"}}}
}

func (m marksModel) faultField() kit.ChoiceField {
	f := kit.ChoiceField{Name: "faults", Label: "Faults seen", Values: m.FaultKeys, Error: m.Problems.Problem("faults"), Optional: true}
	if m.Form.Replaces == nil {
		f.Hint = "Of several turns they are noted on those that were not clean, or on the last where all were."
	}
	for _, fault := range m.Form.Rung.Faults {
		f.Choices = append(f.Choices, faultChoice(fault))
	}
	return f
}

// table is the marks, latest first.
func (m marksModel) table(marks []app.MarkLine) kit.TableView {
	t := kit.TableView{Caption: "Marks, latest first", HideCaption: true, Columns: []kit.Column{{Label: "Rung"}, {Label: "Seen"}, {Label: "How it went"}, {Label: "Faults"}, {Label: "By"}, {Label: "Change"}}}
	for _, k := range marks {
		t.Rows = append(t.Rows, kit.Row{Cells: []kit.Cell{kit.Text(k.Rung), kit.Text(k.SeenAt.Format("2 Jan 2006")), kit.Part(outcome(k)), kit.Part(faults(k)),
			kit.Text(byWhom(k)), kit.Part(changeMark(m.ID, k))}})
	}
	return t
}

func byWhom(k app.MarkLine) string {
	if k.By == "" {
		return "not known"
	}
	return k.By
}

func outcomeWords(k app.MarkLine) string {
	if k.Side == studio.Left || k.Side == studio.Right {
		return string(k.Side) + ", " + string(k.Outcome)
	}
	return string(k.Outcome)
}

func outcomeIcon(o studio.Outcome) string {
	switch o {
	case studio.Clean:
		return "check"
	case studio.Supported:
		return "spotter"
	}
	return "cross"
}

// spark is the clean share by week.
func (m marksModel) spark() kit.SparkView {
	s := kit.SparkView{Min: 0, Max: 1}
	first, last := math.NaN(), math.NaN()
	for _, w := range m.Weeks {
		s.Values = append(s.Values, w.Clean)
		if !math.IsNaN(w.Clean) {
			if math.IsNaN(first) {
				first = w.Clean
			}
			last = w.Clean
		}
	}
	s.Title = fmt.Sprintf("Clean marks by week, %d weeks: first %.0f%%, last %.0f%%", len(m.Weeks), 100*first, 100*last)
	return s
}

// weekWords says the line in words.
func (m marksModel) weekWords() string {
	marks, clean := 0, 0.0
	for _, w := range m.Weeks {
		if w.Marks > 0 {
			marks += w.Marks
			clean += w.Clean * float64(w.Marks)
		}
	}
	return fmt.Sprintf("%.0f of %d marks of the last %d weeks are clean.", clean, marks, len(m.Weeks))
}

func (m marksModel) anyWeek() bool {
	return slices.ContainsFunc(m.Weeks, func(w app.WeekRate) bool { return w.Marks > 0 })
}

func (m marksModel) faultBars() kit.BarsView {
	view := kit.BarsView{Title: "Faults seen in the last six weeks"}
	for i, f := range m.Faults {
		if i == 8 {
			break
		}
		text := strconv.Itoa(f.Times)
		if f.Safety {
			text += ", can hurt"
		}
		view.Bars = append(view.Bars, kit.Bar{Label: f.Name + " (" + f.Rung + ")", Text: text, Value: float64(f.Times), Warm: f.Safety})
	}
	return view
}
