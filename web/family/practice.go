package family

import (
	"net/http"

	"github.com/google/uuid"
	"rungbook/internal/app"
	"rungbook/internal/studio"
	"rungbook/web/kit"
)

// Practise keeps that a drill was done, today or on a day before.
func (h *Handler) Practise(w http.ResponseWriter, r *http.Request) error {
	done, err := readDone(w, r)
	if err == nil {
		err = h.app.NotePractice(r.Context(), kit.Actor(r), done)
	}
	if err != nil {
		return err
	}
	b := kit.Words(r)
	said := b.Say("practice.noted-today")
	if !done.Day.IsZero() {
		said = b.Say("practice.noted", "Day", b.Weekday(done.Day))
	}
	return h.kit.Done(w, r, said, childURL(done.Child)+"#drills")
}

// StrikePractice takes away what was noted.
func (h *Handler) StrikePractice(w http.ResponseWriter, r *http.Request) error {
	done, err := readDone(w, r)
	if err == nil {
		err = h.app.StrikePractice(r.Context(), kit.Actor(r), done)
	}
	if err != nil {
		return err
	}
	return h.kit.Done(w, r, kit.Words(r).Say("practice.taken-out"), childURL(done.Child)+"#drills")
}

// readDone reads which drill was done when; one that is none is studio.Missing.
func readDone(w http.ResponseWriter, r *http.Request) (app.Done, error) {
	child, err := kit.ID(r, "child")
	if err != nil {
		return app.Done{}, err
	}
	values, err := kit.Form(w, r)
	if err != nil {
		return app.Done{}, err
	}
	form := kit.Reader{Values: values, Words: kit.Words(r)}
	done := app.Done{Child: child, Day: form.Date("day", false)}
	if done.Assignment, err = uuid.Parse(values.Get("drill")); err != nil {
		return app.Done{}, studio.Missing()
	}
	return done, form.Err()
}
