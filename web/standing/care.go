package standing

import (
	"net/http"
	"strconv"
	"time"

	"github.com/google/uuid"
	"rungbook/internal/app"
	"rungbook/web/kit"
)

// limitForm is a care limit as it was typed.
type limitForm struct {
	Action, From, Until, Review, Reason string
	Avoid                               []string
	Problems                            kit.Reader
}

// careModel is the page of a child's care.
type careModel struct {
	app.CareView
	limitForm
	Reasons map[uuid.UUID]string // read just now, by limit
	Clear   clearForm
	Extend  extendForm
}

// extendForm are the new days of a limit as they were typed.
type extendForm struct {
	Limit               uuid.UUID
	Until, Review, Note string
	Problems            kit.Reader
}

// clearForm is the note of a limit that could not be cleared.
type clearForm struct {
	Limit uuid.UUID
	Note  string
	Error string
}

// reviewDays is after how many days a new limit is proposed to be looked at again.
const reviewDays = 14

// Care shows care limits, and reports of soreness.
func (h *Handler) Care(w http.ResponseWriter, r *http.Request) error {
	return h.carePage(w, r, http.StatusOK, careModel{})
}

func (h *Handler) carePage(w http.ResponseWriter, r *http.Request, status int, m careModel) error {
	id, err := kit.ID(r, "child")
	if err != nil {
		return err
	}
	if m.CareView, err = h.app.CareOf(r.Context(), kit.Actor(r), id); err != nil {
		return err
	}
	if m.From == "" && status == http.StatusOK {
		m.From, m.Review = m.Today.Format(time.DateOnly), m.Today.AddDate(0, 0, reviewDays).Format(time.DateOnly)
	}
	page := h.childPage(w, r, m.ChildHead, m.Name+": care").WithProblem(m.Problems.Err())
	return h.kit.Render(w, r, status, carePage(page, m))
}

// SetLimit puts a care limit in place.
func (h *Handler) SetLimit(w http.ResponseWriter, r *http.Request) error {
	id, err := kit.ID(r, "child")
	if err != nil {
		return err
	}
	values, err := kit.Form(w, r)
	if err != nil {
		return err
	}
	form := limitForm{Action: values.Get("action"), From: values.Get("from"), Until: values.Get("until"), Review: values.Get("review"),
		Reason: values.Get("reason"), Avoid: values["avoid"], Problems: kit.Reader{Values: values}}
	limit := form.limit(id)
	if form.Problems.Err() == nil {
		err = h.app.SetLimit(r.Context(), kit.Actor(r), limit)
	}
	if form.Problems.Took(err) {
		return h.carePage(w, r, http.StatusUnprocessableEntity, careModel{limitForm: form})
	}
	if err != nil {
		return err
	}
	return h.kit.Done(w, r, "The care limit is in place. Drills at home that it forbids are on hold.", childURL(id)+"/care")
}

func (f *limitForm) limit(child uuid.UUID) app.NewLimit {
	r := &f.Problems
	limit := app.NewLimit{Reason: r.Text("reason", 2000, false)}
	limit.ChildID, limit.Action = child, r.Text("action", 160, true)
	limit.FromOn = r.Date("from", true)
	limit.UntilOn, limit.ReviewOn = dayOrNil(r.Date("until", false)), dayOrNil(r.Date("review", false))
	for _, a := range f.Avoid {
		switch a {
		case "back":
			limit.AvoidBack = true
		case "wrists":
			limit.AvoidWrists = true
		case "landing":
			limit.AvoidLanding = true
		case "inverted":
			limit.AvoidInverted = true
		}
	}
	return limit
}

func dayOrNil(t time.Time) *time.Time {
	if t.IsZero() {
		return nil
	}
	return &t
}

// ClearLimit ends a care limit with a note.
func (h *Handler) ClearLimit(w http.ResponseWriter, r *http.Request) error {
	id, limit, err := childAnd(r, "limit")
	if err != nil {
		return err
	}
	values, err := kit.Form(w, r)
	if err != nil {
		return err
	}
	note, problems := values.Get("note"), kit.Reader{}
	err = h.app.ClearLimit(r.Context(), kit.Actor(r), id, limit, note)
	if problems.Took(err) {
		return h.carePage(w, r, http.StatusUnprocessableEntity, careModel{Clear: clearForm{limit, note, problems.Problem("note")}})
	}
	if err != nil {
		return err
	}
	return h.kit.Done(w, r, "The care limit is cleared.", childURL(id)+"/care")
}

