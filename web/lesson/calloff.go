package lesson

import (
	"context"
	"net/http"

	"github.com/google/uuid"
	"rungbook/internal/studio"
	"rungbook/web/kit"
)

// CallOff cancels a lesson that has not begun.
func (h *Handler) CallOff(w http.ResponseWriter, r *http.Request) error {
	return h.changeCalendar(w, r, h.app.CallOff, "The lesson is called off. Families see it on their page and in their calendars. Write to them as well when it is soon.")
}

// PutBack undoes it.
func (h *Handler) PutBack(w http.ResponseWriter, r *http.Request) error {
	return h.changeCalendar(w, r, h.app.PutBack, "The lesson takes place after all.")
}

func (h *Handler) changeCalendar(w http.ResponseWriter, r *http.Request, change func(context.Context, studio.Actor, uuid.UUID) error, said string) error {
	id, err := kit.ID(r, "lesson")
	if err != nil {
		return err
	}
	if err := change(r.Context(), kit.Actor(r), id); err != nil {
		return err
	}
	return h.kit.Done(w, r, said, "/lessons/"+id.String())
}
