package pacing

import (
	"fmt"
	"slices"
	"strconv"

	"rungbook/internal/app"
	"rungbook/internal/studio"
	"rungbook/web/kit"
)

// termModel is the page of a term.
type termModel struct {
	app.PacingView
	Problem *kit.Notice // why the last change was not made
	Paper   bool        // for print: nothing to press
}

func newTermModel(v app.PacingView, problem *studio.Error) termModel {
	m := termModel{PacingView: v}
	if problem != nil {
		m.Problem = &kit.Notice{Kind: kit.Warning, Title: "Nothing was changed.", Text: problem.Text}
	}
	return m
}

func chipClass(r app.PacingRung) string {
	class := "pace-rung"
	if r.Taught {
		class += " pace-taught"
	}
	if len(r.Breaches) > 0 {
		class += " pace-broken"
	}
	return class
}

func (m termModel) url() string { return "/classes/" + m.ID.String() + "/term" }

func (m termModel) version() string { return strconv.Itoa(m.Version) }

func (m termModel) intro() string {
	text := m.Term + ", " + kit.Count(len(m.Weeks), "week", "weeks") + "."
	if m.ShowcaseOn != "" {
		text += " Showcase on " + m.ShowcaseOn + "."
	}
	return text
}

// proposeLabel names the one button that lays the term out.
func (m termModel) proposeLabel() string {
	switch {
	case len(m.Rungs) == 0:
		return "Propose a term"
	case len(m.Weeks) > 0 && m.Weeks[0].Over:
		return "Plan again from today"
	}
	return "Propose again"
}

// loose are the rungs without a week.
func (m termModel) loose() []app.PacingRung {
	return slices.DeleteFunc(slices.Clone(m.Rungs), func(r app.PacingRung) bool { return r.Week > 0 })
}

// rung is the rung of a key, which the term has.
func (m termModel) rung(key string) app.PacingRung {
	i := slices.IndexFunc(m.Rungs, func(r app.PacingRung) bool { return r.Key == key })
	return m.Rungs[i]
}

func (m termModel) names(keys []string) string {
	var names []string
	for _, k := range keys {
		names = append(names, m.rung(k).Name)
	}
	return kit.List(names)
}

// inWeek are the rungs of a ladder that are new in a week.
func inWeek(l app.PacingLadder, week int) []app.PacingRung {
	return slices.DeleteFunc(slices.Clone(l.Rungs), func(r app.PacingRung) bool { return r.Week != week })
}

func weekDay(w app.PacingWeek) string { return w.Day.Format("2 Jan") }

func loadWords(w app.PacingWeek) string {
	return fmt.Sprintf("new material %d, back %d, wrists %d", w.Loads[0], w.Loads[1], w.Loads[2])
}

// highest is the load that fills the height of a bar.
func (m termModel) highest() int {
	most := max(m.Peak, m.Bound, 1)
	for _, w := range m.Weeks {
		most = max(most, slices.Max(w.Loads[:]))
	}
	return most
}

// Measures of the load bars, in units of their view box.
const (
	barsWide = 60
	barsHigh = 52
	barTop   = 10 // room for the number
)

// barOf is the height of a load.
func (m termModel) barOf(load int) int { return (barsHigh - barTop) * load / m.highest() }

// weekChoices offers every week with a lesson; none names the choice of no week.
func (m termModel) weekChoices(name, label, none string, chosen int, hint string, rung string) kit.ChoiceField {
	f := kit.ChoiceField{ID: name + "-" + rung, Name: name, Label: label, Empty: none, Hint: hint}
	if chosen > 0 {
		f.Values = []string{strconv.Itoa(chosen)}
	}
	for _, w := range m.Weeks {
		if w.Lesson || w.No == chosen {
			f.Choices = append(f.Choices, kit.Choice{Value: strconv.Itoa(w.No), Label: fmt.Sprintf("%d – %s", w.No, weekDay(w))})
		}
	}
	return f
}

// ahead offers the weeks to come for trying something out.
func (m termModel) ahead(name, label string) kit.ChoiceField {
	f := m.weekChoices(name, label, "Choose", 0, "", "if")
	f.Choices = nil
	for _, w := range m.Weeks {
		if w.Lesson && !w.Over {
			f.Choices = append(f.Choices, kit.Choice{Value: strconv.Itoa(w.No), Label: fmt.Sprintf("week %d, %s", w.No, weekDay(w))})
		}
	}
	return f
}

