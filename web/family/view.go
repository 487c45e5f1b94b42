package family

import (
	"fmt"
	"time"

	"github.com/google/uuid"
	"rungbook/internal/app"
	"rungbook/web/kit"
)

const (
	longDay      = "Monday 2 January"
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

// ladderView leaves out which rung to take next: that is for the lesson.
func ladderView(l app.LadderStand, who, url string) kit.LadderView {
	view := kit.LadderView{Name: l.Name, Who: who, URL: url}
	for _, r := range l.Rungs {
		view.Rungs = append(view.Rungs, kit.Rung{Name: r.Name, State: kit.State(r.State), Clean: r.Clean, Evidence: r.Evidence})
	}
	return view
}

// standWords says in a sentence or two how far a child is on a ladder.
func standWords(name string, l app.LadderStand) string {
	again := 0
	for _, r := range l.Rungs {
		if kit.State(r.State) == kit.Recheck {
			again++
		}
	}
	words := fmt.Sprintf("%s has secured %d of %d rungs", name, l.Secure(), len(l.Rungs))
	if again > 0 {
		words += fmt.Sprintf("; the teacher looks at %d of them once more", again)
	}
	words += "."
	if next := l.Next(); next != nil {
		words += " Next: “" + next.Name + "”."
	}
	return words
}

// stateLine is a state with what it means to a family.
type stateLine struct {
	State kit.State
	Words string
}

func states() []stateLine {
	return []stateLine{
		{kit.Secure, "can do it well, again and again"},
		{kit.Working, "has begun it in class"},
		{kit.Open, "may begin it in class"},
		{kit.Waiting, "something else comes first"},
		{kit.Recheck, "could do it; the teacher looks once more"},
	}
}

func daysWords(d app.CalendarDay) string {
	if d.From.Equal(d.To) {
		return d.From.Format(longDay)
	}
	return d.From.Format(longDay) + " to " + d.To.Format(longDay)
}

// dayWords is a day seen from today.
func dayWords(day, today time.Time) string {
	switch today.Sub(day).Hours() / 24 {
	case 0:
		return "Today"
	case 1:
		return "Yesterday"
	}
	return day.Format(longDay)
}

func messageWords(m childModel) string {
	switch n := len(m.Messages); {
	case n == 0:
		return "Messages: none yet"
	case m.Fresh > 0:
		return fmt.Sprintf("Messages: %d, of which %d new", n, m.Fresh)
	case n == 1:
		return "Messages: 1"
	default:
		return fmt.Sprintf("Messages: %d", n)
	}
}

// doneWords says how often a drill was done this week, and nothing where it was not.
func doneWords(d app.HomeDrill) string {
	switch d.DoneDays {
	case 0:
		return ""
	case 1:
		return "Done on 1 day this week."
	}
	return fmt.Sprintf("Done on %d days this week.", d.DoneDays)
}

func sinceWords(s app.SorenessLine) string {
	if s.Since == nil {
		return ""
	}
	return ", since " + s.Since.Format("2 January")
}

// forgotten are the drills for which a day before today may be added.
func (m childModel) forgotten() []app.HomeDrill {
	var drills []app.HomeDrill
	for _, d := range m.Drills {
		if d.OnHold == "" && len(d.MayNote) > 0 {
			drills = append(drills, d)
		}
	}
	return drills
}

func (m childModel) forgottenField(d app.HomeDrill) kit.ChoiceField {
	f := kit.ChoiceField{ID: "day-" + d.ID.String(), Name: "day", Label: d.Name + ", done on a day before"}
	for _, day := range d.MayNote {
		f.Choices = append(f.Choices, kit.Choice{Value: day.Format(time.DateOnly), Label: dayWords(day, m.Today)})
	}
	return f
}
