package lesson

import (
	"fmt"
	"net/http"

	"github.com/google/uuid"
	"rungbook/internal/studio"
	"rungbook/web/kit"
)

// change is a posted change of a plan: whose, from which version, and the cell that was open.
type change struct {
	lesson  uuid.UUID
	version int
	cell    cellAt
	form    *kit.Reader
}

func readChange(w http.ResponseWriter, r *http.Request) (change, error) {
	id, form, err := posted(w, r)
	if err != nil {
		return change{}, err
	}
	c := change{lesson: id, form: form, version: form.Whole("version", 0, 1<<30), cell: readCell(form.Values.Get("cell"))}
	if len(form.Errors) > 0 {
		return c, studio.Missing()
	}
	return c, nil
}

// answer ends a change: back to the page with a sentence, or the page again with what stands in the way.
func (h *Handler) answer(w http.ResponseWriter, r *http.Request, c change, err error, sentence string) error {
	if err == nil {
		to := "/lessons/" + c.lesson.String()
		if c.cell != (cellAt{}) {
			return h.kit.Done(w, r, sentence, to+"?cell="+c.cell.String()+"#change")
		}
		return h.kit.Done(w, r, sentence, to+"#plan")
	}
	if no, ok := refused(err); ok {
		return h.lessonPage(w, r, c.lesson, no)
	}
	return err
}

// Propose asks for the best plan for who is here.
func (h *Handler) Propose(w http.ResponseWriter, r *http.Request) error {
	c, err := readChange(w, r)
	if err != nil {
		return err
	}
	err = h.app.Propose(r.Context(), kit.Actor(r), c.lesson, c.version)
	if err == nil {
		return h.kit.Done(w, r, "Here is a plan for who is here. It is a draft until you save it for the assistants.",
			"/lessons/"+c.lesson.String()+"?"+lookOn+"=yes#plan")
	}
	return h.answer(w, r, c, err, "")
}

// lookOn, in the address of a lesson's page, asks its script for a longer search.
const lookOn = "look-on"

// Refine looks on for a better plan than the draft that was just proposed.
func (h *Handler) Refine(w http.ResponseWriter, r *http.Request) error {
	c, err := readChange(w, r)
	if err != nil {
		return err
	}
	err = h.app.Refine(r.Context(), kit.Actor(r), c.lesson, c.version)
	if _, shown := refused(err); err != nil && !shown {
		return err
	}
	http.Redirect(w, r, "/lessons/"+c.lesson.String()+"#plan", http.StatusSeeOther)
	return nil
}

// Copy brings the class's last plan forward.
func (h *Handler) Copy(w http.ResponseWriter, r *http.Request) error {
	c, err := readChange(w, r)
	if err != nil {
		return err
	}
	err = h.app.CopyPlan(r.Context(), kit.Actor(r), c.lesson, c.version)
	return h.answer(w, r, c, err, "The last plan is copied for who is here, as a draft. Where it does not fit any more, the rule that it breaks is named.")
}

// Undo takes the last change of the plan back.
func (h *Handler) Undo(w http.ResponseWriter, r *http.Request) error {
	c, err := readChange(w, r)
	if err != nil {
		return err
	}
	err = h.app.UndoPlan(r.Context(), kit.Actor(r), c.lesson, c.version)
	return h.answer(w, r, c, err, "The last change is taken back. The plan is a draft; undo once more to have the change again.")
}

// Share saves the plan for the assistants.
func (h *Handler) Share(w http.ResponseWriter, r *http.Request) error {
	c, err := readChange(w, r)
	if err != nil {
		return err
	}
	err = h.app.SharePlan(r.Context(), kit.Actor(r), c.lesson, c.version)
	return h.answer(w, r, c, err, "The plan is saved. The assistants see their stations from 15 minutes before the lesson.")
}

// Move puts a child into another group.
func (h *Handler) Move(w http.ResponseWriter, r *http.Request) error {
	c, err := readChange(w, r)
	if err != nil {
		return err
	}
	child, err := one(c.form, "child")
	if err != nil {
		return err
	}
	group := c.form.Whole("to", 0, 8)
	if len(c.form.Errors) > 0 {
		return studio.Missing()
	}
	sentence := fmt.Sprintf("Moved to group %d, for the whole lesson.", group)
	if group == 0 {
		sentence = "Taken out of the plan."
	}
	return h.answer(w, r, c, h.app.MoveChild(r.Context(), kit.Actor(r), c.lesson, c.version, child, group), sentence)
}

// PinChild keeps a child in its group, or lets it go.
func (h *Handler) PinChild(w http.ResponseWriter, r *http.Request) error {
	c, err := readChange(w, r)
	if err != nil {
		return err
	}
	child, err := one(c.form, "child")
	if err != nil {
		return err
	}
	pinned := c.form.Tick("pinned")
	return h.answer(w, r, c, h.app.PinChild(r.Context(), kit.Actor(r), c.lesson, c.version, child, pinned), pinSentence(pinned))
}

// SetActivity gives a child another rung or drill in the open cell's rotation.
func (h *Handler) SetActivity(w http.ResponseWriter, r *http.Request) error {
	c, err := readChange(w, r)
	if err != nil {
		return err
	}
	child, err := one(c.form, "child")
	if err != nil {
		return err
	}
	err = h.app.SetActivity(r.Context(), kit.Actor(r), c.lesson, c.version, c.cell.Rotation, child, c.form.Values.Get("activity"), c.form.Tick("stays"))
	return h.answer(w, r, c, err, "The activity is changed, and the turns are counted again.")
}

// SetStation sends the open cell's group to another station.
func (h *Handler) SetStation(w http.ResponseWriter, r *http.Request) error {
	c, err := readChange(w, r)
	if err != nil {
		return err
	}
	err = h.app.SetStation(r.Context(), kit.Actor(r), c.lesson, c.version, c.cell.Rotation, c.cell.Group, c.form.Values.Get("station"))
	return h.answer(w, r, c, err, "The station is changed; each child has there what matters most to it.")
}

// SetStaff says who runs the open cell and who spots there.
func (h *Handler) SetStaff(w http.ResponseWriter, r *http.Request) error {
	c, err := readChange(w, r)
	if err != nil {
		return err
	}
	lead := uuid.Nil
	if c.form.Values.Get("lead") != "" {
		if lead, err = one(c.form, "lead"); err != nil {
			return err
		}
	}
	spotters := c.form.IDs("spotter")
	if len(c.form.Errors) > 0 {
		return studio.Missing()
	}
	err = h.app.SetStaff(r.Context(), kit.Actor(r), c.lesson, c.version, c.cell.Rotation, c.cell.Group, lead, spotters)
	return h.answer(w, r, c, err, "The people of the station are changed.")
}

// PinCell keeps the station and the people of the open cell, or lets them go.
func (h *Handler) PinCell(w http.ResponseWriter, r *http.Request) error {
	c, err := readChange(w, r)
	if err != nil {
		return err
	}
	pinned := c.form.Tick("pinned")
	err = h.app.PinCell(r.Context(), kit.Actor(r), c.lesson, c.version, c.cell.Rotation, c.cell.Group, pinned)
	return h.answer(w, r, c, err, pinSentence(pinned))
}

func pinSentence(pinned bool) string {
	if pinned {
		return "Pinned: it stays when the plan is proposed again."
	}
	return "Let go: it may change when the plan is proposed again."
}
