package pacing

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"rungbook/internal/app"
	"rungbook/internal/studio"
	"rungbook/web/kit"
)

// pieceModel is the page of a piece.
type pieceModel struct {
	app.PieceView
	Problem *kit.Notice // why the last change was not made
}

func newPieceModel(v app.PieceView, problem *studio.Error) pieceModel {
	m := pieceModel{PieceView: v}
	if problem != nil {
		m.Problem = &kit.Notice{Kind: kit.Warning, Title: "Nothing was changed.", Text: problem.Text}
	}
	return m
}

func (m pieceModel) url() string     { return pieceURL(m.Piece) }
func (m pieceModel) version() string { return versionOf(m.Piece) }

// fits are the ways in which a child is placed, from what needs a look to what does not.
var fits = []app.Fit{app.LimitedFit, app.NotYetFit, app.LikelyFit, app.SwappedFit, app.ReadyFit}

// open are the children who need a look, those furthest from ready first.
func (m pieceModel) open() []app.PieceChild {
	var all []app.PieceChild
	for _, f := range fits {
		for _, c := range m.Children {
			if c.Fit == f && f != app.ReadyFit {
				all = append(all, c)
			}
		}
	}
	return all
}

// ready are the names of the children who have every rung.
func (m pieceModel) ready() []string {
	var names []string
	for _, c := range m.Children {
		if c.Fit == app.ReadyFit {
			names = append(names, c.Name)
		}
	}
	return names
}

func fitIcon(f app.Fit) string {
	switch f {
	case app.ReadyFit:
		return "check"
	case app.LikelyFit:
		return "clock"
	case app.LimitedFit:
		return "warning"
	case app.SwappedFit:
		return "return"
	}
	return "up"
}

func fitLabel(f app.Fit) string { return kit.Capital(string(f)) }

// stats are how many children are placed how.
func pieceStats(v app.PieceView) []kit.Stat {
	var all []kit.Stat
	for _, f := range slices.Backward(fits) {
		if n := v.Count(f); n > 0 || f == app.ReadyFit {
			all = append(all, kit.Stat{Value: strconv.Itoa(n), Label: statWords[f], Warm: f == app.LimitedFit})
		}
	}
	return all
}

var statWords = map[app.Fit]string{app.ReadyFit: "ready for all of it", app.SwappedFit: "ready with another rung", app.LikelyFit: "likely by the day",
	app.NotYetFit: "not yet", app.LimitedFit: "held back by a care limit"}

func pieceRungTable(v app.PieceView) kit.TableView {
	t := kit.TableView{Caption: "Rungs of the piece", HideCaption: true, Columns: []kit.Column{{Label: "Rung"}, {Label: "Who does it"}, {Label: "Where they are"}}}
	for _, r := range v.Rungs {
		t.Rows = append(t.Rows, kit.Row{Cells: []kit.Cell{kit.Part(rungCell(r.Key, r.Name, r.Ladder)), kit.Text(r.Part), kit.Text(r.Words)}})
	}
	return t
}

func spottingTable(s app.StageSpotting) kit.TableView {
	t := kit.TableView{Caption: "Who may spot on the day", HideCaption: true, Columns: []kit.Column{{Label: "Rung"}, {Label: "One turn takes"}, {Label: "Signed off on the day"}, {Label: "Together"}}}
	for _, r := range s.Rungs {
		t.Rows = append(t.Rows, kit.Row{Cells: []kit.Cell{kit.Link(r.Name, "/rungs/"+r.Key), kit.Text(kit.Count(r.People, "spotter", "spotters")), kit.Part(signedCell(r)), kit.Part(togetherCell(r))}})
	}
	return t
}

func equipmentTable(needs []app.StageNeed) kit.TableView {
	t := kit.TableView{Caption: "Equipment when all do it at once", HideCaption: true, Columns: []kit.Column{{Label: "Rung"}, {Label: "Equipment"}, {Label: "For all at once", Numeric: true}, {Label: "In the hall", Numeric: true}}}
	for _, n := range needs {
		have := strconv.Itoa(n.Have)
		if n.Have < n.Takes {
			have += ", so take turns"
		}
		t.Rows = append(t.Rows, kit.Row{Cells: []kit.Cell{kit.Text(n.Rung), kit.Text(n.Name), kit.Text(fmt.Sprintf("%d for %s", n.Takes, kit.Count(n.Children, "child", "children"))), kit.Text(have)}})
	}
	return t
}

// partWords say who is in a part.
func (m pieceModel) partWords(p studio.PiecePart) string {
	if p.Everybody {
		return "Everybody in the class"
	}
	var names []string
	for _, c := range m.Pupils {
		if slices.Contains(p.Children, c.ID) {
			names = append(names, c.Name)
		}
	}
	if len(names) == 0 {
		return "Nobody who is in the class now"
	}
	return kit.List(names)
}

func (m pieceModel) rungNames(keys []string) string {
	var names []string
	for _, r := range m.Rungs {
		if slices.Contains(keys, r.Key) {
			names = append(names, r.Name)
		}
	}
	return kit.List(names)
}

// does is what a child does, for the list in the dressing room: one line a rung.
func does(r app.ChildRung) string {
	switch r.Fit {
	case app.SwappedFit:
		if r.Swap.Key == "" {
			return "Stands in the picture (" + r.Name + ")"
		}
		return r.Swap.Name + ", in place of " + r.Name
	case app.ReadyFit:
		return r.Name
	case app.LimitedFit:
		return r.Name + " – left out"
	}
	return r.Name + " – to be decided on the day"
}

// doesAll is everything that a child does, on one line.
func doesAll(c app.PieceChild) string {
	var lines []string
	for _, r := range c.Rungs {
		lines = append(lines, does(r))
	}
	return strings.Join(lines, "; ")
}

func partsOr(parts []string) string {
	if len(parts) == 0 {
		return "with everybody"
	}
	return kit.List(parts)
}

func namesOr(names []string) string {
	if len(names) == 0 {
		return "nobody of the class"
	}
	return kit.List(names)
}

func likelyFrom() string { return fmt.Sprintf("%.0f", 100*app.LikelyFrom) }

// stageCautions stand on the page and on its printout.
var stageCautions = kit.CautionBox{Title: "A forecast, never a clearance", Lines: []string{
	"The teacher who is present decides on the day who shows what, after seeing it done well there and then: the floor, the shoes and the nerves are others on stage.",
	"What a care limit forbids is not shown. Your insurer's and governing body's rules and a doctor's word come first.",
	"Whoever spots does not watch the rest of the room: count the adults who are left.",
	"Pain in the back or a leg, numbness or weakness after a back-bend: stop, lie still, call the emergency services.",
}}
