package e2e

import (
	"crypto/hmac"
	"crypto/sha1"
	"encoding/base32"
	"encoding/binary"
	"fmt"
	"strings"
	"testing"
	"time"
)

// ownerInvites makes a link for somebody new, who follows it in a browser of their own.
func ownerInvites(b, newcomer *tab) {
	b.open("/studio/people/invite")
	b.look("owner-invite")
	b.fill("Name", "Hedra Curnow")
	b.fill("E-mail address", "hedra.curnow@post.example")
	b.fill("Assistant", "")
	b.press("button", "Make the link")
	b.see("This link is shown only now")
	b.look("owner-invite-link")
	newcomer.open(js[string](b, "document.querySelector('[name=link]').value"))
	newcomer.look("join")
	newcomer.fill("Passphrase", "short")
	newcomer.refuses(func() {
		newcomer.press("button", "Save it and go in")
		newcomer.see("at least 15 characters")
	})
	newcomer.look("join-refused")
	newcomer.fill("Passphrase", "lantern beside the slipway")
	newcomer.press("button", "Save it and go in")
	newcomer.waitFor("the first page", "!location.pathname.startsWith('/join') && document.querySelector('h1')")
}

// guardJourney is how the studio comes to ask its owners and teachers for a code: the owner sets one up, signs in with it and asks it of
// the others; a teacher meets the page that asks, and nothing else until then.
func guardJourney(b, other *tab, owner, teacher signIn) {
	b.open("/account")
	b.press("button", "Switch a code on")
	b.fill("Present passphrase", owner.passphrase, "Code at sign-in")
	b.press("button", "Go on")
	b.heading("Sign in with a code")
	b.look("account-codes")
	secret := js[string](b, "document.querySelector('main code').innerText")
	b.fill("Code that it shows now", codeNow(b.T, secret))
	b.press("button", "Switch the code on")
	b.heading("Your recovery codes")
	b.look("account-recovery")
	recovery := js[string](b, "document.querySelector('main ol code').innerText")

	b.leave()
	b.open("/sign-in")
	b.fill("E-mail", owner.email)
	b.fill("Passphrase", owner.passphrase)
	b.press("button", "Sign in")
	b.heading("Enter your code")
	b.look("sign-in-code")
	b.fill("Code of your authenticator", recovery)
	b.press("button", "Go in")
	b.heading("Today")

	b.open("/studio/settings")
	b.fill("Owners and teachers need a code", "")
	b.press("button", "Save", "Owners and teachers need a code")
	b.waitFor("the tick", "document.querySelector('[name=guarded]')?.checked")

	other.signIn(teacher)
	other.heading("One more step to sign in")
	other.look("account-guard")
	other.open("/children")
	other.heading("One more step to sign in")
}

// codeNow is what an authenticator shows now for a secret as text: RFC 6238 over RFC 4226, with their defaults (HMAC-SHA-1, steps of 30
// seconds, six digits).
func codeNow(t *testing.T, secret string) string {
	t.Helper()
	key, err := base32.StdEncoding.WithPadding(base32.NoPadding).DecodeString(strings.ReplaceAll(secret, " ", ""))
	if err != nil {
		t.Fatalf("the secret %q: %v", secret, err)
	}
	mac := hmac.New(sha1.New, key)
	mac.Write(binary.BigEndian.AppendUint64(nil, uint64(time.Now().Unix()/30)))
	sum := mac.Sum(nil)
	number := binary.BigEndian.Uint32(sum[sum[len(sum)-1]&15:]) &^ (1 << 31)
	return fmt.Sprintf("%06d", number%1_000_000)
}
