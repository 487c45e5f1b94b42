package library

import (
	"fmt"
	"slices"
	"strings"

	"rungbook/internal/app"
	"rungbook/internal/studio"
	"rungbook/web/kit"
)

// drillSearch is what the search form of the drills asks for.
type drillSearch struct {
	Kind string // a kind, or "" for all
	Home bool   // only what is safe at home
	Text string // words that all must stand in the name, the steps, the space or the names of rungs it prepares
}

func (s drillSearch) empty() bool { return s.Kind == "" && !s.Home && strings.TrimSpace(s.Text) == "" }

func (s drillSearch) finds(shelf app.Shelf, d studio.Drill) bool {
	if s.Kind != "" && string(d.Kind) != s.Kind || s.Home && !d.Home.Safe {
		return false
	}
	text := strings.ToLower(d.Name + " " + strings.Join(d.Steps, " ") + " " + d.Space)
	for _, key := range d.Prepares {
		if r, ok := shelf.Rung(key); ok {
			text += " " + strings.ToLower(r.Name+" "+r.Ladder.Name)
		}
	}
	for word := range strings.FieldsSeq(strings.ToLower(s.Text)) {
		if !strings.Contains(text, word) {
			return false
		}
	}
	return true
}

type drillsView struct {
	Search drillSearch
	Count  string
	Kinds  []drillKindView
	Edit   bool
	Any    bool // the library has drills at all
}

type drillKindView struct {
	Name   string
	Drills []drillLine
}

type drillLine struct {
	Name, URL, Dose, Prepares string
	Figure                    []string
	Home                      string // "" when not at home
	Spotted                   bool
}

func newDrillsView(shelf app.Shelf, search drillSearch, edit bool) drillsView {
	view := drillsView{Search: search, Edit: edit, Any: len(shelf.Drills) > 0}
	found := 0
	for _, kind := range studio.DrillKinds() {
		group := drillKindView{Name: kindWord(kind)}
		for _, d := range shelf.Drills {
			if d.Kind == kind && search.finds(shelf, d) {
				group.Drills = append(group.Drills, newDrillLine(shelf, d))
			}
		}
		if len(group.Drills) > 0 {
			view.Kinds = append(view.Kinds, group)
		}
		found += len(group.Drills)
	}
	view.Count = kit.Count(len(shelf.Drills), "drill", "drills") + "."
	if !search.empty() {
		view.Count = fmt.Sprintf("%d of %s found.", found, kit.Count(len(shelf.Drills), "drill", "drills"))
	}
	return view
}

func newDrillLine(shelf app.Shelf, d studio.Drill) drillLine {
	line := drillLine{Name: d.Name, URL: drillURL(d.Key), Figure: d.Figure, Dose: doseWords(d.Dose), Spotted: d.Spotting.People > 0}
	if d.Home.Safe {
		line.Home = homeWords(d.Home)
	}
	var names []string
	for _, key := range d.Prepares {
		if r, ok := shelf.Rung(key); ok && !slices.Contains(names, r.Ladder.Name) {
			names = append(names, r.Ladder.Name)
		}
	}
	line.Prepares = strings.Join(names, ", ")
	return line
}

func kindWord(k studio.DrillKind) string {
	if k == studio.SkillDrill {
		return "Skill drills"
	}
	return kit.Capital(string(k))
}

type drillView struct {
	Key, Intro string
	Figure     []string
	Steps      []string
	Cautions   []string
	Urgent     bool
	Facts      []kit.Def
	Prepares   []link
	Answers    []link
	Edit       bool
}

func newDrillView(shelf app.Shelf, d studio.Drill, edit bool) drillView {
	view := drillView{Key: d.Key, Intro: kindWord(d.Kind) + ": " + strings.ToLower(doseWords(d.Dose)[:1]) + doseWords(d.Dose)[1:] + ".",
		Figure: d.Figure, Steps: d.Steps, Cautions: cautions(d.Caution, d.BackBend), Urgent: d.BackBend, Facts: drillFacts(shelf, d), Edit: edit}
	if d.Kind == studio.SkillDrill {
		view.Intro = "Skill drill" + strings.TrimPrefix(view.Intro, kindWord(d.Kind))
	}
	for _, key := range d.Prepares {
		if r, ok := shelf.Rung(key); ok {
			view.Prepares = append(view.Prepares, rungLink(r))
		}
	}
	for _, l := range shelf.Ladders {
		for _, r := range l.Rungs {
			for _, f := range r.Faults {
				if slices.ContainsFunc(f.Causes, func(c studio.Cause) bool { return slices.Contains(c.Drills, d.Key) }) {
					view.Answers = append(view.Answers, link{Label: f.Name, Note: r.Name + ", " + l.Name, URL: rungURL(r.Key) + "#fault-" + f.Key})
				}
			}
		}
	}
	return view
}

func drillFacts(shelf app.Shelf, d studio.Drill) []kit.Def {
	facts := []kit.Def{
		{Term: "Space", Text: sentence(d.Space)},
		{Term: "Equipment", Text: equipmentWords(shelf, d.Equipment)},
		{Term: "A turn takes", Text: kit.Count(d.TurnSeconds, "second", "seconds")},
		{Term: "Asks of the body", Text: loadsWords(d.Load)},
		{Term: "Spotting", Text: spottingWords(d.Spotting)},
		{Term: "Sides", Text: sidesWords(d.TwoSided)},
	}
	if d.Space == "" {
		facts = facts[1:]
	}
	if d.Spotting.How != "" {
		facts = append(facts, kit.Def{Term: "How to spot", Text: sentence(d.Spotting.How)})
	}
	if traits := traitsWords(d.Inverted, d.BackBend, d.Flight, d.Partner); traits != "" {
		facts = append(facts, kit.Def{Term: "The movement", Text: traits})
	}
	return append(facts, kit.Def{Term: homeWords(d.Home), Text: sentence(d.Home.Reason)})
}
