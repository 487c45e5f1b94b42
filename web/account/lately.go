package account

import (
	"net/http"

	"rungbook/internal/app"
	"rungbook/web/kit"
)

// latelyLine is something that happened to one's account.
type latelyLine struct {
	When, What string
}

// addLately reads what the holder was told about the account.
func (h *Handler) addLately(r *http.Request, day app.Day, v *ownView) error {
	told, err := h.app.OwnNotes(r.Context(), kit.Actor(r))
	for _, n := range told {
		v.Lately = append(v.Lately, latelyLine{When: moment(n.At, day), What: kit.Capital(app.NoteInWords(n)) + "."})
	}
	return err
}

// Words of the form for a new address.
const (
	addressAsksFirst = "You sign in with it, and links for a new passphrase go there. A link is sent to the new address; it counts once you have opened that link, within a day. The old address is told, with a way to stop it."
	addressAtOnce    = "You sign in with it, and links for a new passphrase go there. This studio sends no e-mail from here, so it counts at once: check it letter by letter."
)

// changedEmail says what became of a change of address.
func changedEmail(email string, sendsMail bool) string {
	if sendsMail {
		return "A link is on its way to " + email + ". Until you have opened it, nothing changes."
	}
	return "From now on you sign in as " + email + "."
}

func addressHint(sendsMail bool) string {
	if sendsMail {
		return addressAsksFirst
	}
	return addressAtOnce
}
