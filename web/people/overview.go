package people

import (
	"fmt"
	"net/http"
	"strings"
	"time"

	"github.com/google/uuid"
	"rungbook/internal/app"
	"rungbook/internal/studio"
	"rungbook/web/kit"
)

// overviewView is the studio on one page.
type overviewView struct {
	Stats     []kit.Stat
	Attention []attention
	Rooms     []room
	Trail     kit.TableView
}

// attention is something that needs somebody, with the way to it.
type attention struct{ Title, Text, URL, Action string }

// room is a part of the studio's desk.
type room struct{ Name, URL, About string }

// Overview shows how much there is and what needs somebody.
func (h *Handler) Overview(w http.ResponseWriter, r *http.Request) error {
	o, err := h.app.Overview(r.Context(), kit.Actor(r))
	if err != nil {
		return err
	}
	page := h.page(w, r, "Studio")
	page.Crumbs = nil
	page.Intro = termSentence(o)
	return h.show(w, r, http.StatusOK, overviewPage(page, overviewView{Stats: stats(o), Attention: needs(o), Rooms: rooms(), Trail: trailTable(o.Trail, o.Day)}))
}

func termSentence(o app.Overview) string {
	if o.Term == nil {
		return "No term is on or ahead."
	}
	text := fmt.Sprintf("%s runs from %s to %s", o.Term.Name, inWords(o.Term.StartsOn), inWords(o.Term.EndsOn))
	if o.Term.StartsOn.After(o.Day.Today) {
		text += ", " + inDays(o.Term.StartsOn, o.Day) + " from now"
	}
	if s := o.Term.ShowcaseOn; s != nil && !s.Before(o.Day.Today) {
		text += "; the showcase is on " + inWords(*s) + ", in " + inDays(*s, o.Day)
	}
	return text + "."
}

func inDays(on time.Time, day app.Day) string {
	return kit.Count(int(on.Sub(day.Today).Hours()/24+0.5), "day", "days")
}

func stats(o app.Overview) []kit.Stat {
	places := 0
	for _, c := range o.Classes {
		places += c.Places
	}
	return []kit.Stat{
		{Value: itoa(o.Children), Label: fmt.Sprintf("children, %d of them in a class this term", o.Enrolled)},
		{Value: itoa(len(o.Classes)), Label: fmt.Sprintf("classes this term, with %s", kit.Count(places, "place", "places"))},
		{Value: itoa(o.Staff), Label: "staff who take or help at classes"},
		{Value: itoa(o.Families), Label: "families with an account"},
	}
}

func rooms() []room {
	return []room{
		{"People", "/studio/people", "Accounts, links, staff, children's records."},
		{"Import a roster", "/studio/roster", "Children, classes and guardians from a spreadsheet."},
		{"Terms", "/studio/terms", "First and last days, holidays, showcase."},
		{"Terms side by side", "/studio/terms-overview", "Who stays, what is learned, who comes, where people lacked, what of the library is used."},
		{"Classes", "/studio/classes", "When they meet, who takes them, who is in them."},
		{"Sign-offs", "/studio/sign-offs", "Who may spot what, until when."},
		{"Cover", "/studio/cover", "Adults and spotters of the next lessons."},
		{"Incident records", "/studio/incidents", "What went wrong, what was done, who was told."},
		{"Equipment", "/studio/equipment", "How many pieces the hall has."},
		{"Settings", "/studio/settings", "When a rung is secure, caps of load, adults in the room, and the rest."},
		{"How rungs are learned", "/studio/forecasts", "What forecasts go by, and which rungs open most."},
		{"How markers agree", "/studio/agreement", "Turns that two people marked, and who should mark together again."},
		{"Consents", "/studio/consents", "What families are asked, and what they answered."},
		{"Requests to erase", "/studio/erasures", "Families who want their data gone."},
		{"How long things are kept", "/studio/retention", "What goes by itself, and when."},
		{"Trail", "/studio/trail", "Who did what, and when."},
	}
}

