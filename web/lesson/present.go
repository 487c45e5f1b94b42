package lesson

import (
	"net/http"
	"slices"

	"github.com/google/uuid"
	"rungbook/internal/studio"
	"rungbook/web/kit"
)

// mostNote is the longest note of a lesson, in characters.
const mostNote = 4000

// NotePresent writes who is here: of those that the form asked about, the ticked ones are.
func (h *Handler) NotePresent(w http.ResponseWriter, r *http.Request) error {
	id, form, err := posted(w, r)
	if err != nil {
		return err
	}
	children := ticked(form.IDs("asked"), form.IDs("child"))
	staff := ticked(form.IDs("expected"), form.IDs("staff"))
	if err := form.Err(); err != nil {
		return err
	}
	if err := h.app.NotePresent(r.Context(), kit.Actor(r), id, children, staff); err != nil {
		return err
	}
	return h.kit.Done(w, r, "It is noted who is here. Propose the plan again where that changes it.", "/lessons/"+id.String()+"#plan")
}

func ticked(asked, here []uuid.UUID) map[uuid.UUID]bool {
	answers := map[uuid.UUID]bool{}
	for _, id := range asked {
		answers[id] = slices.Contains(here, id)
	}
	return answers
}

// Note writes the teacher's note.
func (h *Handler) Note(w http.ResponseWriter, r *http.Request) error {
	id, form, err := posted(w, r)
	if err != nil {
		return err
	}
	note := form.Text("note", mostNote, false)
	if problem := form.Problem("note"); problem != "" {
		return h.lessonPage(w, r, id, refusal{status: http.StatusUnprocessableEntity, note: &typedNote{form.Values.Get("note"), problem}})
	}
	if err := h.app.NoteLesson(r.Context(), kit.Actor(r), id, note); err != nil {
		return err
	}
	return h.kit.Done(w, r, "Your note is kept.", "/lessons/"+id.String()+"#note")
}

// posted reads the lesson of the path and the form of a post.
func posted(w http.ResponseWriter, r *http.Request) (uuid.UUID, *kit.Reader, error) {
	id, err := kit.ID(r, "lesson")
	if err != nil {
		return id, nil, err
	}
	values, err := kit.Form(w, r)
	if err != nil {
		return id, nil, err
	}
	return id, &kit.Reader{Values: values}, nil
}

// one reads a field that holds the id of something on the page; a form that was not made by the page is studio.Missing.
func one(form *kit.Reader, field string) (uuid.UUID, error) {
	id, err := uuid.Parse(form.Values.Get(field))
	if err != nil {
		return uuid.Nil, studio.Missing()
	}
	return id, nil
}
