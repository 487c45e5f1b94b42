package lesson

import (
	"fmt"

	"rungbook/internal/app"
	"rungbook/internal/studio"
	"rungbook/web/kit"
)

// planView is the plan of the stations on the lesson's page.
type planView struct {
	URL        string // of the lesson
	Tonight    string // address of what the assistants see
	Version    int
	There      bool
	CanPropose bool
	Term       string // what the class's term has in this week
	TermURL    string // of the class
	Copy       string // of the button that copies the last plan; "" when there is none
	WhyNot     string // why nothing can be proposed
	Words      string
	Proof      string
	State      string
	Shared     bool
	Breaches   []string
	Without    []string
	Held       []string
	CanUndo    bool
	LookOn     bool     // the page asks by itself for a longer search
	Changes    []string // what the last change did
	Compare    string   // address of the plan beside the one before; "" when there is none
	Problem    *kit.Notice
	Board      kit.BoardView
	Children   kit.TableView
	LoadNote   string
	Loose      []looseChild
	Groups     []kit.Choice
	Cell       *cellView
	Cautions   []string
}

// looseChild is somebody who is here and in no group.
type looseChild struct{ ID, Name string }

func newPlanView(s app.LessonSheet, open cellAt, problem *studio.Error) planView {
	v := planView{URL: lessonURL(s.Lesson), Tonight: "/tonight/" + s.Lesson.ID.String(), CanPropose: s.CanBePlanned, LoadNote: app.LoadCaution, Cautions: app.LessonCautions(), Groups: groupChoices(s)}
	v.Term, v.TermURL = s.Term, "/classes/"+s.Class.ID.String()+"/term"
	if !s.CanBePlanned {
		v.WhyNot = whyNot(s)
	}
	if s.CanBePlanned && s.Earlier != nil {
		v.Copy = "Copy the plan of " + s.Earlier.Format("2 January")
	}
	if problem != nil {
		v.Problem = problemNotice(problem, s.Plan != nil)
	}
	if s.Plan == nil {
		return v
	}
	p := *s.Plan
	v.There, v.Version, v.Words, v.Proof, v.Breaches, v.Without, v.Held = true, p.Version, quality(p), proof(p), p.Breaches, p.Without, p.Held
	v.CanUndo, v.Changes = p.CanUndo, p.Changes
	if p.CanUndo || s.Earlier != nil {
		v.Compare = v.URL + "/compare"
	}
	v.Shared, v.State = p.SharedAt != nil, "A draft: the assistants do not see it."
	if v.Shared {
		v.State = "Saved for the assistants at " + p.SharedAt.In(s.Lesson.StartsAt.Location()).Format(clock) + ". Any change makes it a draft again."
	}
	v.Board = newBoard(s, true)
	v.Children = childTable(s)
	for _, c := range s.Children {
		if c.Present && c.Group == 0 {
			v.Loose = append(v.Loose, looseChild{c.ID.String(), c.Name})
		}
	}
	v.Cell = newCellView(s, open)
	return v
}

func whyNot(s app.LessonSheet) string {
	for _, c := range s.Children {
		if c.Present {
			return "The stations are too short for the class's rotations: give them more minutes, or the class fewer rotations."
		}
	}
	return "Nobody is marked as here. Say who is here first."
}

// problemNotice says why a plan was not made or not changed, with the ways out; there tells that there is one from before.
func problemNotice(e *studio.Error, there bool) *kit.Notice {
	kept := "Everything else on this page is as it was."
	if there {
		kept = "The plan below is the one from before."
	}
	if e.Code == studio.Conflict {
		return &kit.Notice{Kind: kit.Failure, Title: "Somebody else saved this plan meanwhile.",
			Text: "Your change was not made, and nothing of theirs was lost. Below is the plan as it is now: make your change again if it is still needed."}
	}
	n := &kit.Notice{Kind: kit.Failure, Title: e.Text}
	for _, f := range e.Fields {
		line := f.Field
		if f.Problem != "" {
			line += " A way out: " + f.Problem
		}
		n.Items = append(n.Items, line)
	}
	if len(n.Items) > 1 {
		n.Text = "These rules are in each other's way: giving way on any one of them is enough. "
	}
	n.Text += kept
	return n
}

