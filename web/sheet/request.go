package sheet

import (
	"net/http"
	"strings"
	"time"

	"rungbook/internal/app"
	"rungbook/internal/studio"
	"rungbook/web/kit"
)

// requestsView is the page of sign-off requests.
type requestsView struct {
	Held     kit.TableView
	MayAsk   bool
	WhyNot   string // why nothing can be asked
	Wish     kit.ChoiceField
	Words    kit.Field
	Waiting  []requestView
	Decided  []decidedView
	Own      []decidedView // one's own that wait
	Problems []kit.FieldError
}

// requestView is a request that the reader may decide.
type requestView struct {
	Who, Wish, Words, Asked string
	Grant, Decline          string
	Until, Answer           kit.Field
}

type decidedView struct{ Text, Words string }

const dayFormat = "2 January 2006"

// Requests is the page of sign-off requests.
func (h *Handler) Requests(w http.ResponseWriter, r *http.Request) error {
	return h.requests(w, r, &kit.Reader{}, http.StatusOK)
}

func (h *Handler) requests(w http.ResponseWriter, r *http.Request, f *kit.Reader, status int) error {
	book, err := h.app.SignOffRequests(r.Context(), kit.Actor(r))
	if err != nil {
		return err
	}
	page := h.kit.Page(w, r, "Sign-off requests", kit.SectionToday)
	page.Intro = "A sign-off says that the studio has seen you spot a rung, until a date. It never says that a turn is safe."
	page.Crumbs = []kit.Crumb{{Label: "Today", URL: "/"}}
	if book.Decides {
		page.Crumbs = append(page.Crumbs, kit.Crumb{Label: "Sign-offs", URL: "/studio/sign-offs"})
	}
	return h.kit.Render(w, r, status, requestsPage(page, newRequestsView(book, f)))
}

func newRequestsView(b app.RequestBook, f *kit.Reader) requestsView {
	v := requestsView{Held: heldTable(b), MayAsk: b.Own != nil && !b.Own.Trainee,
		Wish:  kit.ChoiceField{Name: "wish", Label: "What you want to be seen spotting", Empty: "Choose", Values: []string{f.Values.Get("wish")}, Error: f.Problem("wish")},
		Words: kit.Field{Name: "words", Type: "textarea", Label: "A word about it", Hint: "Where you have practised it, and when you are in.", Value: f.Values.Get("words"), Error: f.Problem("words"), Optional: true, Rows: 2}}
	switch {
	case b.Own == nil:
		v.WhyNot = "Your account is linked to no staff record, so nothing can be asked for you. The owner links it under Studio, People."
	case b.Own.Trainee:
		v.WhyNot = "Trainees do not spot. Once the studio has changed your record, you can ask here."
	}
	for _, l := range b.Choices {
		v.Wish.Choices = append(v.Wish.Choices, kit.Choice{Value: "ladder " + l.Key, Label: l.Name + ": every spotted rung"})
		for _, r := range l.Rungs {
			v.Wish.Choices = append(v.Wish.Choices, kit.Choice{Value: "rung " + r.Key, Label: l.Name + ": " + r.Name})
		}
	}
	for _, line := range b.Requests {
		asked := "asked on " + line.AskedAt.Format(dayFormat)
		switch {
		case line.DecidedAt != nil:
			v.Decided = append(v.Decided, decidedOf(line))
		case line.Own || !b.Decides:
			v.Own = append(v.Own, decidedView{kit.Capital(line.Wish) + ", " + asked + ". It waits for a teacher.", line.Words})
		default:
			v.Waiting = append(v.Waiting, newRequestView(line, b.Today, f))
		}
	}
	for _, e := range f.Errors {
		v.Problems = append(v.Problems, kit.FieldError{ID: kit.FieldID(e.Field), Text: e.Problem})
	}
	return v
}

func decidedOf(l app.RequestLine) decidedView {
	word := "declined"
	if l.Granted != nil && *l.Granted {
		word = "signed off"
	}
	return decidedView{l.StaffName + ", " + l.Wish + ": " + word + " by " + orElse(l.DecidedByName, "somebody who is gone") + " on " + l.DecidedAt.Format(dayFormat) + ".", l.Answer}
}

