package e2e

import (
	"strings"

	"github.com/chromedp/cdproto/webauthn"
	"github.com/chromedp/chromedp"
)

const passkeyName = "corin.ashdown"

// passkeyJourney makes a passkey on the account page, signs in with it and takes it away again. The authenticator is Chromium's own
// virtual one, which speaks CTAP2 as the WebAuthn standard asks: it knows nothing of this program.
func passkeyJourney(b *tab, who signIn) {
	if _, err := chromedp.Call(b.ctx, webauthn.Enable, webauthn.EnableParams{}); err != nil {
		b.Fatal(err)
	}
	device := webauthn.VirtualAuthenticatorOptions{Protocol: webauthn.AuthenticatorProtocolCtap2, Transport: webauthn.AuthenticatorTransportInternal,
		HasResidentKey: true, HasUserVerification: true, IsUserVerified: true, AutomaticPresenceSimulation: true}
	if _, err := chromedp.Call(b.ctx, webauthn.AddVirtualAuthenticator, webauthn.AddVirtualAuthenticatorParams{Options: &device}); err != nil {
		b.Fatal(err)
	}
	b.signIn(who)
	b.open("/account")
	b.fill("Name of this device", "My telephone")
	b.press("button", "Add a passkey")
	b.see("The passkey is added")
	b.see("My telephone")
	b.look("account")

	b.leave()
	b.open("/sign-in")
	b.look("sign-in-passkey")
	b.press("button", "Sign in with a passkey")
	b.waitFor("the first page", "location.pathname !== '/sign-in' && document.querySelector('h1')")

	b.open("/account")
	b.press("button", "Remove", "My telephone")
	b.see("The passkey is removed")
	b.leave()
	b.open("/sign-in")
	b.refuses(func() {
		b.press("button", "Sign in with a passkey")
		b.see("The passkey was not accepted")
	})
	if at := js[string](b, "location.pathname"); !strings.HasPrefix(at, "/sign-in") {
		b.Errorf("a removed passkey leads to %s", at)
	}
}

// leave signs the browser out.
func (b *tab) leave() {
	b.Helper()
	js[int](b, `fetch("/sign-out", {method: "POST"}).then(a => a.status)`)
}
