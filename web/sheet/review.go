package sheet

import (
	"fmt"
	"net/http"
	"net/url"
	"strings"

	"github.com/google/uuid"
	"rungbook/internal/app"
	"rungbook/internal/studio"
	"rungbook/web/kit"
)

// reviewView is the look back at a lesson.
type reviewView struct {
	URL     string
	Lesson  string
	Stats   []kit.Stat
	Seen    kit.TableView
	Secure  []newsView
	Recheck []newsView
	Next    []newsView
	Missed  []linkView
	Waiting []tickView
	Kept    []keptView
	Notes   []string
	Home    []tickView
	Why     []string // why each of Home
	Records string   // a sentence; "" without
	// ClassHome is where a drill is sent to several children.
	ClassHome string
}

type newsView struct{ Child, URL, Text string }

type linkView struct{ Label, URL string }

// tickView is something to tick.
type tickView struct{ Value, Label, Hint string }

type keptView struct {
	ID, Digest, Says, Why string
	May                   bool
}

// Review is the look back at a lesson.
func (h *Handler) Review(w http.ResponseWriter, r *http.Request) error {
	id, err := kit.ID(r, "lesson")
	if err != nil {
		return err
	}
	review, err := h.app.Review(r.Context(), kit.Actor(r), id)
	if err != nil {
		return err
	}
	page := h.kit.Page(w, r, "After class", kit.SectionToday)
	page.Heading = "After class: " + review.Class
	page.Intro = review.Lesson.StartsAt.Format("Monday 2 January, 15:04")
	page.Crumbs = []kit.Crumb{{Label: "Today", URL: "/"}, {Label: "The lesson", URL: "/lessons/" + id.String()}, {Label: "Class sheet", URL: "/lessons/" + id.String() + "/sheet"}}
	return h.kit.Render(w, r, http.StatusOK, reviewPage(page, newReviewView(review)))
}

func newReviewView(r app.ReviewView) reviewView {
	lesson := "/lessons/" + r.Lesson.ID.String()
	v := reviewView{URL: lesson + "/review", Lesson: lesson, Seen: seenTable(r.Seen), Secure: newsOf(r.Secure), Recheck: newsOf(r.Recheck),
		ClassHome: "/classes/" + r.Lesson.ClassID.String() + "/home?lesson=" + r.Lesson.ID.String()}
	marks := 0
	for _, s := range r.Seen {
		marks += s.Clean + s.Supported + s.Missed
	}
	v.Stats = []kit.Stat{{Value: fmt.Sprint(marks), Label: "marks that count"}, {Value: fmt.Sprint(len(r.Secure)), Label: "new secure"},
		{Value: fmt.Sprint(len(r.Recheck)), Label: "to recheck", Warm: len(r.Recheck) > 0}, {Value: fmt.Sprint(len(r.Missed)), Label: "here without a mark", Warm: len(r.Missed) > 0}}
	for _, n := range r.Next {
		text := n.Ladder + ": " + n.Rung + " is next, where it was " + n.From
		switch {
		case n.Rung == "":
			text = n.Ladder + ": nothing to try for now; what comes next waits for other rungs, or all is done"
		case n.From == "":
			text = n.Ladder + ": " + n.Rung + " is next now"
		}
		v.Next = append(v.Next, newsView{n.Child.Name, childURL(n.Child.ID), text})
	}
	for _, c := range r.Missed {
		v.Missed = append(v.Missed, linkView{c.Name, childURL(c.ID) + "/marks"})
	}
	for _, m := range r.Waiting {
		v.Waiting = append(v.Waiting, tickView{m.ID.String(), m.Child + ": " + m.Rung + sideWords(m.Side) + ", " + string(m.Outcome),
			strings.Join(append([]string{"by " + orElse(m.By, "somebody who is gone") + " at " + m.At.Format(clockTime)}, m.Faults...), "; ")})
	}
	for _, k := range r.Kept {
		v.Kept = append(v.Kept, keptView{k.ID.String(), k.Digest, k.Says, "From " + orElse(k.SentByName, "somebody who is gone") + ", " + k.ReceivedAt.Format("2 January, 15:04") + ". " + k.Words, k.May})
	}
	for _, n := range r.Notes {
		v.Notes = append(v.Notes, orElse(n.Child, "The lesson")+": "+n.Note+" ("+orElse(n.By, "somebody who is gone")+", "+n.At.Format(clockTime)+")")
	}
	for _, i := range r.Home {
		hint := i.Drill.Dose + "."
		if i.Drill.Adult {
			hint += " Only with an adult in the room."
		}
		v.Why = append(v.Why, i.Child.Name+": "+i.Drill.Reason)
		v.Home = append(v.Home, tickView{i.Child.ID.String() + " " + i.Drill.Key, i.Child.Name + ": " + i.Drill.Name, hint})
	}
	if r.Records > 0 {
		v.Records = "This lesson has " + kit.Count(r.Records, "incident record", "incident records") + "."
	}
	return v
}