// sooner and later are the nearest weeks with a lesson before and after a rung's; 0 when there is none.
func (m termModel) sooner(r app.PacingRung) int {
	for week := r.Week - 1; week >= 1; week-- {
		if m.Weeks[week-1].Lesson {
			return week
		}
	}
	return 0
}

func (m termModel) later(r app.PacingRung) int {
	for week := r.Week + 1; week <= len(m.Weeks); week++ {
		if m.Weeks[week-1].Lesson {
			return week
		}
	}
	return 0
}

// standing says where the class is on a rung.
func (m termModel) standing(r app.PacingRung) string {
	return fmt.Sprintf("%d of %s secure now.", r.Secure, kit.Count(m.Children, "child has it", "children have it"))
}

// againWords say when a rung is seen again.
func againWords(r app.PacingRung) string {
	if len(r.Again) == 0 {
		return "Not seen again within this term."
	}
	var weeks []string
	for _, w := range r.Again {
		weeks = append(weeks, strconv.Itoa(w))
	}
	if len(weeks) == 1 {
		return "Seen again in week " + weeks[0] + "."
	}
	return "Seen again in weeks " + kit.List(weeks) + "."
}

// ifTable sets the weeks side by side.
func ifTable(f app.WhatIf) kit.TableView {
	if len(f.Rungs) > 0 {
		return expectedTable(f)
	}
	t := kit.TableView{Caption: f.Title, HideCaption: true, Columns: []kit.Column{{Label: "Week"}, {Label: "New now"}, {Label: "New then"}}}
	for _, w := range f.Weeks {
		then := kit.List(w.Then)
		if w.NoLesson {
			then = "no lesson"
		}
		if w.Changed {
			t.Rows = append(t.Rows, kit.Row{Cells: []kit.Cell{kit.Text("Week " + strconv.Itoa(w.No)), kit.Text(orNothing(kit.List(w.Now))), kit.Part(changedCell(orNothing(then)))}})
		} else {
			t.Rows = append(t.Rows, kit.Row{Quiet: true, Cells: []kit.Cell{kit.Text("Week " + strconv.Itoa(w.No)), kit.Text(orNothing(kit.List(w.Now))), kit.Text("the same")}})
		}
	}
	return t
}

func expectedTable(f app.WhatIf) kit.TableView {
	t := kit.TableView{Caption: f.Title, HideCaption: true, Columns: []kit.Column{{Label: "Rung"}, {Label: "Likely to have it now", Numeric: true}, {Label: "With one more", Numeric: true}}}
	for _, r := range f.Rungs {
		t.Rows = append(t.Rows, kit.Row{Cells: []kit.Cell{kit.Text(r.Name), kit.Text(fmt.Sprintf("%.1f children", r.Now)), kit.Text(fmt.Sprintf("%.1f children", r.Then))}})
	}
	return t
}

func orNothing(text string) string {
	if text == "" {
		return "nothing"
	}
	return text
}

// broken reports whether a week breaks a rule.
func (m termModel) broken() bool {
	return slices.ContainsFunc(m.Weeks, func(w app.PacingWeek) bool { return len(w.Breaches) > 0 })
}

// weekClass draws a week as over, without a lesson, or still to come.
func weekClass(w app.PacingWeek) string {
	switch {
	case !w.Lesson:
		return "pace-none"
	case w.Over:
		return "pace-over"
	}
	return "pace-ahead"
}

// pointWords say what a rung counts.
func pointWords(r studio.PacingRule) string {
	return fmt.Sprintf("New material: a new rung counts %d, %d more where it is spotted, and %d when it is seen again.", r.New, r.Spotted, r.Again)
}

// seenAgainWords say when a rung comes back.
func seenAgainWords(r studio.PacingRule) string {
	if len(r.After) == 0 {
		return "No rung is planned to be seen again."
	}
	var weeks []string
	for _, w := range r.After {
		weeks = append(weeks, strconv.Itoa(w))
	}
	return "A rung is seen again " + kit.List(weeks) + " weeks after its first, or at the next lesson where that week has none."
}

// quietWords say how long before a showcase nothing is new.
func quietWords(r studio.PacingRule) string {
	switch r.Quiet {
	case 0:
		return ""
	case 1:
		return "The last lesson before a showcase has nothing new."
	}
	return fmt.Sprintf("The last %d lessons before a showcase have nothing new.", r.Quiet)
}
