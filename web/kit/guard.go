package kit

import (
	"net/http"

	"rungbook/internal/studio"
)

// GuardURL is where an actor who is studio.Actor.Unguarded is led, from every page.
const GuardURL = "/account/guard"

// guardFirst leads somebody who must set up a code or a passkey before anything else to the page for it. A script is told to sign in
// again, so that it keeps what it has.
func (k *Kit) guardFirst(w http.ResponseWriter, r *http.Request, script bool) {
	if script {
		k.FailJSON(w, r, 0, &studio.Error{Code: studio.SignedOut, Text: "Your studio asks for a code or a passkey. Open any page to set one up; what is here is kept."}, nil)
		return
	}
	http.Redirect(w, r, GuardURL, http.StatusSeeOther)
}
