package lesson

import (
	"fmt"
	"time"

	"rungbook/internal/app"
	"rungbook/web/kit"
)

// compareView is two plans side by side.
type compareView struct {
	Back     string // address of the lesson
	Intro    string
	There    bool // there are two
	Sums     kit.TableView
	Children kit.TableView
	Note     string
}

func newCompareView(c app.Comparison) compareView {
	v := compareView{Back: lessonURL(c.Lesson) + "#plan", There: c.Was != nil}
	if c.Was == nil {
		v.Intro = "The plan of " + c.Class.Name + " has nothing before it."
		return v
	}
	was := "Before the last change"
	v.Intro = "The plan as it is, beside the one from before its last change."
	if c.WasOf != nil {
		was = c.WasOf.Format("2 January")
		v.Intro = "This plan never changed, so it is beside the last plan of the class, of " + was + "."
		v.Note = "That plan is not held against tonight's rules: other people may have been there. What it is worth is for its own evening. "
	}
	v.Note += "Groups are told apart by who is in them, not by their numbers."
	v.Sums = sumsTable(was, *c.Was, c.Is)
	v.Children = comparedTable(was, c)
	return v
}

func sumsTable(label string, was, is app.ComparedPlan) kit.TableView {
	row := func(name string, of func(app.ComparedPlan) string) kit.Row {
		word := "as before"
		if of(was) != of(is) {
			word = "changed"
		}
		return kit.Row{Cells: []kit.Cell{kit.Text(name), kit.Text(of(was)), kit.Text(of(is)), kit.Text(word)}}
	}
	return kit.TableView{ID: "sums", Caption: "What the two plans come to", Columns: []kit.Column{{Label: "Of the plan"}, {Label: label}, {Label: "Now"}, {Label: "Change"}},
		Rows: []kit.Row{
			row("Worth", func(p app.ComparedPlan) string { return fmt.Sprintf("%.2f", p.Worth) }),
			row("How good", howGood),
			row("Rules broken", brokenOf),
			row("Mean waiting of a child", func(p app.ComparedPlan) string { return length(p.MeanWait) + " of " + length(p.WorkTotal) }),
			row("Children", func(p app.ComparedPlan) string { return fmt.Sprint(p.Children) }),
		}}
}

func howGood(p app.ComparedPlan) string {
	if p.Broken > 0 {
		return "Not compared with the best possible, since it breaks rules."
	}
	return p.Words
}

func brokenOf(p app.ComparedPlan) string {
	switch {
	case p.Broken < 0:
		return "not counted"
	case p.Broken == 0:
		return "none"
	}
	return fmt.Sprint(p.Broken)
}

// changedCell marks a change by shape and word.
func changedCell(word string) kit.Cell {
	if word == "as before" {
		return kit.Text(word)
	}
	return kit.Part(kit.Label(word, "forward", false))
}

func comparedTable(was string, c app.Comparison) kit.TableView {
	t := kit.TableView{ID: "children", Caption: "What each child has in the two plans. Activities are in the order of the rotations.",
		Columns: []kit.Column{{Label: "Child"}, {Label: was}, {Label: "Now"}, {Label: "Change"}}}
	for _, child := range c.Children {
		t.Rows = append(t.Rows, kit.Row{Cells: []kit.Cell{kit.Link(child.Name, "/children/"+child.ID.String()),
			workCell(child.Was), workCell(child.Is), changedCell(changedWords(child))}})
	}
	return t
}

func workCell(w app.ComparedWork) kit.Cell {
	if w.Group == 0 {
		return kit.Text("in no group")
	}
	return kit.Part(comparedPart(fmt.Sprintf("Group %d: %s, %s of waiting", w.Group, kit.Count(w.Turns, "turn", "turns"), length(w.Wait)), w.Activities))
}

// changedWords names what changed for a child: "changed: group, turns".
func changedWords(c app.ComparedChild) string {
	switch {
	case c.Was.Group == 0:
		return "came into the plan"
	case c.Is.Group == 0:
		return "left the plan"
	}
	var what []string
	if c.OtherGroup {
		what = append(what, "group")
	}
	if !c.SameWork() {
		what = append(what, "activities")
	}
	if c.Was.Turns != c.Is.Turns {
		what = append(what, "turns")
	}
	if c.Was.Wait.Round(10*time.Second) != c.Is.Wait.Round(10*time.Second) {
		what = append(what, "waiting")
	}
	if len(what) == 0 {
		return "as before"
	}
	return "changed: " + kit.List(what)
}
