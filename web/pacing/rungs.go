package pacing

import (
	"fmt"
	"slices"
	"strconv"

	"rungbook/internal/app"
	"rungbook/internal/studio"
	"rungbook/web/kit"
)

// rungsModel is the form of the rungs of a term.
type rungsModel struct {
	URL, Version string
	MostNew, Lag kit.Field
	First, Rest  []kit.ChoiceField
	Problem      *kit.Notice
}

// newRungsModel shows the term as it is, or as it was typed.
func newRungsModel(v app.PacingView, typed *kit.Reader, problem *studio.Error) rungsModel {
	m := rungsModel{URL: "/classes/" + v.ID.String() + "/term", Version: strconv.Itoa(v.Version)}
	mostNew, lag := strconv.Itoa(v.MostNew), strconv.Itoa(v.Lag)
	if typed != nil {
		mostNew, lag = typed.Values.Get("most_new"), typed.Values.Get("lag")
	}
	m.MostNew = kit.Field{Name: "most_new", Label: "Most new rungs in one week", Type: "number", Value: mostNew, Min: "1", Max: "6", Short: true, Required: true}
	m.Lag = kit.Field{Name: "lag", Label: "Weeks between a rung and one that needs it", Type: "number", Value: lag, Min: "1", Max: "6", Short: true, Required: true, Hint: "At least."}
	if typed != nil {
		m.MostNew.Error, m.Lag.Error = typed.Problem("most_new"), typed.Problem("lag")
	}
	if problem != nil {
		m.Problem = &kit.Notice{Kind: kit.Warning, Title: "Nothing was saved.", Text: problem.Text}
	}
	for _, l := range v.Choice {
		field := ladderChoice(l, v, typed)
		if l.Term || len(field.Values) > 0 {
			m.First = append(m.First, field)
		} else {
			m.Rest = append(m.Rest, field)
		}
	}
	return m
}

func ladderChoice(l app.ChoiceOf, v app.PacingView, typed *kit.Reader) kit.ChoiceField {
	f := kit.ChoiceField{ID: "ladder-" + l.Key, Name: "rung", Label: l.Name}
	for _, r := range l.Rungs {
		f.Choices = append(f.Choices, kit.Choice{Value: r.Key, Label: r.Name, Hint: fmt.Sprintf("among the next three for %d, secure for %d of %d", r.Near, r.Secure, v.Children)})
		if typed == nil && r.Chosen || typed != nil && slices.Contains(typed.Values["rung"], r.Key) {
			f.Values = append(f.Values, r.Key)
		}
	}
	return f
}
