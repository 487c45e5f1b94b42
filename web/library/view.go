package library

import (
	"fmt"
	"slices"

	"rungbook/internal/app"
	"rungbook/internal/studio"
	"rungbook/web/kit"
)

// link leads to a rung, a drill or a fault; Note says where it stands.
type link struct{ Label, Note, URL string }

func rungLink(r studio.RungPlace) link {
	return link{Label: r.Name, Note: r.Ladder.Name, URL: rungURL(r.Key)}
}

// needLink is a rung that a rung of a ladder needs; its ladder is named where it is another.
func needLink(need studio.RungPlace, ladder string) link {
	l := rungLink(need)
	if need.Ladder.Key == ladder {
		l.Note = ""
	}
	return l
}

// needTail is what stands behind a need: its ladder, and a comma before the next.
func needTail(n link, last bool) string {
	text := ""
	if n.Note != "" {
		text = " (" + n.Note + ")"
	}
	if !last {
		text += ", "
	}
	return text
}

type laddersView struct {
	Count    string
	Families []familyView
	Edit     bool
}

type familyView struct {
	Name    string
	Ladders []ladderCard
}

type ladderCard struct {
	Key, Name, About, URL string
	Count                 string
	Drawing               kit.LadderView
}

func newLaddersView(shelf app.Shelf, edit bool) laddersView {
	view := laddersView{Edit: edit}
	rungs := 0
	for _, f := range studio.Families() {
		family := familyView{Name: kit.Capital(string(f))}
		for _, l := range shelf.Ladders {
			if l.Family == f {
				family.Ladders = append(family.Ladders, ladderCard{Key: l.Key, Name: l.Name, About: l.About, URL: ladderURL(l.Key),
					Count: kit.Count(len(l.Rungs), "rung", "rungs"), Drawing: drawing(l, false)})
				rungs += len(l.Rungs)
			}
		}
		if len(family.Ladders) > 0 {
			view.Families = append(view.Families, family)
		}
	}
	if len(shelf.Ladders) > 0 {
		view.Count = fmt.Sprintf("%s with %s and %s.", kit.Count(len(shelf.Ladders), "ladder", "ladders"), kit.Count(rungs, "rung", "rungs"), kit.Count(len(shelf.Drills), "drill", "drills"))
	}
	return view
}

// drawing is a ladder on which nobody stands, top to bottom as it is climbed.
func drawing(l studio.Ladder, links bool) kit.LadderView {
	view := kit.LadderView{Name: l.Name, Plain: true}
	for _, r := range l.Rungs {
		rung := kit.Rung{Name: r.Name, State: kit.Open, Clean: -1}
		if links {
			rung.URL = rungURL(r.Key)
		}
		view.Rungs = append(view.Rungs, rung)
	}
	return view
}

type ladderView struct {
	Key     string
	Drawing kit.LadderView
	Rungs   []rungLine // top first, as drawn
	Map     app.LadderMap
	Classes []app.ClassOnLadder
	Edit    bool
	Empty   bool
}

// rungLine is a rung's facts in a few lines.
type rungLine struct {
	Key, Name, URL, Finish string
	Figure                 []string
	Number                 int
	Spotted                bool
	Spotting               string
	Seconds                string
	TwoSided, Home         bool
	Safety                 int
	Needs                  []link
}

func newLadderView(shelf app.Shelf, l studio.Ladder, edit bool) ladderView {
	view := ladderView{Key: l.Key, Drawing: drawing(l, true), Edit: edit, Empty: len(l.Rungs) == 0}
	for i, r := range l.Rungs {
		line := rungLine{Key: r.Key, Name: r.Name, URL: rungURL(r.Key), Finish: r.Finish, Figure: r.Figure, Number: i + 1, Spotted: r.Spotting.People > 0,
			Spotting: spottingWords(r.Spotting), Seconds: kit.Count(r.TurnSeconds, "second", "seconds") + " a turn", TwoSided: r.TwoSided, Home: r.Home.Safe}
		for _, f := range r.Faults {
			if f.Safety {
				line.Safety++
			}
		}
		for _, key := range r.Needs {
			if need, ok := shelf.Rung(key); ok {
				line.Needs = append(line.Needs, needLink(need, l.Key))
			}
		}
		view.Rungs = append(view.Rungs, line)
	}
	slices.Reverse(view.Rungs)
	return view
}

