package account

import (
	"net/http"

	"rungbook/internal/app"
	"rungbook/internal/words"
	"rungbook/web/kit"
)

// latelyLine is something that happened to one's account.
type latelyLine struct {
	When, What string
}

// addLately reads what the holder was told about the account.
func (h *Handler) addLately(r *http.Request, day app.Day, v *ownView) error {
	b := kit.Words(r)
	told, err := h.app.OwnNotes(r.Context(), kit.Actor(r))
	for _, n := range told {
		v.Lately = append(v.Lately, latelyLine{When: moment(b, n.At, day), What: kit.Capital(app.NoteInWords(b, n)) + "."})
	}
	return err
}

// changedEmail says what became of a change of address.
func changedEmail(b *words.Book, email string, sendsMail bool) string {
	if sendsMail {
		return b.Say("address.asked", "Email", email)
	}
	return b.Say("address.changed", "Email", email)
}

func addressHint(b *words.Book, sendsMail bool) string {
	if sendsMail {
		return b.Say("address.asks-first")
	}
	return b.Say("address.at-once")
}