func childURL(id uuid.UUID) string { return "/children/" + id.String() }

func sideWords(s studio.Side) string {
	if s == studio.NoSide {
		return ""
	}
	return ", " + string(s)
}

func newsOf(news []app.RungNews) []newsView {
	var all []newsView
	for _, n := range news {
		text := n.Ladder + ": " + n.Rung
		if n.Reason != "" {
			text += ". " + n.Reason
		}
		all = append(all, newsView{n.Child.Name, childURL(n.Child.ID), text})
	}
	return all
}

func seenTable(seen []app.SeenRung) kit.TableView {
	t := kit.TableView{Caption: "Marks that count, by rung", HideCaption: true,
		Columns: []kit.Column{{Label: "Rung"}, {Label: "Children", Numeric: true}, {Label: "Clean", Numeric: true}, {Label: "Supported", Numeric: true}, {Label: "Missed", Numeric: true}}}
	for _, s := range seen {
		t.Rows = append(t.Rows, kit.Row{Cells: []kit.Cell{kit.Text(s.Ladder + ": " + s.Rung), kit.Text(fmt.Sprint(s.Children)), kit.Text(fmt.Sprint(s.Clean)),
			kit.Text(fmt.Sprint(s.Supported)), kit.Text(fmt.Sprint(s.Missed))}})
	}
	return t
}

// Confirm lets marks of assistants count, or takes them back.
func (h *Handler) Confirm(w http.ResponseWriter, r *http.Request) error {
	id, form, err := reviewForm(w, r)
	if err != nil {
		return err
	}
	f := &kit.Reader{Values: form}
	marks, accept := f.IDs("mark"), f.Choice("what", "count", "aside") == "count"
	if len(f.Errors) > 0 {
		marks = nil // whether there is such a lesson is said first
	}
	done, err := h.app.ConfirmMarks(r.Context(), kit.Actor(r), id, marks, accept)
	if err == nil {
		err = f.Err()
	}
	if err != nil {
		return err
	}
	sentence := kit.Count(done, "mark counts", "marks count") + " now."
	if !accept {
		sentence = kit.Count(done, "mark", "marks") + " set aside: they do not count, and stay in the history."
	}
	return h.kit.Done(w, r, sentence, reviewURL(id)+"#waiting")
}

// Decide accepts an item that did not count at once, or sets it aside.
func (h *Handler) Decide(w http.ResponseWriter, r *http.Request) error {
	id, form, err := reviewForm(w, r)
	if err != nil {
		return err
	}
	f := &kit.Reader{Values: form}
	items, accept := f.IDs("item"), f.Choice("what", "accept", "aside") == "accept"
	if len(f.Errors) > 0 || len(items) != 1 {
		return studio.Missing()
	}
	if err := h.app.DecideItem(r.Context(), kit.Actor(r), id, items[0], form.Get("digest"), accept); err != nil {
		return err
	}
	sentence := "Set aside: it does not count, and stays kept."
	if accept {
		sentence = "Accepted: it counts as the work of whoever sent it."
	}
	return h.kit.Done(w, r, sentence, reviewURL(id)+"#kept")
}

// SendHome sends the drills that are ticked.
func (h *Handler) SendHome(w http.ResponseWriter, r *http.Request) error {
	id, form, err := reviewForm(w, r)
	if err != nil {
		return err
	}
	var picks []app.HomePick
	for _, value := range form["home"] {
		child, drill, _ := strings.Cut(value, " ")
		parsed, err := uuid.Parse(child)
		if err != nil {
			return studio.Missing()
		}
		picks = append(picks, app.HomePick{Child: parsed, Drill: drill})
	}
	sent, err := h.app.SendHomes(r.Context(), kit.Actor(r), id, picks)
	if err != nil {
		return err
	}
	return h.kit.Done(w, r, sent.Words(), reviewURL(id)+"#home")
}

func reviewForm(w http.ResponseWriter, r *http.Request) (uuid.UUID, url.Values, error) {
	id, err := kit.ID(r, "lesson")
	if err != nil {
		return id, nil, err
	}
	form, err := kit.Form(w, r)
	return id, form, err
}

func reviewURL(lesson uuid.UUID) string { return "/lessons/" + lesson.String() + "/review" }
