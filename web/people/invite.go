package people

import (
	"errors"
	"net/http"
	"net/url"

	"github.com/google/uuid"
	"rungbook/internal/app"
	"rungbook/internal/studio"
	"rungbook/web/kit"
)

// InvitePage asks who is invited.
func (h *Handler) InvitePage(w http.ResponseWriter, r *http.Request) error {
	asked := r.URL.Query()
	return h.invitePage(w, r, form{Values: values("name", asked.Get("name"), "staff", asked.Get("staff"), "children", asked.Get("child"))})
}

func (h *Handler) invitePage(w http.ResponseWriter, r *http.Request, f form) error {
	all, err := h.app.People(r.Context(), kit.Actor(r))
	if err != nil {
		return err
	}
	page := h.page(w, r, "Invite somebody", kit.Crumb{Label: "People", URL: "/studio/people"})
	page.Intro = "You get a link to hand over. It works once, within seven days."
	var children []kit.Choice
	for _, c := range all.Children {
		if !left(c.LeftOn, all.Day) {
			children = append(children, childChoice(c))
		}
	}
	return h.show(w, r, f.status(), invitePage(page, f, staffChoices(all, uuid.Nil), children))
}

// roleChoices are the roles with what each may do.
func roleChoices() []kit.Choice {
	return []kit.Choice{
		{Value: string(studio.OwnerRole), Label: "Owner", Hint: "Everything: people, classes, sign-offs, all children."},
		{Value: string(studio.TeacherRole), Label: "Teacher", Hint: "The classes that they take, the library, sign-offs."},
		{Value: string(studio.AssistantRole), Label: "Assistant", Hint: "Their own stations, from 15 minutes before a class to 15 after."},
	}
}

// Invite makes the link and shows it once.
func (h *Handler) Invite(w http.ResponseWriter, r *http.Request) error {
	values, err := kit.Form(w, r)
	if err != nil {
		return err
	}
	f := &kit.Reader{Values: values}
	i := studio.Invitation{Name: f.Text("name", 120, true), Email: f.Text("email", 254, true), Roles: roles(values["roles"]), ChildIDs: f.IDs("children")}
	if staff := chosen(f, "staff"); staff != uuid.Nil {
		i.StaffID = &staff
	}
	if len(f.Errors) > 0 {
		return h.invitePage(w, r, form{Values: values, Problems: f.Errors})
	}
	link, err := h.app.Invite(r.Context(), kit.Actor(r), i)
	var refused *studio.Error
	if errors.As(err, &refused) && refused.Code == studio.Invalid {
		return h.invitePage(w, r, form{Values: values, Problems: refused.Fields, Refusal: refused.Text})
	}
	if err != nil {
		return err
	}
	return h.linkPage(w, r, link, "Invitation")
}

// linkView is a link that is shown this once.
type linkView struct {
	URL, Name, Email, Until, MailURL string
	Mail                             kit.Notice // what became of the e-mail; without a text where there is no mail server
}

func (h *Handler) linkPage(w http.ResponseWriter, r *http.Request, link app.Link, title string) error {
	page := h.page(w, r, title, kit.Crumb{Label: "People", URL: "/studio/people"})
	v := linkView{URL: link.URL, Name: link.Name, Email: link.Email, Until: moment(link.ExpiresAt, link.Day)}
	v.MailURL = "mailto:" + url.PathEscape(link.Email) + "?subject=" + url.PathEscape(link.Subject) + "&body=" + url.PathEscape(link.Text)
	switch {
	case link.Sent:
		v.Mail = kit.Notice{Kind: kit.Done, Text: "An e-mail with the link is on its way to " + link.Email + "."}
	case link.SendError != nil:
		h.kit.Log.Error("send a link", "error", link.SendError)
		v.Mail = kit.Notice{Kind: kit.Failure, Text: "The e-mail could not be sent. The link works all the same: hand it over yourself."}
	}
	return h.show(w, r, http.StatusOK, linkPage(page, v))
}
