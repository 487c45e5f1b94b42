package lesson

import (
	"fmt"
	"net/http"
	"strings"

	"rungbook/internal/app"
	"rungbook/web/kit"
)

// cellAt names a cell of the plan; the zero value names none.
type cellAt struct{ Rotation, Group int }

func (c cellAt) String() string { return fmt.Sprintf("%d-%d", c.Rotation, c.Group) }

// readCell reads "2-1"; anything else is the zero value.
func readCell(text string) cellAt {
	var c cellAt
	if _, err := fmt.Sscanf(text, "%d-%d", &c.Rotation, &c.Group); err != nil || c.String() != text {
		return cellAt{}
	}
	return c
}

// openCell is the cell that the page opens for changes: as the address says, or the form that was refused.
func openCell(r *http.Request) cellAt {
	if text := r.PostForm.Get("cell"); text != "" {
		return readCell(text)
	}
	return readCell(r.URL.Query().Get("cell"))
}

// cellView is one cell of the plan, open for changes.
type cellView struct {
	At       string
	Rotation int
	Group    int
	Heading  string
	Breaches []string
	Pinned   bool
	Station  kit.ChoiceField
	Lead     kit.ChoiceField
	Spotters kit.ChoiceField
	Children []cellChild
	Ask      askView
}

// cellChild is a child of the open cell.
type cellChild struct {
	ID       string
	Name     string
	Limit    string
	Why      string
	Say      string
	Breaches []string
	Activity kit.ChoiceField
	Stays    bool // the activity is pinned
	Group    kit.ChoiceField
	Held     bool // the child is pinned to its group
}

// newCellView is nil when there is no such cell.
func newCellView(s app.LessonSheet, at cellAt) *cellView {
	for _, row := range s.Plan.Rows {
		for _, c := range row.Cells {
			if c.Rotation == at.Rotation && c.Group == at.Group {
				return cellViewOf(s, c)
			}
		}
	}
	return nil
}

func cellViewOf(s app.LessonSheet, c app.SheetCell) *cellView {
	v := &cellView{At: cellAt{c.Rotation, c.Group}.String(), Rotation: c.Rotation, Group: c.Group, Pinned: c.Pinned, Breaches: c.Breaches,
		Heading:  fmt.Sprintf("Change rotation %d, group %d: %s", c.Rotation, c.Group, c.Ladder.Name),
		Station:  kit.ChoiceField{Name: "station", Label: "Station", Values: []string{c.Ladder.Key}},
		Lead:     kit.ChoiceField{Name: "lead", Label: "Runs it", Empty: "Nobody"},
		Spotters: kit.ChoiceField{Name: "spotter", Label: "Spots", Hint: "Somebody who spots is not watching the rest of the room."},
	}
	for _, l := range s.Ladders {
		v.Station.Choices = append(v.Station.Choices, kit.Choice{Value: l.Key, Label: l.Name})
	}
	for _, p := range s.Staff {
		v.offer(p, c)
	}
	for _, e := range c.Children {
		v.Children = append(v.Children, cellChildOf(s, e))
	}
	v.Ask = newAskView(s, c)
	return v
}

// offer lists somebody who is here, or who is in the cell already, among those who may run it and spot.
func (v *cellView) offer(p app.SheetStaff, c app.SheetCell) {
	id := p.ID.String()
	leads, spots := c.Lead != nil && c.Lead.ID == p.ID, false
	for _, s := range c.Spotters {
		spots = spots || s.ID == p.ID
	}
	if !p.Present && !leads && !spots {
		return
	}
	name := p.Name
	if !p.Present {
		name += " (not here)"
	}
	v.Lead.Choices = append(v.Lead.Choices, kit.Choice{Value: id, Label: name})
	v.Spotters.Choices = append(v.Spotters.Choices, kit.Choice{Value: id, Label: name, Hint: notes(p)})
	if leads {
		v.Lead.Values = []string{id}
	}
	if spots {
		v.Spotters.Values = append(v.Spotters.Values, id)
	}
}

func cellChildOf(s app.LessonSheet, e app.SheetEntry) cellChild {
	id := e.Child.ID.String()
	v := cellChild{ID: id, Name: e.Child.Name, Limit: limits(e.Child.Limits), Why: e.Why, Say: e.Say, Breaches: e.Breaches, Stays: e.Pinned, Held: e.Child.Pinned,
		Activity: kit.ChoiceField{ID: "activity-" + id, Name: "activity", Label: "Activity", Values: []string{e.Activity}},
		Group: kit.ChoiceField{ID: "group-" + id, Name: "to", Label: "Group, for the whole lesson", Values: []string{fmt.Sprint(e.Child.Group)},
			Choices: append(groupChoices(s), kit.Choice{Value: "0", Label: "None: sits out"})}}
	for _, o := range e.Choices {
		label := o.Name
		if strings.HasPrefix(o.Activity, "drill ") {
			label += " (drill)"
		}
		v.Activity.Choices = append(v.Activity.Choices, kit.Choice{Value: o.Activity, Label: label})
	}
	return v
}
