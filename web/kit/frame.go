package kit

import (
	"net/http"
	"strings"

	"rungbook/internal/studio"
)

// Page is the frame of a page for whoever asks: navigation by role, the account menu, and what the last form told.
func (k *Kit) Page(w http.ResponseWriter, r *http.Request, title, section string) Page {
	actor := Actor(r)
	page := Page{Title: title, Section: section, Studio: k.StudioName}
	if !actor.SignedIn() {
		return page
	}
	page.UserName, page.UserRoles = actor.Name, RolesInWords(actor.Roles)
	page.UserMenu = []NavItem{{Key: "account", Label: "Your account", URL: "/account"}}
	if actor.Is(studio.TeacherRole) && !actor.Is(studio.OwnerRole) { // an owner finds them under Studio
		page.UserMenu = append(page.UserMenu, NavItem{Key: "sign-offs", Label: "Sign-offs", URL: "/studio/sign-offs"})
	}
	if actor.Is(studio.AssistantRole) && !actor.Is(studio.TeacherRole) && !actor.Is(studio.OwnerRole) {
		page.UserMenu = append(page.UserMenu, NavItem{Key: "sign-off-requests", Label: "Your sign-offs", URL: "/sign-off-requests"})
	}
	page.SignOutURL = "/sign-out"
	page.Nav = NavFor(NavRoles{Owner: actor.Is(studio.OwnerRole), Teacher: actor.Is(studio.TeacherRole),
		Assistant: actor.Is(studio.AssistantRole), Parent: actor.Is(studio.ParentRole)})
	sentence, err := k.told(w, r)
	if err != nil {
		k.Log.Error("take the notice", "error", err)
	}
	if sentence != "" {
		page.Flash = &Notice{Kind: Done, Text: sentence}
	}
	return page
}

// RolesInWords is "Owner and teacher"; "" for none.
func RolesInWords(roles []studio.Role) string {
	var words []string
	for _, r := range roles {
		words = append(words, string(r))
	}
	text := strings.Join(words, ", ")
	if i := strings.LastIndex(text, ", "); i >= 0 {
		text = text[:i] + " and " + text[i+2:]
	}
	if text == "" {
		return ""
	}
	return strings.ToUpper(text[:1]) + text[1:]
}

// WithProblem adds what an invalid form answered to the top of its page.
func (p Page) WithProblem(err error) Page {
	if err != nil {
		p.Flash = &Notice{Kind: Failure, Text: "Some fields need another look. What you typed is kept; nothing was saved."}
	}
	return p
}
