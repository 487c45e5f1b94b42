package standing

import (
	"fmt"
	"net/http"

	"github.com/google/uuid"
	"rungbook/internal/app"
	"rungbook/internal/studio"
	"rungbook/web/kit"
)

// messagesModel is the page of what was written to families, with what was typed.
type messagesModel struct {
	app.SentView
	Text     string
	Problems kit.Reader
}

func (m messagesModel) path() string {
	if m.To.Child != uuid.Nil {
		return childURL(m.To.Child) + "/messages"
	}
	return "/classes/" + m.To.Class.String() + "/messages"
}

// whom says for whom a message is.
func (m messagesModel) whom() string {
	if m.To.Child != uuid.Nil {
		return "the family of " + m.Head.GivenName
	}
	return "all families of " + m.Class
}

// readWords says how many guardians opened a message.
func readWords(n int) string {
	switch n {
	case 0:
		return "not opened yet"
	case 1:
		return "opened by 1 guardian"
	}
	return fmt.Sprintf("opened by %d guardians", n)
}

// toChild reads from the path whose family is meant.
func toChild(r *http.Request) (app.To, error) {
	id, err := kit.ID(r, "child")
	return app.To{Child: id}, err
}

// toClass reads from the path which class's families are meant.
func toClass(r *http.Request) (app.To, error) {
	id, err := kit.ID(r, "class")
	return app.To{Class: id}, err
}

// ChildMessages shows what was written to a child's family.
func (h *Handler) ChildMessages(w http.ResponseWriter, r *http.Request) error {
	return h.messages(w, r, toChild)
}

// ClassMessages shows what was written to the families of a class.
func (h *Handler) ClassMessages(w http.ResponseWriter, r *http.Request) error {
	return h.messages(w, r, toClass)
}

func (h *Handler) messages(w http.ResponseWriter, r *http.Request, whom func(*http.Request) (app.To, error)) error {
	to, err := whom(r)
	if err != nil {
		return err
	}
	return h.messagesPage(w, r, http.StatusOK, to, messagesModel{})
}

func (h *Handler) messagesPage(w http.ResponseWriter, r *http.Request, status int, to app.To, m messagesModel) error {
	var err error
	if m.SentView, err = h.app.MessagesTo(r.Context(), kit.Actor(r), to); err != nil {
		return err
	}
	var page kit.Page
	if to.Child != uuid.Nil {
		page = h.childPage(w, r, m.Head, m.Head.Name+": messages")
	} else {
		page = h.kit.Page(w, r, m.Class+": messages", kit.SectionClasses)
		page.Crumbs = []kit.Crumb{{Label: "Classes", URL: "/classes"}, {Label: m.Class, URL: "/classes/" + to.Class.String()}}
	}
	return h.kit.Render(w, r, status, messagesPage(page.WithProblem(m.Problems.Err()), m))
}

// WriteChild sends a message to a child's family.
func (h *Handler) WriteChild(w http.ResponseWriter, r *http.Request) error {
	return h.write(w, r, toChild)
}

// WriteClass sends a message to the families of a class.
func (h *Handler) WriteClass(w http.ResponseWriter, r *http.Request) error {
	return h.write(w, r, toClass)
}

func (h *Handler) write(w http.ResponseWriter, r *http.Request, whom func(*http.Request) (app.To, error)) error {
	to, err := whom(r)
	if err != nil {
		return err
	}
	values, err := kit.Form(w, r)
	if err != nil {
		return err
	}
	m := messagesModel{Text: values.Get("note")}
	err = h.app.WriteFamilies(r.Context(), kit.Actor(r), to, m.Text)
	if m.Problems.Took(err) {
		return h.messagesPage(w, r, http.StatusUnprocessableEntity, to, m)
	}
	if err != nil {
		return err
	}
	m.To = to
	return h.kit.Done(w, r, "Sent. It stands on the home page of each guardian.", m.path())
}

// TakeBackFromChild hides a message from a child's family.
func (h *Handler) TakeBackFromChild(w http.ResponseWriter, r *http.Request) error {
	return h.takeBackMessage(w, r, toChild, "message")
}

// TakeBackFromClass hides a message from the families of a class.
func (h *Handler) TakeBackFromClass(w http.ResponseWriter, r *http.Request) error {
	return h.takeBackMessage(w, r, toClass, "note")
}

func (h *Handler) takeBackMessage(w http.ResponseWriter, r *http.Request, whom func(*http.Request) (app.To, error), part string) error {
	to, err := whom(r)
	if err != nil {
		return err
	}
	message, err := kit.ID(r, part)
	if err != nil {
		return err
	}
	if err := h.app.TakeBackMessage(r.Context(), kit.Actor(r), to, message); err != nil {
		return err
	}
	m := messagesModel{SentView: app.SentView{To: to}}
	return h.kit.Done(w, r, "Taken back: families no longer see it.", m.path())
}

func takenBack(m studio.Message) bool { return m.TakenBackAt != nil }
