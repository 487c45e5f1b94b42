package standing

import (
	"fmt"
	"net/http"
	"time"

	"rungbook/internal/app"
	"rungbook/internal/studio"
	"rungbook/web/kit"
)

// tickForm is an exception as it was typed.
type tickForm struct {
	Drill, Reason, Last string
	Problems            kit.Reader
}

// TickException lets a child do a drill at home that the library keeps for class.
func (h *Handler) TickException(w http.ResponseWriter, r *http.Request) error {
	id, err := kit.ID(r, "child")
	if err != nil {
		return err
	}
	values, err := kit.Form(w, r)
	if err != nil {
		return err
	}
	form := tickForm{Drill: values.Get("exception"), Reason: values.Get("reason"), Last: values.Get("last"), Problems: kit.Reader{Values: values}}
	f := &form.Problems
	n := app.NewException{Child: id, Drill: f.Text("exception", 80, true), Reason: f.Text("reason", 400, true), Until: f.Date("last", true)}
	if f.Err() == nil {
		err = h.app.TickException(r.Context(), kit.Actor(r), n)
	}
	if f.Took(err) {
		return h.homePage(w, r, http.StatusUnprocessableEntity, homeForm{}, form)
	}
	if err != nil {
		return err
	}
	return h.kit.Done(w, r, "The exception is ticked. Nothing has gone home yet: send the drill now, in its dose.", childURL(id)+"/home?drill="+n.Drill+"#send")
}

// EndException ends an exception, and with it what was sent by it.
func (h *Handler) EndException(w http.ResponseWriter, r *http.Request) error {
	id, exception, err := childAnd(r, "exception")
	if err != nil {
		return err
	}
	if err := h.app.EndException(r.Context(), kit.Actor(r), id, exception); err != nil {
		return err
	}
	return h.kit.Done(w, r, "The exception is ended, and what was at home by it is taken back.", childURL(id)+"/home#exceptions")
}

// exceptions parts those that are live from those that are over.
func (m homeModel) exceptions() (live, over []app.ExceptionLine) {
	for _, x := range m.Exceptions {
		if x.Live {
			live = append(live, x)
		} else {
			over = append(over, x)
		}
	}
	return live, over
}

func (m homeModel) tickField() kit.ChoiceField {
	f := kit.ChoiceField{Name: "exception", Label: "Drill", Empty: "Choose a drill", Required: true, Values: []string{m.tick.Drill}, Error: m.tick.Problems.Problem("exception"),
		Hint: "Drills that need a spotter, or equipment that no home has, are not in the list: no exception changes that."}
	for _, d := range m.MayTick {
		f.Choices = append(f.Choices, kit.Choice{Value: d.Key, Label: d.Name + ": " + d.Why})
	}
	return f
}

func (m homeModel) reasonField() kit.Field {
	return kit.Field{Name: "reason", Label: "Why this child may", Hint: "The family reads it too.", Value: m.tick.Reason, Error: m.tick.Problems.Problem("reason"), Required: true, MaxLength: 400}
}

func (m homeModel) lastField() kit.Field {
	most := m.Today.AddDate(0, 0, 7*m.Weeks)
	value := m.tick.Last
	if value == "" {
		value = most.Format(time.DateOnly)
	}
	return kit.Field{Name: "last", Label: "Last day", Type: "date", Value: value, Min: m.Today.Format(time.DateOnly), Max: most.Format(time.DateOnly),
		Hint: fmt.Sprintf("At most %s, by the studio’s settings.", kit.Count(m.Weeks, "week", "weeks")), Error: m.tick.Problems.Problem("last"), Required: true, Short: true}
}

// endWords says how an exception came to its end.
func endWords(x app.ExceptionLine) string {
	switch x.End {
	case studio.EndTakenBack:
		return "ended on " + day(x.EndedOn)
	case studio.EndNoConsent:
		return "ended on " + day(x.EndedOn) + ", when the family withdrew its consent"
	}
	return "over since " + day(x.Until)
}
