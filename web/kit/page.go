// Package kit holds what every page shares: the layout, the components and the
// view models they are drawn from. A component takes plain values only; it
// never sees a database row, so any area may use it.
package kit

import (
	"github.com/a-h/templ"
	"rungbook/internal/words"
)

// Page is the view model of the layout. Title is the one required field.
type Page struct {
	// Title names the page: the tab title and, unless Heading is set, the h1.
	Title string
	// Heading replaces Title as the h1 when the tab needs other words.
	Heading string
	// Intro is one sentence beneath the h1.
	Intro string
	// Section is the Key of the navigation item that this page belongs to.
	Section string
	// Crumbs lead from the section down to the parent of this page.
	Crumbs []Crumb
	// Actions are drawn at the right of the h1; buttons, as a rule.
	Actions templ.Component
	// Studio is the studio's name, shown beside the mark.
	Studio string
	// UserName is empty when nobody is signed in; the account menu is then left out.
	UserName string
	// UserRoles says in words what the person may be, such as "Owner and teacher".
	UserRoles string
	// UserMenu holds the account's own links.
	UserMenu []NavItem
	// SignOutURL answers POST.
	SignOutURL string
	// Nav is the main navigation, in order; see NavFor.
	Nav []NavItem
	// Flash says once what the last request did.
	Flash *Notice
	// Lang is the BCP 47 tag of the page; en-GB when empty.
	Lang string
	// Wide lets the content use the whole window, for boards and grids.
	Wide bool
	// Scripts names further modules under web/static, such as "js/sheet.js".
	Scripts []string
	// Footnote is the last line of the page and of its printout.
	Footnote string
	words    *words.Book // nil speaks English
}

// Crumb is one step of the trail above the h1.
type Crumb struct {
	Label string
	URL   string
}

// Action is a link that is drawn as a button.
type Action struct {
	Label string
	URL   string
	// Kind is the weight of the button; Primary when empty.
	Kind ButtonKind
	// Icon is the name of an icon, or empty.
	Icon string
}

// h1 is the text of the page's only first heading.
func (p Page) h1() string {
	if p.Heading != "" {
		return p.Heading
	}
	return p.Title
}

// lang is the language tag of the page.
func (p Page) lang() string {
	if p.Lang == "" {
		return "en-GB"
	}
	return p.Lang
}

// tabTitle puts the page before the place, so that tabs can be told apart.
func (p Page) tabTitle() string {
	if p.Studio == "" {
		return p.Title + " – Rungbook"
	}
	return p.Title + " – " + p.Studio
}
