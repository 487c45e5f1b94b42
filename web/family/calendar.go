package family

import (
	"net/http"

	"github.com/go-chi/chi/v5"
	"rungbook/internal/app"
	"rungbook/internal/studio"
	"rungbook/web/kit"
)

// Calendar says whether calendar programs may follow the lessons.
func (h *Handler) Calendar(w http.ResponseWriter, r *http.Request) error {
	view, err := h.app.CalendarLink(r.Context(), kit.Actor(r))
	if err != nil {
		return err
	}
	return h.calendarPage(w, r, view)
}

// MakeCalendar makes a link and shows it, once.
func (h *Handler) MakeCalendar(w http.ResponseWriter, r *http.Request) error {
	view, err := h.app.MakeCalendarLink(r.Context(), kit.Actor(r))
	if err != nil {
		return err
	}
	return h.calendarPage(w, r, view)
}

func (h *Handler) calendarPage(w http.ResponseWriter, r *http.Request, view app.CalendarPage) error {
	page := h.kit.Page(w, r, kit.Words(r).Say("calendar.title"), kit.SectionHome)
	page.Crumbs = crumbs(r)
	return h.kit.Render(w, r, http.StatusOK, calendarPage(page, view))
}

// EndCalendar makes the link stop working.
func (h *Handler) EndCalendar(w http.ResponseWriter, r *http.Request) error {
	err := h.app.EndCalendarLink(r.Context(), kit.Actor(r))
	if err != nil && studio.CodeOf(err) != studio.NotFound {
		return err
	}
	return h.kit.Done(w, r, kit.Words(r).Say("calendar.ended"), "/home/calendar")
}

// Feed answers a calendar program that holds a link.
func (h *Handler) Feed(w http.ResponseWriter, r *http.Request) error {
	file, err := h.app.Calendar(r.Context(), chi.URLParam(r, "feed"))
	if err != nil {
		return err
	}
	w.Header().Set("Referrer-Policy", "no-referrer") // the address holds a secret
	w.Header().Set("X-Robots-Tag", "noindex")
	return kit.Download(w, "text/calendar; charset=utf-8", "lessons.ics", file)
}
