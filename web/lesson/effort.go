package lesson

import (
	"net/http"
	"strconv"
	"strings"

	"github.com/google/uuid"
	"rungbook/internal/app"
	"rungbook/web/kit"
)

// mostEffort is the top of the scale of effort.
const mostEffort = 10

// effortView is how hard a lesson was, as it is asked.
type effortView struct {
	URL      string
	Now      string // what is noted
	Steps    []kit.Button
	Children []kit.ChoiceField // of the children who are here
	Open     bool              // something is noted of a child
}

// newEffortView is nil before the lesson.
func newEffortView(s app.LessonSheet) *effortView {
	if !s.Effort.Asked {
		return nil
	}
	v := &effortView{URL: lessonURL(s.Lesson) + "/effort", Now: "Not noted yet: one tap after the lesson."}
	for n := range mostEffort + 1 {
		step := kit.Button{Label: strconv.Itoa(n), Name: "effort", Value: strconv.Itoa(n), Kind: kit.Quiet, About: "of 10"}
		if s.Effort.Class != nil && *s.Effort.Class == n {
			step.Kind, v.Now = kit.Primary, "Noted: "+step.Label+" of 10 for the class."
		}
		v.Steps = append(v.Steps, step)
	}
	for _, c := range s.Children {
		if !c.Present {
			continue
		}
		field := kit.ChoiceField{Name: "child-" + c.ID.String(), Label: c.Name, Empty: "As the class"}
		for n := range mostEffort + 1 {
			field.Choices = append(field.Choices, kit.Choice{Value: strconv.Itoa(n), Label: strconv.Itoa(n)})
		}
		if n, own := s.Effort.Children[c.ID]; own {
			field.Values, v.Open = []string{strconv.Itoa(n)}, true
		}
		v.Children = append(v.Children, field)
	}
	return v
}

// NoteEffort notes how hard the lesson was for the class, or for children for whom it was different.
func (h *Handler) NoteEffort(w http.ResponseWriter, r *http.Request) error {
	id, form, err := posted(w, r)
	if err != nil {
		return err
	}
	var class *int
	children := map[uuid.UUID]*int{}
	for field := range form.Values {
		var child uuid.UUID
		name, of := strings.CutPrefix(field, "child-")
		if of {
			if child, err = uuid.Parse(name); err != nil {
				continue
			}
		} else if field != "effort" {
			continue
		}
		var figure *int
		if form.Values.Get(field) != "" {
			n := form.Whole(field, 0, mostEffort)
			figure = &n
		}
		if of {
			children[child] = figure
		} else {
			class = figure
		}
	}
	if err := form.Err(); err != nil {
		return err
	}
	if err := h.app.NoteEffort(r.Context(), kit.Actor(r), id, class, children); err != nil {
		return err
	}
	return h.kit.Done(w, r, "It is noted how hard the lesson was.", "/lessons/"+id.String()+"#effort")
}
