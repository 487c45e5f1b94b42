package standing

import (
	"fmt"
	"net/url"
	"strconv"

	"rungbook/internal/app"
	"rungbook/web/kit"
)

// classModel is the page of a class.
type classModel struct{ app.ClassView }

func (m classModel) path() string { return "/classes/" + m.ID.String() }

// sorted is the page with its ladders, in another order.
func (m classModel) sorted(by string) string {
	return m.path() + "?" + url.Values{"ladders": {m.Show}, "sort": {by}}.Encode() + "#children"
}

// showField chooses the ladders, sortField the order of the children.
func (m classModel) showField() kit.ChoiceField {
	words := map[string]string{app.TermLadders: "This term's", app.TonightLadders: "The next lesson's", app.AllLadders: "All"}
	f := kit.ChoiceField{Name: "ladders", Label: "Ladders", Values: []string{m.Show}}
	for _, show := range m.Shows {
		f.Choices = append(f.Choices, kit.Choice{Value: show, Label: words[show]})
	}
	return f
}

func (m classModel) sortField() kit.ChoiceField {
	f := kit.ChoiceField{Name: "sort", Label: "Order", Values: []string{m.Sort},
		Choices: []kit.Choice{{Value: app.ByName, Label: "By name"}, {Value: app.ByReadiness, Label: "Most rungs ready first"}}}
	for _, l := range m.Ladders {
		f.Choices = append(f.Choices, kit.Choice{Value: l.Key, Label: "Furthest on: " + l.Name})
	}
	return f
}

// ariaSort is the order of a column for who hears the table.
func (m classModel) ariaSort(by string) string {
	switch {
	case m.Sort != by:
		return "none"
	case by == app.ByName:
		return "ascending"
	}
	return "descending"
}

func (m classModel) readyHint() string {
	return fmt.Sprintf("Ready counts the rungs shown that a child can take up now: those open, with everything they need secure, and those being worked at with at least "+
		"%d of the last %d clean on each side. It counts; you decide.", m.Rule.Clean-1, m.Rule.Window)
}

func readyWords(r app.Readiness) string { return fmt.Sprintf("%d open, %d close", r.Open, r.Close) }

// sheet is every drawing of the page.
func (m classModel) sheet() [][]kit.State {
	var all [][]kit.State
	for _, c := range m.Children {
		for _, cell := range c.Cells {
			all = append(all, states(cell))
		}
	}
	return all
}

func states(cell app.GridCell) []kit.State {
	out := make([]kit.State, len(cell.States))
	for i, s := range cell.States {
		out[i] = kit.State(s)
	}
	return out
}

// cellCount is "3 of 7"; cellState is the state of the rung to take next in a word.
func cellCount(cell app.GridCell) string {
	return strconv.Itoa(cell.Done) + " of " + strconv.Itoa(len(cell.States))
}

func cellState(cell app.GridCell) string {
	switch {
	case cell.Next >= 0:
		return cell.States[cell.Next]
	case cell.Done == len(cell.States):
		return "done"
	}
	return "waiting"
}

// cellLabel is what a cell is called: what is seen, with the names that column and row give.
func cellLabel(child string, l app.LadderSpread, cell app.GridCell) string {
	text := child + ", " + l.Name + ": " + cellCount(cell) + " " + cellState(cell)
	if cellState(cell) != "done" && cell.Next >= 0 {
		text += "; next " + l.Names[cell.Next]
	}
	return text
}