// ExtendLimit gives a care limit other days.
func (h *Handler) ExtendLimit(w http.ResponseWriter, r *http.Request) error {
	id, limit, err := childAnd(r, "limit")
	if err != nil {
		return err
	}
	values, err := kit.Form(w, r)
	if err != nil {
		return err
	}
	form := extendForm{Limit: limit, Until: values.Get("until"), Review: values.Get("review"), Note: values.Get("note"), Problems: kit.Reader{Values: values}}
	f := &form.Problems
	e := app.Extension{Child: id, Limit: limit, Until: dayOrNil(f.Date("until", false)), Review: dayOrNil(f.Date("review", false)), Note: f.Text("note", 400, true)}
	if f.Err() == nil {
		err = h.app.ExtendLimit(r.Context(), kit.Actor(r), e)
	}
	if f.Took(err) {
		return h.carePage(w, r, http.StatusUnprocessableEntity, careModel{Extend: form})
	}
	if err != nil {
		return err
	}
	return h.kit.Done(w, r, "The care limit has its new days.", childURL(id)+"/care")
}

// ReadReason shows why a limit was set. It is a POST because the reading is written to the trail.
func (h *Handler) ReadReason(w http.ResponseWriter, r *http.Request) error {
	id, limit, err := childAnd(r, "limit")
	if err != nil {
		return err
	}
	reason, err := h.app.LimitReason(r.Context(), kit.Actor(r), id, limit)
	if err != nil {
		return err
	}
	return h.carePage(w, r, http.StatusOK, careModel{Reasons: map[uuid.UUID]string{limit: reason}})
}

// childAnd reads the child and another id of the path.
func childAnd(r *http.Request, name string) (child, other uuid.UUID, err error) {
	if child, err = kit.ID(r, "child"); err != nil {
		return
	}
	other, err = kit.ID(r, name)
	return
}

// split parts the limits into those that are open and those that are over.
func (m careModel) split() (open, over []app.LimitLine) {
	for _, l := range m.CareView.Limits {
		if l.Cleared == nil && (l.Until == nil || !l.Until.Before(m.Today)) {
			open = append(open, l)
		} else {
			over = append(over, l)
		}
	}
	return open, over
}

func limitURL(child uuid.UUID, l app.LimitLine, what string) string {
	return childURL(child) + "/limits/" + l.ID.String() + "/" + what
}

func limitSpan(l app.LimitLine) string {
	text := "From " + day(l.From) + ", " + "until cleared"
	if l.Until != nil {
		text = "From " + day(l.From) + " until " + day(*l.Until)
	}
	if l.Review != nil && l.Cleared == nil {
		text += "; look again on " + day(*l.Review)
	}
	return text + "."
}

// extension is the form that gives a limit other days: as it was typed, or its own days.
func (m careModel) extension(l app.LimitLine) extendForm {
	if m.Extend.Limit == l.ID {
		return m.Extend
	}
	f := extendForm{Limit: l.ID}
	if l.Until != nil {
		f.Until = l.Until.Format(time.DateOnly)
	}
	if l.Review != nil && !l.Due {
		f.Review = l.Review.Format(time.DateOnly)
	}
	return f
}

// field is one of the form's fields.
func (f extendForm) field(name, label, kind, value string) kit.Field {
	return kit.Field{ID: name + "-" + f.Limit.String(), Name: name, Label: label, Type: kind, Value: value, Error: f.Problems.Problem(name)}
}

// gapWords reads "Handstand: all that is open (Small kick and return)" or "Handstand: Small kick and return".
func gapWords(g app.LadderGap) string {
	if g.Whole {
		return g.Ladder + ": nothing is left (" + kit.List(g.Rungs) + ")"
	}
	return g.Ladder + ": " + kit.List(g.Rungs)
}

func eventWords(e app.LimitEvent) string {
	words := e.At.Format("2 January 2006, 15:04") + ": " + e.Text + "."
	if e.Note != "" {
		words += " “" + e.Note + "”"
	}
	return words
}

func (m careModel) avoidField() kit.ChoiceField {
	return kit.ChoiceField{Name: "avoid", Label: "Avoid for now", Values: m.Avoid, Error: m.Problems.Problem("avoid"), Inline: true, Choices: []kit.Choice{
		{Value: "back", Label: "Back-bends"}, {Value: "wrists", Label: "Weight on the hands"}, {Value: "landing", Label: "Jumps and landings"}, {Value: "inverted", Label: "Upside down"}}}
}

func sorenessWords(s app.SorenessLine) string {
	words := s.Place + ", " + strconv.Itoa(s.HowMuch) + " of 10, reported on " + day(s.At)
	if s.Since != nil {
		words += ", since " + day(*s.Since)
	}
	return words + "."
}