func newRequestView(l app.RequestLine, today time.Time, f *kit.Reader) requestView {
	id := l.ID.String()
	return requestView{Who: l.StaffName, Wish: l.Wish, Words: l.Words, Asked: l.AskedAt.Format(dayFormat), Grant: "/sign-off-requests/" + id + "/grant",
		Decline: "/sign-off-requests/" + id + "/decline",
		Until:   kit.Field{Name: "until", ID: kit.FieldID("until-" + id), Label: "Signed off until", Type: "date", Value: today.AddDate(1, 0, 0).Format(time.DateOnly), Required: true, Short: true, Error: f.Problem("until-" + id)},
		Answer:  kit.Field{Name: "answer", ID: kit.FieldID("answer-" + id), Label: "What is still missing", Value: "", Error: f.Problem("answer-" + id), Optional: true}}
}

func heldTable(b app.RequestBook) kit.TableView {
	t := kit.TableView{Caption: "What you are signed off for", HideCaption: true, Columns: []kit.Column{{Label: "Rung"}, {Label: "Until"}}}
	for _, s := range b.Held {
		until := s.ExpiresOn.Format(dayFormat)
		if s.ExpiresOn.Before(b.Today) {
			until += ", over"
		}
		t.Rows = append(t.Rows, kit.Row{Cells: []kit.Cell{kit.Link(s.RungName, "/rungs/"+s.RungKey), kit.Text(until)}})
	}
	return t
}

// Ask asks for a sign-off.
func (h *Handler) Ask(w http.ResponseWriter, r *http.Request) error {
	form, err := kit.Form(w, r)
	if err != nil {
		return err
	}
	request := studio.SignOffRequest{Words: form.Get("words")}
	kind, key, _ := strings.Cut(form.Get("wish"), " ")
	switch kind {
	case "ladder":
		request.LadderKey = key
	case "rung":
		request.RungKey = key
	}
	f := &kit.Reader{Values: form}
	err = h.app.AskSignOff(r.Context(), kit.Actor(r), request)
	if f.Took(err) {
		return h.requests(w, r, f, http.StatusUnprocessableEntity)
	}
	if err != nil {
		return err
	}
	return h.kit.Done(w, r, "Asked. A teacher watches you spot it, then decides.", "/sign-off-requests")
}

// Grant signs off what was asked.
func (h *Handler) Grant(w http.ResponseWriter, r *http.Request) error {
	id, err := kit.ID(r, "request")
	if err != nil {
		return err
	}
	form, err := kit.Form(w, r)
	if err != nil {
		return err
	}
	until, err := time.Parse(time.DateOnly, form.Get("until"))
	if err != nil {
		until = time.Time{} // refused as too early
	}
	err = h.app.GrantRequest(r.Context(), kit.Actor(r), id, until, form.Get("answer"))
	return h.decided(w, r, &kit.Reader{Values: form}, err, id.String(), "Signed off.")
}

// Decline says no to a request, with words.
func (h *Handler) Decline(w http.ResponseWriter, r *http.Request) error {
	id, err := kit.ID(r, "request")
	if err != nil {
		return err
	}
	form, err := kit.Form(w, r)
	if err != nil {
		return err
	}
	err = h.app.DeclineRequest(r.Context(), kit.Actor(r), id, form.Get("answer"))
	return h.decided(w, r, &kit.Reader{Values: form}, err, id.String(), "Declined; your words are shown to whoever asked.")
}

func (h *Handler) decided(w http.ResponseWriter, r *http.Request, f *kit.Reader, err error, id, sentence string) error {
	if f.Took(err) {
		for i, e := range f.Errors {
			f.Errors[i].Field = "until-" + id
			if e.Field == "answer" {
				f.Errors[i].Field = "answer-" + id
			}
		}
		return h.requests(w, r, f, http.StatusUnprocessableEntity)
	}
	if err != nil {
		return err
	}
	return h.kit.Done(w, r, sentence, "/sign-off-requests")
}
