package kit

import (
	"net/http"

	"rungbook/internal/studio"
	"rungbook/internal/words"
)

// Page is the frame of a page for whoever asks: navigation by role, the account menu, and what the last form told.
func (k *Kit) Page(w http.ResponseWriter, r *http.Request, title, section string) Page {
	actor := Actor(r)
	b := Words(r)
	page := Page{Title: title, Section: section, Studio: k.StudioName, Lang: b.Lang(), words: b}
	sentence, err := k.told(w, r)
	if err != nil {
		k.Log.Error("take the notice", "error", err)
	}
	if sentence != "" {
		page.Flash = &Notice{Kind: Done, Text: sentence}
	}
	if !actor.SignedIn() {
		return page
	}
	page.UserName, page.UserRoles = actor.Name, RolesIn(b, actor.Roles)
	page.UserMenu = []NavItem{{Key: "account", Label: b.Say("frame.account"), URL: "/account"}}
	if actor.Is(studio.TeacherRole) && !actor.Is(studio.OwnerRole) { // an owner finds them under Studio
		page.UserMenu = append(page.UserMenu, NavItem{Key: "sign-offs", Label: b.Say("frame.sign-offs"), URL: "/studio/sign-offs"})
	}
	if actor.Is(studio.AssistantRole) && !actor.Is(studio.TeacherRole) && !actor.Is(studio.OwnerRole) {
		page.UserMenu = append(page.UserMenu, NavItem{Key: "sign-off-requests", Label: b.Say("frame.own-sign-offs"), URL: "/sign-off-requests"})
	}
	page.SignOutURL = "/sign-out"
	page.Nav = NavFor(b, NavRoles{Owner: actor.Is(studio.OwnerRole), Teacher: actor.Is(studio.TeacherRole),
		Assistant: actor.Is(studio.AssistantRole), Parent: actor.Is(studio.ParentRole)})
	return page
}

// RolesInWords is "Owner and teacher"; "" for none.
func RolesInWords(roles []studio.Role) string { return RolesIn(nil, roles) }

// RolesIn is RolesInWords in the language of a Book.
func RolesIn(b *words.Book, roles []studio.Role) string {
	var names []string
	for _, r := range roles {
		names = append(names, b.Say("role."+string(r)))
	}
	return Capital(b.List(names))
}

// WithProblem adds what an invalid form answered to the top of its page.
func (p Page) WithProblem(err error) Page {
	if err != nil {
		p.Flash = &Notice{Kind: Failure, Text: p.words.Say("form.again")}
	}
	return p
}