// newBoard is the plan as a board. On paper there is nothing to press.
func newBoard(s app.LessonSheet, actions bool) kit.BoardView {
	p := *s.Plan
	board := kit.BoardView{Caption: "Rotations from top to bottom, stations from left to right: first who runs the station, then who spots, then what each child works at."}
	for _, l := range p.Stations {
		board.Stations = append(board.Stations, kit.BoardStation{Name: l.Name})
	}
	for _, row := range p.Rows {
		for _, cells := range lines(row.Cells, p.Stations) {
			line := kit.BoardRow{Name: fmt.Sprintf("Rotation %d", row.No), Time: span(row.From, row.To)}
			for _, c := range cells {
				if c == nil {
					line.Cells = append(line.Cells, kit.BoardCell{})
					continue
				}
				cell := boardCell(*c, actions)
				if actions {
					cell.Actions = changeLink(lessonURL(s.Lesson), cellAt{c.Rotation, c.Group})
				}
				line.Cells = append(line.Cells, cell)
			}
			board.Rows = append(board.Rows, line)
		}
	}
	return board
}

// lines sets the cells of a rotation under their stations, nil where a station rests. Two groups at one station, which a change by hand
// can bring about, need a line each.
func lines(cells []app.SheetCell, stations []studio.Ladder) [][]*app.SheetCell {
	var out [][]*app.SheetCell
	placed := 0
	for placed < len(cells) {
		line := make([]*app.SheetCell, len(stations))
		for i, l := range stations {
			nth := 0
			for j := range cells {
				if cells[j].Ladder.Key != l.Key {
					continue
				}
				if nth == len(out) {
					line[i] = &cells[j]
					placed++
				}
				nth++
			}
		}
		out = append(out, line)
	}
	return out
}

func boardCell(c app.SheetCell, links bool) kit.BoardCell {
	cell := kit.BoardCell{Group: fmt.Sprintf("Group %d", c.Group), Turns: turnsOf(c), Wait: waitOf(c), Breaches: c.Breaches, Pinned: c.Pinned}
	if links {
		cell.GroupNo = c.Group
	}
	if c.Lead != nil {
		cell.Lead = c.Lead.Name
	}
	var spotters []string
	for _, s := range c.Spotters {
		spotters = append(spotters, s.Name)
	}
	cell.Spotter = kit.List(spotters)
	for _, e := range c.Children {
		child := kit.BoardChild{Name: e.Child.Name, Activity: e.Name, Limit: limits(e.Child.Limits), State: kit.State(e.State)}
		if links {
			child.ID, child.URL = e.Child.ID.String(), "/children/"+e.Child.ID.String()
		}
		if e.Turns != c.Turns {
			child.Activity += ", " + kit.Count(e.Turns, "turn", "turns")
		}
		if e.Drill {
			child.Activity += " (drill)"
		}
		cell.Children = append(cell.Children, child)
	}
	return cell
}

func childTable(s app.LessonSheet) kit.TableView {
	t := kit.TableView{Caption: "What the plan gives each child. Load adds up 0 (nothing) to 3 (much) for each turn, against what is left of the child's limit this week.",
		Columns: []kit.Column{{Label: "Child"}, {Label: "Group"}, {Label: "Turns", Numeric: true}, {Label: "Waiting"},
			{Label: "Back", Numeric: true}, {Label: "Wrists", Numeric: true}, {Label: "Landing", Numeric: true}}}
	work := workOf(*s.Plan)
	for _, c := range s.Children {
		if c.Group == 0 {
			continue
		}
		group := fmt.Sprintf("Group %d", c.Group)
		if c.Pinned {
			group += ", pinned"
		}
		t.Rows = append(t.Rows, kit.Row{Quiet: !c.Present, Cells: []kit.Cell{
			kit.Link(c.Name, "/children/"+c.ID.String()), kit.Text(group), kit.Text(fmt.Sprint(c.Turns)), kit.Text(waitingOf(c.WaitShare, work)),
			kit.Text(ofLeft(c.Load.Back, c.LoadLeft.Back)), kit.Text(ofLeft(c.Load.Wrists, c.LoadLeft.Wrists)), kit.Text(ofLeft(c.Load.Landing, c.LoadLeft.Landing))}})
	}
	return t
}

// heldSummary counts where a cap of load held a child.
func heldSummary(sentences []string) string {
	return "A cap of load holds back in " + kit.Count(len(sentences), "place", "places")
}

func ofLeft(load, left int) string { return fmt.Sprintf("%d of %d", load, left) }

func groupChoices(s app.LessonSheet) []kit.Choice {
	var choices []kit.Choice
	for g := 1; g <= s.Class.Groups; g++ {
		choices = append(choices, kit.Choice{Value: fmt.Sprint(g), Label: fmt.Sprintf("Group %d", g)})
	}
	return choices
}
