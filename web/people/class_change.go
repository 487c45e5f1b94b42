package people

import (
	"net/http"

	"github.com/google/uuid"
	"rungbook/internal/studio"
	"rungbook/web/kit"
)

// onClass runs a change of the class in the path.
func (h *Handler) onClass(w http.ResponseWriter, r *http.Request, what func(class uuid.UUID, f *kit.Reader) (string, error)) error {
	id, err := kit.ID(r, "class")
	if err != nil {
		return err
	}
	var reader *kit.Reader
	return h.submit(w, r, func(f *kit.Reader) { reader = f }, func() (done, error) {
		sentence, err := what(id, reader)
		return done{sentence, classURL(id)}, err
	}, func(f form) error { return h.classRecordPage(w, r, f) })
}

// PutOn puts somebody on a class; cover is a single day.
func (h *Handler) PutOn(w http.ResponseWriter, r *http.Request) error {
	return h.onClass(w, r, func(class uuid.UUID, f *kit.Reader) (string, error) {
		s := studio.ClassStaff{ClassID: class, StaffID: chosen(f, "staff"), Duty: studio.Duty(f.Choice("duty", "teacher", "assistant")), FromOn: f.Date("from_on", true)}
		s.UntilOn = optional(f.Date("until_on", false))
		if s.StaffID == uuid.Nil {
			f.Refuse("staff", "Choose somebody.")
		}
		if f.Tick("cover") {
			s.UntilOn = &s.FromOn
		}
		if err := f.Err(); err != nil {
			return "", err
		}
		return "Saved.", h.app.Roster(r.Context(), kit.Actor(r), s)
	})
}

// TakeOff takes somebody off a class.
func (h *Handler) TakeOff(w http.ResponseWriter, r *http.Request) error {
	return h.onClass(w, r, func(class uuid.UUID, f *kit.Reader) (string, error) {
		s := studio.ClassStaff{ClassID: class, StaffID: chosen(f, "who"), Duty: studio.Duty(f.Choice("as", "teacher", "assistant")), FromOn: f.Date("since", true)}
		if err := f.Err(); err != nil {
			return "", err
		}
		return "Taken off the class as of today.", h.app.Unroster(r.Context(), kit.Actor(r), s)
	})
}

// Enrol puts children into a class.
func (h *Handler) Enrol(w http.ResponseWriter, r *http.Request) error {
	return h.onClass(w, r, func(class uuid.UUID, f *kit.Reader) (string, error) {
		children, from := f.IDs("children"), f.Date("enrol_from", true)
		if len(children) == 0 {
			f.Refuse("children", "Choose at least one child.")
		}
		if err := f.Err(); err != nil {
			return "", err
		}
		return kit.Count(len(children), "child is", "children are") + " in the class.", h.app.Enrol(r.Context(), kit.Actor(r), class, from, children...)
	})
}

// Unenrol takes a child out of a class.
func (h *Handler) Unenrol(w http.ResponseWriter, r *http.Request) error {
	child, err := kit.ID(r, "child")
	if err != nil {
		return err
	}
	return h.onClass(w, r, func(class uuid.UUID, _ *kit.Reader) (string, error) {
		return "The child is out of the class as of today. What was seen stays.", h.app.Unenrol(r.Context(), kit.Actor(r), class, child)
	})
}

// MakeLessons brings the lessons of a class in line with its term.
func (h *Handler) MakeLessons(w http.ResponseWriter, r *http.Request) error {
	return h.onClass(w, r, func(class uuid.UUID, _ *kit.Reader) (string, error) {
		change, err := h.app.MakeLessons(r.Context(), kit.Actor(r), class)
		return lessonsChanged(change), err
	})
}
