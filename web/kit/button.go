package kit

// ButtonKind is the weight of a button on the page.
type ButtonKind string

// One primary button a page; danger for what cannot be undone.
const (
	Primary ButtonKind = "primary"
	Quiet   ButtonKind = "quiet"
	Danger  ButtonKind = "danger"
)

// Button is a button that submits its form.
type Button struct {
	Label string
	// Kind is Primary when empty.
	Kind ButtonKind
	// Icon is the name of an icon, or empty.
	Icon string
	// Name and Value are sent with the form when this button was the one used.
	Name, Value string
	// Confirm is a question asked before sending; needs scripts, so never the only guard.
	Confirm string
	// FormAction sends the form elsewhere, or empty.
	FormAction string
	// Form is the id of a form that does not enclose the button, or empty.
	Form string
	// About completes the label for a reader who hears it alone: "Remove" + "Ada from group 2".
	About string
}

// class is the style class for a kind of button.
func (k ButtonKind) class() string {
	if k == "" {
		k = Primary
	}
	return "button button-" + string(k)
}
