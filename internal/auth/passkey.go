package auth

import (
	"encoding/json"
	"errors"
	"fmt"
	"net"
	"net/url"

	"github.com/go-webauthn/webauthn/protocol"
	"github.com/go-webauthn/webauthn/webauthn"
)

// Passkeys registers and checks WebAuthn credentials for one address of the program.
type Passkeys struct {
	party *webauthn.WebAuthn
}

// Holder is whose passkeys they are. Credentials are records as Register and SignIn return them.
type Holder struct {
	ID          []byte // the account's, at most 64 bytes
	Email, Name string
	Credentials [][]byte
}

// Credential is a checked credential: its id and its record as JSON, with its counter.
type Credential struct {
	ID, Record []byte
}

// ErrPasskey is every refusal of a browser's answer: a wrong signature, another site, a challenge that has run out.
var ErrPasskey = errors.New("the passkey was not accepted")

// NewPasskeys makes them for the address by which people reach the program; nil where the standard allows none: they need https, or
// localhost, and a name instead of a number.
func NewPasskeys(address, studioName string) (*Passkeys, error) {
	u, err := url.Parse(address)
	if err != nil {
		return nil, fmt.Errorf("the program's address: %w", err)
	}
	host := u.Hostname()
	if host == "" || net.ParseIP(host) != nil || u.Scheme != "https" && host != "localhost" {
		return nil, nil
	}
	party, err := webauthn.New(&webauthn.Config{RPID: host, RPDisplayName: studioName, RPOrigins: []string{u.Scheme + "://" + u.Host}})
	if err != nil {
		return nil, fmt.Errorf("set up passkeys: %w", err)
	}
	return &Passkeys{party: party}, nil
}

// BeginRegister gives the options for the browser and what to keep until it answers, both JSON.
func (p *Passkeys) BeginRegister(h Holder) (options, kept []byte, err error) {
	who, err := h.user()
	if err != nil {
		return nil, nil, err
	}
	creation, session, err := p.party.BeginRegistration(who,
		webauthn.WithExclusions(webauthn.Credentials(who.credentials).CredentialDescriptors()),
		webauthn.WithAuthenticatorSelection(protocol.AuthenticatorSelection{ResidentKey: protocol.ResidentKeyRequirementRequired, UserVerification: protocol.VerificationRequired}))
	if err != nil {
		return nil, nil, fmt.Errorf("begin to register a passkey: %w", err)
	}
	return pair(creation.Response, session)
}

// Register checks the browser's answer and gives the new credential.
func (p *Passkeys) Register(h Holder, kept, answer []byte) (Credential, error) {
	who, err := h.user()
	if err != nil {
		return Credential{}, err
	}
	var session webauthn.SessionData
	if err := json.Unmarshal(kept, &session); err != nil {
		return Credential{}, fmt.Errorf("%w: %w", ErrPasskey, err)
	}
	parsed, err := protocol.ParseCredentialCreationResponseBytes(answer)
	if err != nil {
		return Credential{}, fmt.Errorf("%w: %w", ErrPasskey, err)
	}
	credential, err := p.party.CreateCredential(who, session, parsed)
	if err != nil {
		return Credential{}, fmt.Errorf("%w: %w", ErrPasskey, err)
	}
	return record(credential)
}

// BeginSignIn gives the options for a browser of which nobody knows yet whose it is, and what to keep until it answers, both JSON.
func (p *Passkeys) BeginSignIn() (options, kept []byte, err error) {
	assertion, session, err := p.party.BeginDiscoverableLogin(webauthn.WithUserVerification(protocol.VerificationRequired))
	if err != nil {
		return nil, nil, fmt.Errorf("begin to sign in by passkey: %w", err)
	}
	return pair(assertion.Response, session)
}

// SignIn checks the browser's answer. find gives the holder of a credential id; its failure is returned as it is. A credential whose
// counter went back is refused: it may be a copy.
func (p *Passkeys) SignIn(kept, answer []byte, find func(credential []byte) (Holder, error)) (Credential, error) {
	var session webauthn.SessionData
	if err := json.Unmarshal(kept, &session); err != nil {
		return Credential{}, fmt.Errorf("%w: %w", ErrPasskey, err)
	}
	parsed, err := protocol.ParseCredentialRequestResponseBytes(answer)
	if err != nil {
		return Credential{}, fmt.Errorf("%w: %w", ErrPasskey, err)
	}
	holder, err := find(parsed.RawID)
	if err != nil {
		return Credential{}, err
	}
	credential, err := p.party.ValidateDiscoverableLogin(func(_, _ []byte) (webauthn.User, error) { return holder.user() }, session, parsed)
	if err != nil {
		return Credential{}, fmt.Errorf("%w: %w", ErrPasskey, err)
	}
	if credential.Authenticator.CloneWarning {
		return Credential{}, fmt.Errorf("%w: its counter went back", ErrPasskey)
	}
	return record(credential)
}

func pair(options, session any) ([]byte, []byte, error) {
	first, err := json.Marshal(options)
	if err != nil {
		return nil, nil, fmt.Errorf("write the options: %w", err)
	}
	second, err := json.Marshal(session)
	if err != nil {
		return nil, nil, fmt.Errorf("write the challenge: %w", err)
	}
	return first, second, nil
}

func record(c *webauthn.Credential) (Credential, error) {
	text, err := json.Marshal(c)
	if err != nil {
		return Credential{}, fmt.Errorf("write the passkey: %w", err)
	}
	return Credential{ID: c.ID, Record: text}, nil
}

// party's user.
type user struct {
	Holder
	credentials []webauthn.Credential
}

func (h Holder) user() (user, error) {
	u := user{Holder: h}
	for _, text := range h.Credentials {
		var c webauthn.Credential
		if err := json.Unmarshal(text, &c); err != nil {
			return u, fmt.Errorf("read a passkey: %w", err)
		}
		u.credentials = append(u.credentials, c)
	}
	return u, nil
}

// WebAuthnID is the account's id.
func (u user) WebAuthnID() []byte { return u.ID }

// WebAuthnName is the e-mail address.
func (u user) WebAuthnName() string { return u.Email }

// WebAuthnDisplayName is the name.
func (u user) WebAuthnDisplayName() string { return u.Name }

// WebAuthnCredentials are the stored ones.
func (u user) WebAuthnCredentials() []webauthn.Credential { return u.credentials }
