package kit

import (
	"fmt"
	"strconv"

	"rungbook/internal/words"
)

// meaning says a state in a few words.
func (s State) meaning(b *words.Book) string { return b.Say("meaning." + string(s)) }

// word is the state as it is shown.
func (s State) word(b *words.Book) string { return b.Say("state." + string(s)) }

// word is the line under the name of a rung.
func (p placedRung) word(b *words.Book) string {
	if p.Next {
		return p.State.word(b) + " · " + b.Say("ladder.next")
	}
	return p.State.word(b)
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
