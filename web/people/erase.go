package people

import (
	"net/http"

	"github.com/google/uuid"
	"rungbook/internal/app"
	"rungbook/internal/studio"
	"rungbook/web/kit"
)

func erasureURL(child uuid.UUID) string { return "/studio/erasures/" + child.String() }

// eraseURL is where a child is erased; "" where it was.
func eraseURL(c studio.ChildDetail) string {
	if c.ErasedAt != nil {
		return ""
	}
	return erasureURL(c.ID)
}

// Erasures lists what families asked to have erased.
func (h *Handler) Erasures(w http.ResponseWriter, r *http.Request) error {
	list, day, err := h.app.ErasureRequests(r.Context(), kit.Actor(r))
	if err != nil {
		return err
	}
	page := h.page(w, r, "Requests to erase")
	page.Intro = "Families ask on their own page. You erase, or say why not; either is written to the trail."
	return h.show(w, r, http.StatusOK, erasuresPage(page, erasureTable(list, day)))
}

func erasureTable(list []studio.ErasureRequest, day app.Day) kit.TableView {
	t := kit.TableView{Caption: "Requests", HideCaption: true, Columns: []kit.Column{{Label: "Child"}, {Label: "Asked"}, {Label: "What they say"}, {Label: "Answer"}}}
	for _, q := range list {
		name := kit.Text(q.ChildName)
		answer := "Waits for you"
		switch {
		case q.DecidedAt == nil:
			name = kit.Link(q.ChildName, erasureURL(q.ChildID))
		case *q.Erased:
			answer = "Erased " + moment(*q.DecidedAt, day)
		default:
			answer = "Declined " + moment(*q.DecidedAt, day) + ": " + q.Answer
		}
		t.Rows = append(t.Rows, kit.Row{Quiet: q.DecidedAt != nil, Cells: []kit.Cell{name, kit.Text(moment(q.AskedAt, day)), kit.Text(q.Words), kit.Text(answer)}})
	}
	return t
}

// Erasure asks the owner to confirm that a child is erased.
func (h *Handler) Erasure(w http.ResponseWriter, r *http.Request) error {
	return h.erasurePage(w, r, form{Values: values()})
}

func (h *Handler) erasurePage(w http.ResponseWriter, r *http.Request, typed form) error {
	id, err := kit.ID(r, "child")
	if err != nil {
		return err
	}
	view, err := h.app.Erasure(r.Context(), kit.Actor(r), id)
	if err != nil {
		return err
	}
	page := h.page(w, r, "Erase "+view.Name, kit.Crumb{Label: "Requests to erase", URL: "/studio/erasures"})
	return h.show(w, r, typed.status(), erasurePage(page, view, typed))
}

// Erase erases a child for good.
func (h *Handler) Erase(w http.ResponseWriter, r *http.Request) error {
	id, err := kit.ID(r, "child")
	if err != nil {
		return err
	}
	var name, passphrase string
	return h.submit(w, r, func(f *kit.Reader) {
		name, passphrase = f.Text("name", 200, true), f.Values.Get("passphrase")
	}, func() (done, error) {
		return done{"The child is erased. What is left names nobody.", "/studio/erasures"}, h.app.EraseChild(r.Context(), kit.Actor(r), id, name, passphrase)
	}, func(typed form) error { return h.erasurePage(w, r, typed) })
}

// DeclineErasure tells the family why not.
func (h *Handler) DeclineErasure(w http.ResponseWriter, r *http.Request) error {
	id, err := kit.ID(r, "child")
	if err != nil {
		return err
	}
	answer := ""
	return h.submit(w, r, func(f *kit.Reader) { answer = f.Text("answer", 1000, true) }, func() (done, error) {
		return done{"The family reads your answer on its page.", "/studio/erasures"}, h.app.DeclineErasure(r.Context(), kit.Actor(r), id, answer)
	}, func(typed form) error { return h.erasurePage(w, r, typed) })
}

// stays says what erasing leaves, and what goes with the child.
func stays(v app.ErasureView) []string {
	lines := []string{
		"Gone for good: names, birth date but for its year, contact, notes, reports that something hurt, care limits with their reasons, drills at home, practice, messages about the child, released reports, files of all reports of a term with the child in them, consents.",
		"Left without a name: marks, attendance, effort and places in plans, so that the sums over your classes stay what they are. The trail keeps its lines: they tell of a child by number, and of invitations by the e-mail address.",
		"Not changed: words filed elsewhere that name the child; those with the first or the last name in them are listed below. Not searched: other spellings and nicknames, incident records, papers, files taken out before, and backups.",
	}
	if n := len(v.Guardians); n > 0 {
		lines = append(lines, kit.Count(n, "guardian loses", "guardians lose")+" the child; an account that is there for nothing else is deleted, and cannot sign in any more.")
	}
	if v.Incidents > 0 {
		lines = append(lines, kit.Count(v.Incidents, "incident record stays", "incident records stay")+", with name and birth date, until "+inWords(v.Until)+": records of accidents must be kept for the case of a claim. They go by themselves after that day.")
	}
	return lines
}

// mentionsTable lists the words that name the child and stay, with where to change them or take them back.
func mentionsTable(v app.ErasureView) kit.TableView {
	t := kit.TableView{Caption: "Words that hold a name of the child", HideCaption: true, Columns: []kit.Column{{Label: "Where"}, {Label: "When"}, {Label: "Words"}}}
	for _, m := range v.Mentions {
		t.Rows = append(t.Rows, kit.Row{Cells: []kit.Cell{kit.Link(mentionPlace(m)), kit.Text(moment(m.At, v.Day)), kit.Text(m.Words)}})
	}
	return t
}

// mentionPlace names where a mention stands, and leads there.
func mentionPlace(m studio.Mention) (label, url string) {
	about := m.About.String()
	switch m.Kind {
	case studio.MentionClassMessage:
		return "Message to " + m.Of, "/classes/" + about + "/messages"
	case studio.MentionChildMessage:
		return "Message to the family of " + m.Of, "/children/" + about + "/messages"
	case studio.MentionLessonNote:
		return "Note of a lesson of " + m.Of, "/lessons/" + about
	case studio.MentionSheetNote:
		return "Note from the hall, " + m.Of, "/lessons/" + about + "/review"
	case studio.MentionChildNote:
		return "Note about " + m.Of, "/children/" + about + "/notes"
	}
	return "Term report of " + m.Of, "/reports/" + about + "/notes"
}
