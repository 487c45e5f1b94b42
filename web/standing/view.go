package standing

import (
	"fmt"
	"strconv"
	"strings"
	"time"

	"github.com/google/uuid"
	"rungbook/internal/app"
	"rungbook/internal/studio"
	"rungbook/web/kit"
)

// classList is the classes of running terms, and those that are over.
type classList struct {
	Running, Over []app.ClassLine
	Owner         bool
}

func newClassList(lines []app.ClassLine, actor studio.Actor) classList {
	list := classList{Owner: actor.Is(studio.OwnerRole)}
	for _, l := range lines {
		if l.Over {
			list.Over = append(list.Over, l)
		} else {
			list.Running = append(list.Running, l)
		}
	}
	return list
}

// table is the classes as a table.
func (classList) table(caption string, lines []app.ClassLine) kit.TableView {
	t := kit.TableView{Caption: caption, HideCaption: true, Columns: []kit.Column{{Label: "Class"}, {Label: "When"}, {Label: "Taken by"},
		{Label: "Children", Numeric: true}, {Label: "Next lesson"}}}
	for _, l := range lines {
		next := kit.Text("none")
		if l.NextID != uuid.Nil {
			next = kit.Link(l.NextAt.Format("Monday 2 January, 15:04"), "/lessons/"+l.NextID.String())
		}
		t.Rows = append(t.Rows, kit.Row{Quiet: l.Over, Cells: []kit.Cell{kit.Link(l.Name, "/classes/"+l.ID.String()), kit.Text(l.When),
			kit.Text(joined(l.Teachers, "nobody yet")), kit.Text(fmt.Sprintf("%d of %d places", l.Children, l.Places)), next}})
	}
	return t
}

func joined(words []string, none string) string {
	if len(words) == 0 {
		return none
	}
	return strings.Join(words, ", ")
}

// bars is how the class is spread on one ladder.
func bars(l app.LadderSpread) kit.BarsView {
	view := kit.BarsView{Title: l.Name}
	for _, r := range l.Rungs {
		view.Bars = append(view.Bars, kit.Bar{Label: r.Name, Text: strconv.Itoa(len(r.Names)), Value: float64(len(r.Names))})
	}
	return view
}

// ladderView is a ladder as the kit draws it. url makes the link of a rung from its key; nil makes none.
func ladderView(l app.LadderStand, who, url string, rung func(key string) string) kit.LadderView {
	view := kit.LadderView{Name: l.Name, Who: who, URL: url}
	for _, r := range l.Rungs {
		drawn := kit.Rung{Name: r.Name, State: kit.State(r.State), Clean: r.Clean, Evidence: r.Evidence, Next: r.Next}
		if rung != nil {
			drawn.URL = rung(r.Key)
		}
		view.Rungs = append(view.Rungs, drawn)
	}
	return view
}

func planWords(l app.LessonLine) string {
	switch {
	case l.Cancelled:
		return "cancelled"
	case l.Shared:
		return "planned, shared with the assistants"
	case l.Planned:
		return "planned, not yet shared"
	}
	return "no plan yet"
}

func presentWords(l app.LessonLine) string {
	if l.Present+l.Absent == 0 {
		return "nobody noted"
	}
	return fmt.Sprintf("%d of %d there", l.Present, l.Present+l.Absent)
}

// childrenModel is the list of children.
type childrenModel struct {
	Search string
	Lines  []app.PupilLine
}

func (m childrenModel) table() kit.TableView {
	t := kit.TableView{ID: "children", Caption: "Children", HideCaption: true, Columns: []kit.Column{{Label: "Name"}, {Label: "Age", Numeric: true}, {Label: "Classes"}, {Label: "Care limits"}}}
	for _, l := range m.Lines {
		limits := kit.Text("none")
		if len(l.Limits) > 0 {
			limits = kit.Part(limitTags(l.Limits))
		}
		t.Rows = append(t.Rows, kit.Row{Cells: []kit.Cell{kit.Link(l.Name, childURL(l.ID)), kit.Text(strconv.Itoa(l.Age)), kit.Text(joined(l.Classes, "none")), limits}})
	}
	return t
}

func childURL(id uuid.UUID) string { return "/children/" + id.String() }

func headIntro(head app.ChildHead) string {
	var classes []string
	for _, c := range head.Classes {
		classes = append(classes, c.Name)
	}
	return fmt.Sprintf("%d years old. %s.", head.Age, joined(classes, "In no class"))
}

// childTabs are the pages about a child.
func childTabs(head app.ChildHead, current string) []kit.Tab {
	url := childURL(head.ID)
	tabs := []kit.Tab{{Label: "Ladders", URL: url}, {Label: "Marks", URL: url + "/marks"}, {Label: "Ahead", URL: url + "/ahead"}, {Label: "Care", URL: url + "/care"},
		{Label: "Load", URL: url + "/load"}, {Label: "Home", URL: url + "/home"}, {Label: "Messages", URL: url + "/messages"}, {Label: "Notes", URL: url + "/notes"}, {Label: "History", URL: url + "/history"}}
	for i := range tabs {
		tabs[i].Current = tabs[i].Label == current
	}
	return tabs
}

// childModel is the page of where a child stands: all ladders small, one in full.
type childModel struct {
	app.ChildView
	Chosen app.LadderStand
}

// newChildModel chooses the ladder asked for, else the one that is furthest on and has something to do, else the first.
func newChildModel(view app.ChildView, ladder string) childModel {
	m := childModel{ChildView: view}
	m.Chosen, _ = app.ChooseLadder(view.Ladders, ladder)
	return m
}

func (m childModel) small(l app.LadderStand) kit.LadderView {
	return ladderView(l, "", childURL(m.ID)+"?ladder="+l.Key, nil)
}

func (m childModel) drawing() kit.LadderView {
	return ladderView(m.Chosen, m.GivenName, "", func(key string) string { return markURL(m.ID, key) })
}

func markURL(child uuid.UUID, rung string) string {
	return childURL(child) + "/marks?rung=" + rung
}

// topDown are the chosen ladder's rungs as the drawing shows them.
func (m childModel) topDown() []app.RungStand {
	var rungs []app.RungStand
	for i := len(m.Chosen.Rungs) - 1; i >= 0; i-- {
		rungs = append(rungs, m.Chosen.Rungs[i])
	}
	return rungs
}

func day(t time.Time) string { return t.Format("2 January 2006") }
