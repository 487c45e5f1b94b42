package kit

import "github.com/a-h/templ"

// BoardView is a lesson plan: rotations down, stations across.
type BoardView struct {
	// Caption names the plan: "Plan for Tuesday juniors, 3 March".
	Caption string
	// Stations are the heads of the columns.
	Stations []BoardStation
	Rows     []BoardRow
}

// BoardStation is the head of a column.
type BoardStation struct {
	Name string
	// Note tells the mats or the place, or is empty.
	Note string
}

// BoardRow is a rotation, with a cell for each station in their order.
type BoardRow struct {
	Name  string // "Rotation 1"
	Time  string // "16:20 to 16:28"
	Cells []BoardCell
}

// BoardCell is what happens at one station in one rotation.
type BoardCell struct {
	// Group is empty when the station rests.
	Group string
	// GroupNo is the number of the group where children can be dragged onto it, else 0.
	GroupNo  int
	Lead     string
	Spotter  string
	Children []BoardChild
	// Turns and Wait are short words: "4 turns each", "waits 1 min 40 s at most".
	Turns, Wait string
	// Breaches name the rules that are broken here, a sentence each.
	Breaches []string
	Pinned   bool
	// Actions are buttons for moving and pinning, or nil; they are not printed.
	Actions templ.Component
}

// BoardChild is a child with what it does here.
type BoardChild struct {
	// ID is that of the child where it can be dragged, else empty.
	ID             string
	Name, Activity string
	// URL leads to the child, or is empty.
	URL string
	// Limit is a care limit as an action: "no back-bends today".
	Limit string
	// State is the state of the activity, or empty.
	State State
}

// stationName is the head of the i-th column, for a narrow page.
func (b BoardView) stationName(i int) string {
	if i < len(b.Stations) {
		return b.Stations[i].Name
	}
	return ""
}
