package pacing

import (
	"fmt"
	"slices"

	"github.com/google/uuid"
	"rungbook/internal/app"
	"rungbook/internal/studio"
	"rungbook/web/kit"
)

// pieceFormModel is the form of a piece: a new one chooses the rungs of everybody as well.
type pieceFormModel struct {
	URL, Back, Version string
	Name, Day, Note    kit.Field
	New                bool
	First, Rest        []kit.ChoiceField
	Errors             []kit.FieldError
	Remove             string // where to take it away; "" for a new one
}

// newPieceForm shows a piece as it is, or as it was typed.
func newPieceForm(v app.PieceView, typed *kit.Reader) pieceFormModel {
	m := pieceFormModel{New: v.ID == uuid.Nil, Version: versionOf(v.Piece), URL: showcaseURL(v.ClassID) + "/new", Back: showcaseURL(v.ClassID)}
	if !m.New {
		m.URL, m.Back, m.Remove = pieceURL(v.Piece)+"/edit", pieceURL(v.Piece), pieceURL(v.Piece)+"/remove"
	}
	m.Name = kit.Field{Name: "name", Label: "Name of the piece", Value: v.Name, Required: true, MaxLength: 80}
	m.Day = kit.Field{Name: "on_day", Label: "Day", Type: "date", Value: dayValue(v.OnDay), Short: true, Optional: true,
		Hint: "Leave it empty for the showcase of the term: then a moved showcase moves the piece."}
	m.Note = kit.Field{Name: "note", Label: "Note", Type: "textarea", Value: v.Note, Rows: 3, Optional: true, MaxLength: 500, Hint: "For the teachers of the class."}
	if typed != nil {
		typedInto(typed, &m.Name, &m.Day, &m.Note)
		m.Errors = summaryOf(typed)
	}
	if m.New {
		m.First, m.Rest = rungChoices(v, nil, typed)
	}
	return m
}

// typedInto puts back what was typed, with what is wrong with it.
func typedInto(typed *kit.Reader, fields ...*kit.Field) {
	for _, f := range fields {
		f.Value, f.Error = typed.Values.Get(f.Name), sentence(typed.Problem(f.Name))
	}
}

// sentence makes a problem stand by itself.
func sentence(problem string) string {
	if problem == "" {
		return ""
	}
	problem = kit.Capital(problem)
	if last := problem[len(problem)-1]; last != '.' {
		problem += "."
	}
	return problem
}

func summaryOf(typed *kit.Reader) []kit.FieldError {
	var all []kit.FieldError
	for _, e := range typed.Errors {
		id := kit.FieldID(e.Field)
		if e.Field == "rung" {
			id = "rungs"
		}
		all = append(all, kit.FieldError{ID: id, Text: sentence(e.Problem)})
	}
	return all
}

// rungChoices offers the rungs ladder by ladder: those of the term, and those with a rung chosen, first.
func rungChoices(v app.PieceView, chosen []string, typed *kit.Reader) (first, rest []kit.ChoiceField) {
	if typed != nil {
		chosen = typed.Values["rung"]
	}
	of := len(v.Pupils)
	for _, l := range v.Choice {
		f := kit.ChoiceField{ID: "ladder-" + l.Key, Name: "rung", Label: l.Name}
		for _, r := range l.Rungs {
			f.Choices = append(f.Choices, kit.Choice{Value: r.Key, Label: r.Name, Hint: fmt.Sprintf("secure for %d of %d", r.Secure, of)})
			if slices.Contains(chosen, r.Key) {
				f.Values = append(f.Values, r.Key)
			}
		}
		if l.Term || len(f.Values) > 0 {
			first = append(first, f)
		} else {
			rest = append(rest, f)
		}
	}
	return first, rest
}

// partFormModel is the form of a part.
type partFormModel struct {
	URL, Back, Version, Remove string
	Name                       kit.Field
	Everybody                  kit.CheckField
	Children                   kit.ChoiceField
	First, Rest                []kit.ChoiceField
	Errors                     []kit.FieldError
}

// newPartForm shows a part as it is, or as it was typed.
func newPartForm(v app.PieceView, part studio.PiecePart, typed *kit.Reader) partFormModel {
	m := partFormModel{URL: pieceURL(v.Piece) + "/parts/new", Back: pieceURL(v.Piece), Version: versionOf(v.Piece)}
	if part.ID != uuid.Nil {
		m.URL = pieceURL(v.Piece) + "/parts/" + part.ID.String()
		m.Remove = m.URL + "/remove"
	}
	m.Name = kit.Field{Name: "part", Label: "Name of the part", Value: part.Name, Required: true, MaxLength: 60, Hint: "Such as middle row, or the two at the side."}
	m.Everybody = kit.CheckField{Name: "everybody", Label: "Everybody in the class", Checked: part.Everybody, Hint: "Whoever joins the class is in it too; the ticks below do not count then."}
	m.Children = kit.ChoiceField{Name: "child", Label: "Or only these children"}
	for _, c := range v.Pupils {
		m.Children.Choices = append(m.Children.Choices, kit.Choice{Value: c.ID.String(), Label: c.Name})
		if slices.Contains(part.Children, c.ID) {
			m.Children.Values = append(m.Children.Values, c.ID.String())
		}
	}
	if typed != nil {
		typedInto(typed, &m.Name)
		m.Everybody.Checked, m.Children.Values, m.Children.Error = typed.Tick("everybody"), typed.Values["child"], sentence(typed.Problem("child"))
		m.Errors = summaryOf(typed)
	}
	m.First, m.Rest = rungChoices(v, part.Rungs, typed)
	return m
}
