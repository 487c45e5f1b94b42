// Package today is the first page after signing in: what is on, by role.
package today

import (
	"net/http"

	"github.com/google/uuid"
	"rungbook/internal/app"
	"rungbook/web/kit"
)

// Handler serves the area.
type Handler struct {
	app *app.App
	kit *kit.Kit
}

// New makes the area.
func New(a *app.App, k *kit.Kit) *Handler { return &Handler{app: a, kit: k} }

// Today shows what is on, a part for each role. A parent who holds no other role goes home.
func (h *Handler) Today(w http.ResponseWriter, r *http.Request) error {
	view, err := h.app.TodayOf(r.Context(), kit.Actor(r))
	if err != nil {
		return err
	}
	if view.Staff == nil && view.Assistant == nil {
		http.Redirect(w, r, "/home", http.StatusSeeOther)
		return nil
	}
	page := h.kit.Page(w, r, "Today", kit.SectionToday)
	page.Intro = view.Day.Format("Monday 2 January 2006")
	return h.kit.Render(w, r, http.StatusOK, todayPage(page, view))
}

// attentionURL is where a thing is seen to.
func attentionURL(a app.Attention) string {
	switch {
	case a.Child != uuid.Nil:
		return "/children/" + a.Child.String() + "/care"
	case a.Lesson != uuid.Nil:
		return "/lessons/" + a.Lesson.String()
	}
	return "/studio/sign-offs"
}

func planWords(l app.LessonLine) string {
	switch {
	case l.Shared:
		return "planned and shared"
	case l.Planned:
		return "planned, not yet shared with the assistants"
	}
	return "no plan yet"
}

func planIcon(l app.LessonLine) string {
	if l.Planned {
		return "check"
	}
	return "note"
}
