package family

import (
	"encoding/json"
	"time"

	"github.com/a-h/templ"
	"github.com/google/uuid"
	"rungbook/internal/app"
	"rungbook/internal/words"
	"rungbook/web/kit"
)

const (
	lessonsShown = 3 // that stand open
	nextShown    = 3 // likewise, of the next rungs
)

// childModel is the page of a child: drills, next rungs, one ladder in full.
type childModel struct {
	app.FamilyView
	Chosen app.LadderStand
}

func newChildModel(view app.FamilyView, ladder string) childModel {
	m := childModel{FamilyView: view}
	m.Chosen, _ = app.ChooseLadder(view.Ladders, ladder)
	return m
}

func childURL(id uuid.UUID) string { return "/home/" + id.String() }

// limitLang marks a limit that the studio put into words itself.
func limitLang(b *words.Book, l app.HomeLimit, language string) templ.Attributes {
	if l.Own {
		return kit.In(b, language)
	}
	return nil
}

// ladderView leaves out which rung to take next: that is for the lesson.
func ladderView(l app.LadderStand, who, url, language string) kit.LadderView {
	view := kit.LadderView{Name: l.Name, Who: who, URL: url, Lang: language}
	for _, r := range l.Rungs {
		view.Rungs = append(view.Rungs, kit.Rung{Name: r.Name, State: kit.State(r.State), Clean: r.Clean, Evidence: r.Evidence})
	}
	return view
}

// standWords says in a sentence or two how far a child is on a ladder.
func standWords(b *words.Book, name string, l app.LadderStand) string {
	again := 0
	for _, r := range l.Rungs {
		if kit.State(r.State) == kit.Recheck {
			again++
		}
	}
	said := b.Count("stand.secured", len(l.Rungs), "Name", name, "Secure", l.Secure())
	if again > 0 {
		said += "; " + b.Count("stand.again", again)
	}
	said += "."
	if next := l.Next(); next != nil {
		said += " " + b.Say("stand.next", "Rung", next.Name)
	}
	return said
}

func daysWords(b *words.Book, d app.CalendarDay) string {
	if d.From.Equal(d.To) {
		return b.Weekday(d.From)
	}
	return b.Say("date.days", "From", b.Weekday(d.From), "To", b.Weekday(d.To))
}

// dayWords is a day seen from today.
func dayWords(b *words.Book, day, today time.Time) string {
	switch today.Sub(day).Hours() / 24 {
	case 0:
		return b.Say("log.today")
	case 1:
		return b.Say("log.yesterday")
	}
	return b.Weekday(day)
}

func messageWords(b *words.Book, m childModel) string {
	switch n := len(m.Messages); {
	case n == 0:
		return b.Say("child.no-messages")
	case m.Fresh > 0:
		return b.Say("child.messages-new", "All", n, "New", m.Fresh)
	default:
		return b.Say("child.messages", "All", n)
	}
}

// doneWords says how often a drill was done this week, and nothing where it was not.
func doneWords(b *words.Book, d app.HomeDrill) string {
	if d.DoneDays == 0 {
		return ""
	}
	return b.Count("drill.done-days", d.DoneDays)
}

// reportWords is what a family reported: when, where, how much.
func reportWords(b *words.Book, s app.SorenessLine) string {
	said := b.Say("hurt.line", "Day", b.Date(s.At), "Place", app.PlaceWords(b, s.Place), "HowMuch", s.HowMuch)
	if s.Since != nil {
		said += b.Say("hurt.line-since", "Day", b.Day(*s.Since))
	}
	return said + "."
}

// forgotten are the drills for which a day before today may be added.
func (m childModel) forgotten() []app.HomeDrill {
	var drills []app.HomeDrill
	for _, d := range m.Drills {
		if d.OnHold.Text == "" && len(d.MayNote) > 0 {
			drills = append(drills, d)
		}
	}
	return drills
}

func (m childModel) forgottenField(b *words.Book, d app.HomeDrill) kit.ChoiceField {
	f := kit.ChoiceField{ID: "day-" + d.ID.String(), Name: "day", Label: b.Say("log.before", "Drill", d.Name)}
	for _, day := range d.MayNote {
		f.Choices = append(f.Choices, kit.Choice{Value: day.Format(time.DateOnly), Label: dayWords(b, day, m.Today)})
	}
	return f
}

// timerWords is what the script of the timer says, as JSON; it fills in what stands in braces.
func timerWords(b *words.Book) string {
	said, _ := json.Marshal(map[string]string{ // a map of texts is always JSON
		"ready": b.Say("timer.ready"), "rest": b.Say("timer.rest"), "loosen": b.Say("timer.loosen"), "first": b.Say("timer.first-side"), "other": b.Say("timer.other-side"),
		"set": b.Say("timer.set"), "hold": b.Say("timer.hold"), "turn": b.Say("timer.turn"), "times": b.Say("timer.times"), "end": b.Say("timer.over"),
	})
	return string(said)
}
