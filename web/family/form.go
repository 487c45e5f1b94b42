package family

import (
	"net/url"

	"github.com/google/uuid"
	"rungbook/internal/app"
	"rungbook/web/kit"
)

// hurtForm is a report as it was typed.
type hurtForm struct {
	Place, HowMuch, Doing string
	Signs                 []string
	Problems              kit.Reader
}

func newHurtForm(values url.Values) hurtForm {
	return hurtForm{Place: values.Get("place"), HowMuch: values.Get("how-much"), Doing: values.Get("doing"), Signs: values["signs"],
		Problems: kit.Reader{Values: values}}
}

func (f *hurtForm) report(child uuid.UUID) app.NewSoreness {
	r := &f.Problems
	return app.NewSoreness{Child: child, Place: r.Choice("place", app.SorenessPlaces()...), HowMuch: r.Whole("how-much", 0, 10),
		Doing: r.Text("doing", 400, false), Signs: f.Signs}
}

// urgent reports whether the answers call for help at once.
func (f hurtForm) urgent() bool { return app.Urgent(f.Place, f.Signs) }

// hurtModel is the page of a report.
type hurtModel struct {
	app.FamilyView
	hurtForm
}

func (m hurtModel) placeField() kit.ChoiceField {
	f := kit.ChoiceField{Name: "place", Label: "Where", Values: []string{m.Place}, Empty: "Choose", Required: true, Error: m.Problems.Problem("place")}
	for _, p := range app.SorenessPlaces() {
		f.Choices = append(f.Choices, kit.Choice{Value: p, Label: p})
	}
	return f
}

func (m hurtModel) signsField() kit.ChoiceField {
	f := kit.ChoiceField{Name: "signs", Label: "Is any of this so, or was it?", Hint: "Tick all that fit, also when it has eased.", Values: m.Signs, Error: m.Problems.Problem("signs")}
	for _, s := range app.SorenessSigns() {
		f.Choices = append(f.Choices, kit.Choice{Value: s.Key, Label: s.Words})
	}
	return f
}

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