// needs lists what needs somebody, the most pressing first.
func needs(o app.Overview) []attention {
	var list []attention
	add := func(n int, title, text, url, action string) {
		if n > 0 {
			list = append(list, attention{title, text, url, action})
		}
	}
	if o.Term == nil {
		add(1, "There is no term", "Classes and lessons belong to a term.", "/studio/terms/new", "Add a term")
	}
	n, who := expiries(o.Expired)
	add(n, kit.Count(n, "sign-off has", "sign-offs have")+" expired", who, "/studio/sign-offs", "See sign-offs")
	add(len(o.Teacherless), kit.Count(len(o.Teacherless), "class has", "classes have")+" no teacher", classNames(o.Teacherless)+".", firstClass(o.Teacherless), "Say who takes it")
	add(len(o.Lessonless), kit.Count(len(o.Lessonless), "class has", "classes have")+" no lessons", classNames(o.Lessonless)+".", firstClass(o.Lessonless), "Make the lessons")
	n, who = expiries(o.Soon)
	add(n, kit.Count(n, "sign-off expires", "sign-offs expire")+fmt.Sprintf(" within %d days", app.SoonDays), who, "/studio/sign-offs", "See sign-offs")
	add(len(o.Links), kit.Count(len(o.Links), "link has", "links have")+" not been used", linkNames(o), "/studio/people#links", "See the links")
	add(len(o.Unjoined), kit.Count(len(o.Unjoined), "person has", "people have")+" no passphrase and no link", "They cannot sign in until you hand them one.", "/studio/people", "See accounts")
	return list
}

// expiries says for whom how many sign-offs end when.
func expiries(list []app.EndingSignOff) (n int, text string) {
	const named = 4
	var words []string
	for i, s := range list {
		n += s.Rungs
		if i < named {
			words = append(words, fmt.Sprintf("%s, %s, %s", s.Staff, kit.Count(s.Rungs, "rung", "rungs"), inWords(s.Until)))
		}
	}
	if more := len(list) - named; more > 0 {
		words = append(words, kit.Count(more, "other", "others"))
	}
	return n, strings.Join(words, "; ") + "."
}

func classNames(classes []studio.Class) string {
	var names []string
	for _, c := range classes {
		names = append(names, c.Name)
	}
	return joined(names, "")
}

func firstClass(classes []studio.Class) string {
	if len(classes) == 0 {
		return "/studio/classes"
	}
	return classURL(classes[0].ID)
}

func linkNames(o app.Overview) string {
	var names []string
	for _, l := range o.Links {
		name := l.Name
		if !l.OpenAt(o.Day.Now) {
			name += " (ran out)"
		}
		names = append(names, name)
	}
	return joined(names, "") + "."
}

// Trail shows who did what.
func (h *Handler) Trail(w http.ResponseWriter, r *http.Request) error {
	var after app.TrailPlace // the zero place, from now, where the address names none that can be read
	at, err := time.Parse(time.RFC3339Nano, r.URL.Query().Get("at"))
	if id, wrong := uuid.Parse(r.URL.Query().Get("id")); err == nil && wrong == nil {
		after = app.TrailPlace{At: at, ID: id}
	}
	const shown = 100
	entries, day, err := h.app.Trail(r.Context(), kit.Actor(r), after, shown)
	if err != nil {
		return err
	}
	page := h.page(w, r, "Trail")
	page.Intro = "Who did what, the newest first. Nobody can change or remove a line."
	page.Actions = kit.LinkButton(kit.Action{Label: "Is it whole?", URL: "/studio/trail/check", Kind: kit.Quiet})
	next := ""
	if len(entries) == shown {
		last := entries[shown-1]
		next = "/studio/trail?at=" + last.At.UTC().Format(time.RFC3339Nano) + "&id=" + last.ID.String()
	}
	return h.show(w, r, http.StatusOK, trailPage(page, trailTable(entries, day), next))
}

func trailTable(entries []studio.TrailEntry, day app.Day) kit.TableView {
	t := kit.TableView{Caption: "Trail", HideCaption: true, Columns: []kit.Column{{Label: "When"}, {Label: "Who"}, {Label: "Did what"}, {Label: "To what"}}}
	for _, e := range entries {
		t.Rows = append(t.Rows, kit.Row{Cells: []kit.Cell{kit.Text(moment(e.At, day)), kit.Text(e.ActorName), kit.Text(e.Action), kit.Text(subject(e))}})
	}
	return t
}

func subject(e studio.TrailEntry) string {
	if e.Name != "" {
		return e.Name
	}
	return strings.TrimSpace(e.Kind + " " + e.Key)
}
