package lesson

import (
	"errors"
	"net/http"

	"github.com/google/uuid"
	"rungbook/internal/app"
	"rungbook/internal/studio"
	"rungbook/web/kit"
)

// askView is the question why a child of the open cell does not do something, with its answer, "" while nothing was asked.
type askView struct {
	Child  kit.ChoiceField
	About  kit.ChoiceField
	Answer string
}

func newAskView(s app.LessonSheet, c app.SheetCell) askView {
	v := askView{Child: kit.ChoiceField{ID: "ask-child", Name: "child", Label: "Why does"},
		About: kit.ChoiceField{ID: "ask-about", Name: "about", Label: "not work at", Empty: "Choose a rung or a drill", Required: true}}
	for _, child := range s.Children {
		if child.Group > 0 {
			v.Child.Choices = append(v.Child.Choices, kit.Choice{Value: child.ID.String(), Label: child.Name})
		}
	}
	if len(c.Children) > 0 {
		v.Child.Values = []string{c.Children[0].Child.ID.String()}
	}
	for _, a := range s.Plan.Asked {
		v.About.Choices = append(v.About.Choices, kit.Choice{Value: a.Activity, Label: a.Name})
	}
	return v
}

// answerWhyNot answers what the address asks, if it asks anything.
func (h *Handler) answerWhyNot(r *http.Request, lesson uuid.UUID, v *askView) error {
	query := r.URL.Query()
	about := query.Get("about")
	if about == "" {
		return nil
	}
	child, err := uuid.Parse(query.Get("child"))
	if err != nil {
		return studio.Missing()
	}
	v.Child.Values, v.About.Values = []string{child.String()}, []string{about}
	v.Answer, err = h.app.WhyNot(r.Context(), kit.Actor(r), lesson, child, about)
	var no *studio.Error
	if errors.As(err, &no) && no.Code == studio.Invalid {
		v.Answer, err = no.Text, nil
	}
	return err
}
