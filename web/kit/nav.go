package kit

import "rungbook/internal/words"

// NavItem is one entry of a menu. Key ties it to Page.Section.
type NavItem struct {
	Key   string
	Label string
	URL   string
}

// The keys of the sections, in the order of the loop.
const (
	SectionToday    = "today"
	SectionClasses  = "classes"
	SectionChildren = "children"
	SectionLadders  = "ladders"
	SectionReports  = "reports"
	SectionStudio   = "studio"
	SectionHome     = "home"
)

// NavRoles says which sections a person needs. One person may have several roles.
type NavRoles struct {
	Owner, Teacher, Assistant, Parent bool
}

// NavFor is the main navigation for a person: the loop for owner and teacher,
// the owner's studio pages, Today for assistants, Home for parents.
func NavFor(b *words.Book, r NavRoles) []NavItem {
	var items []NavItem
	if r.Owner || r.Teacher || r.Assistant {
		items = append(items, NavItem{SectionToday, b.Say("nav.today"), "/"})
	}
	if r.Owner || r.Teacher {
		items = append(items,
			NavItem{SectionClasses, b.Say("nav.classes"), "/classes"},
			NavItem{SectionChildren, b.Say("nav.children"), "/children"},
			NavItem{SectionLadders, b.Say("nav.ladders"), "/ladders"},
			NavItem{SectionReports, b.Say("nav.reports"), "/reports"},
		)
	}
	if r.Owner {
		items = append(items, NavItem{SectionStudio, b.Say("nav.studio"), "/studio"})
	}
	if r.Parent {
		items = append(items, NavItem{SectionHome, b.Say("nav.home"), "/home"})
	}
	return items
}
