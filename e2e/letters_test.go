package e2e

import (
	"crypto/sha256"
	"encoding/base64"
)

// letters follows the two links that a change of address sends, to the new address and to the old. The demonstration sends no mail, so
// the change is put into the database with secrets of the test's own.
func letters(b *tab, h *hall) {
	secret := func(fill byte) (text string, hash []byte) {
		bits := make([]byte, 32)
		for i := range bits {
			bits[i] = fill
		}
		sum := sha256.Sum256(bits)
		return base64.RawURLEncoding.EncodeToString(bits), sum[:]
	}
	confirm, confirmHash := secret(1)
	stop, stopHash := secret(2)
	was := h.as(b.T, passkeyName).email
	_, err := h.db.Exec(b.Context(), `insert into email_change (account_id, was, email, confirm_hash, stop_hash, asked_at)
		select id, email, 'new.address@post.example', $2, $3, now() from account where email = $1`, was, confirmHash, stopHash)
	if err != nil {
		b.Fatal(err)
	}
	b.open("/address/confirm/" + confirm)
	b.heading("Confirm your address")
	b.look("address-confirm")
	b.press("button", "Confirm")
	b.heading("Sign in")
	b.see("The new address counts from now on")
	b.open("/address/stop/" + stop)
	b.heading("Stop the change of your address")
	b.look("address-stop")
	b.press("button", "Stop")
	b.heading("passphrase")
	b.look("address-stopped")
	if n := h.count(b.T, "select count(*) from account where email = $1", was); n != 1 {
		b.Errorf("after the stop %d accounts have the old address", n)
	}
}