type rungView struct {
	Key, Place    string
	Start, Finish string
	Figure        []string
	Look          []string
	Cautions      []string
	Urgent        bool
	Facts         []kit.Def
	Spotted       bool
	Spotting      string
	SpotHow       string
	SpotUntil     string
	Needs         []link
	Unlocks       []link
	Faults        []faultView
	Prepare       []link
	Below, Above  *link
	Edit          bool
}

type faultView struct {
	Key, Name, EditURL string
	Safety             bool
	Causes             []causeView
}

type causeView struct {
	Name, Cue, Strength string
	LookFor             string
	Before              string // the causes that it brings about
	Drills              []link
}

func newRungView(shelf app.Shelf, r studio.RungPlace, edit bool) rungView {
	view := rungView{Key: r.Key, Place: fmt.Sprintf("Rung %d of %d on the ladder %s.", r.Index+1, len(r.Ladder.Rungs), r.Ladder.Name),
		Start: r.Start, Finish: r.Finish, Figure: r.Figure, Look: r.Look, Cautions: cautions(r.Caution, r.BackBend), Urgent: r.BackBend, Facts: rungFacts(shelf, r.Rung),
		Spotted: r.Spotting.People > 0, Spotting: spottingWords(r.Spotting), SpotHow: sentence(r.Spotting.How), SpotUntil: sentence(r.Spotting.Until), Edit: edit}
	for _, key := range r.Needs {
		if need, ok := shelf.Rung(key); ok {
			view.Needs = append(view.Needs, rungLink(need))
		}
	}
	for _, other := range shelf.Unlocks(r.Key) {
		view.Unlocks = append(view.Unlocks, rungLink(other))
	}
	for _, f := range r.Faults {
		view.Faults = append(view.Faults, newFaultView(shelf, r.Key, withWhole(r.Rung, f), app.CausesOf(r.Rung)))
	}
	for _, d := range shelf.Drills {
		if slices.Contains(d.Prepares, r.Key) {
			view.Prepare = append(view.Prepare, link{Label: d.Name, Note: string(d.Kind), URL: drillURL(d.Key)})
		}
	}
	view.Below, view.Above = neighbour(r, -1), neighbour(r, 1)
	return view
}

func neighbour(r studio.RungPlace, step int) *link {
	i := r.Index + step
	if i < 0 || i >= len(r.Ladder.Rungs) {
		return nil
	}
	other := r.Ladder.Rungs[i]
	return &link{Label: other.Name, URL: rungURL(other.Key)}
}

func rungFacts(shelf app.Shelf, r studio.Rung) []kit.Def {
	facts := []kit.Def{
		{Term: "Equipment", Text: equipmentWords(shelf, r.Equipment)},
		{Term: "A turn takes", Text: kit.Count(r.TurnSeconds, "second", "seconds") + ", set-up included"},
		{Term: "Asks of the body", Text: loadsWords(r.Load)},
		{Term: "Sides", Text: sidesWords(r.TwoSided)},
	}
	if traits := traitsWords(r.Inverted, r.BackBend, r.Flight, false); traits != "" {
		facts = append(facts, kit.Def{Term: "The movement", Text: traits})
	}
	return append(facts, kit.Def{Term: homeWords(r.Home), Text: sentence(r.Home.Reason)})
}

func newFaultView(shelf app.Shelf, rung string, f studio.Fault, known []studio.Cause) faultView {
	view := faultView{Key: f.Key, Name: f.Name, Safety: f.Safety, EditURL: faultURL(rung, f.Key)}
	for _, c := range f.Causes {
		cause := causeView{Name: c.Name, Cue: c.Cue, Strength: strengthWords(c.Strength), LookFor: c.LookFor}
		var leads []string
		for _, k := range known {
			if slices.Contains(c.LeadsTo, k.Key) {
				leads = append(leads, "“"+k.Name+"”")
			}
		}
		cause.Before = kit.List(leads)
		for _, key := range c.Drills {
			if d, ok := shelf.Drill(key); ok {
				cause.Drills = append(cause.Drills, link{Label: d.Name, URL: drillURL(d.Key)})
			}
		}
		view.Causes = append(view.Causes, cause)
	}
	return view
}

func faultURL(rung, fault string) string { return rungURL(rung) + "/faults/" + fault }
