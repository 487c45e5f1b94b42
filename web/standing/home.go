package standing

import (
	"cmp"
	"net/http"
	"net/url"
	"strconv"
	"time"

	"rungbook/internal/app"
	"rungbook/internal/studio"
	"rungbook/web/kit"
)

// homeForm is a drill for home as it was typed.
type homeForm struct {
	Drill, Sets, Repeats, Hold, From, Until, Why string
	Problems                                     kit.Reader
}

// homeModel is the page of what a child has at home.
type homeModel struct {
	app.HomeworkView
	homeForm
	tick tickForm
}

// Home shows what a child has at home, and what may go there; ?drill= opens the form for one.
func (h *Handler) Home(w http.ResponseWriter, r *http.Request) error {
	return h.homePage(w, r, http.StatusOK, homeForm{Drill: r.URL.Query().Get("drill")}, tickForm{})
}

func (h *Handler) homePage(w http.ResponseWriter, r *http.Request, status int, form homeForm, tick tickForm) error {
	id, err := kit.ID(r, "child")
	if err != nil {
		return err
	}
	if form.Drill != "" && !studio.IsKey(form.Drill) {
		return studio.Missing()
	}
	view, err := h.app.HomeworkOf(r.Context(), kit.Actor(r), id, form.Drill)
	if err != nil {
		return err
	}
	if d := view.Chosen; d != nil && status == http.StatusOK {
		form.fill(*d, view.Today, lastDay(view))
	}
	page := h.childPage(w, r, view.ChildHead, view.Name+": home").WithProblem(cmp.Or(form.Problems.Err(), tick.Problems.Err()))
	return h.kit.Render(w, r, status, homePage(page, homeModel{view, form, tick}))
}

// lastDay is two weeks from today, or the last day of the exception by which the chosen drill would go home.
func lastDay(view app.HomeworkView) time.Time {
	last := view.Today.AddDate(0, 0, 13)
	for _, x := range view.Exceptions {
		if x.Live && x.Key == view.Chosen.Key && x.Until.Before(last) {
			return x.Until
		}
	}
	return last
}

// SendHome gives a child a drill for home.
func (h *Handler) SendHome(w http.ResponseWriter, r *http.Request) error {
	id, err := kit.ID(r, "child")
	if err != nil {
		return err
	}
	values, err := kit.Form(w, r)
	if err != nil {
		return err
	}
	form, send := readHome(values)
	send.Child = id
	f := &form.Problems
	if f.Err() == nil {
		err = h.app.SendHome(r.Context(), kit.Actor(r), send)
	}
	if f.Took(err) {
		return h.homePage(w, r, http.StatusUnprocessableEntity, form, tickForm{})
	}
	if err != nil {
		return err
	}
	return h.kit.Done(w, r, "The drill is sent home.", childURL(id)+"/home")
}

// readHome reads a drill for home, whoever it is for.
func readHome(values url.Values) (homeForm, app.NewHome) {
	form := homeForm{Drill: values.Get("drill"), Sets: values.Get("sets"), Repeats: values.Get("repeats"), Hold: values.Get("hold"),
		From: values.Get("from"), Until: values.Get("until"), Why: values.Get("why"), Problems: kit.Reader{Values: values}}
	f := &form.Problems
	return form, app.NewHome{Drill: form.Drill, Why: f.Text("why", 400, false), From: f.Date("from", true), Until: f.Date("until", true),
		Dose: studio.Dose{Sets: f.Whole("sets", 1, 10), Repeats: f.Whole("repeats", 1, 50), HoldSeconds: f.Whole("hold", 0, 300)}}
}

// fill puts a drill's usual dose into the form, for these days.
func (f *homeForm) fill(d studio.Drill, from, until time.Time) {
	f.Sets, f.Repeats, f.Hold = strconv.Itoa(d.Dose.Sets), strconv.Itoa(d.Dose.Repeats), strconv.Itoa(d.Dose.HoldSeconds)
	f.From, f.Until = from.Format(time.DateOnly), until.Format(time.DateOnly)
}

// TakeBack withdraws a drill from home.
func (h *Handler) TakeBack(w http.ResponseWriter, r *http.Request) error {
	id, assignment, err := childAnd(r, "assignment")
	if err != nil {
		return err
	}
	if err := h.app.TakeBack(r.Context(), kit.Actor(r), id, assignment); err != nil {
		return err
	}
	return h.kit.Done(w, r, "The drill is taken back.", childURL(id)+"/home")
}

// split parts what was given into what is out and what is over.
func (m homeModel) split() (out, over []app.GivenLine) {
	for _, g := range m.Given {
		if g.Active {
			out = append(out, g)
		} else {
			over = append(over, g)
		}
	}
	return out, over
}
