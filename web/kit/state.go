package kit

import (
	"fmt"
	"strconv"
)

// meaning says a state in a few words.
func (s State) meaning() string {
	switch s {
	case Waiting:
		return "other rungs come first"
	case Open:
		return "may start"
	case Working:
		return "started, not yet sure"
	case Secure:
		return "clean again and again"
	case Recheck:
		return "was secure, look again"
	}
	return ""
}

// word is the state as it is shown.
func (s State) word() string {
	switch s {
	case Waiting:
		return "Waiting"
	case Open:
		return "Open"
	case Working:
		return "Working"
	case Secure:
		return "Secure"
	case Recheck:
		return "Recheck"
	}
	return string(s)
}

// word is the line under the name of a rung.
func (p placedRung) word() string {
	if p.Next {
		return p.State.word() + " · take this next"
	}
	return p.State.word()
}

// textX is where the text of a bar begins; without a state there is no shape to clear.
func (p placedRung) textX() string {
	if p.plain {
		return strconv.Itoa(nameLeft - 16)
	}
	return strconv.Itoa(nameLeft)
}

// notch is the small diamond that marks a rung to recheck.
func (s smallRung) notch() string {
	mid, half := s.Y+s.H/2, s.H/2
	r := num(half)
	return fmt.Sprintf("M%s %sl%s -%sl%s %sl-%s %sz", num(smallLeft+smallBar/2-half), num(mid), r, r, r, r, r, r)
}
