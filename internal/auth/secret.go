package auth

import (
	"crypto/rand"
	"crypto/sha256"
	"crypto/subtle"
	"encoding/base64"
	"log/slog"
)

// Secret is 256 random bits: a session id, an invitation, a password reset. Whoever holds the text holds the right, so only
// Hash may be stored, and a Secret prints and logs as "(secret)".
type Secret struct {
	bits [32]byte
}

// NewSecret draws a secret from the system's random source.
func NewSecret() Secret {
	var s Secret
	rand.Read(s.bits[:]) // never fails: crypto/rand ends the program instead
	return s
}

// ParseSecret reads a Text. It is false for anything that Text does not write, byte for byte.
func ParseSecret(text string) (Secret, bool) {
	var s Secret
	if len(text) != base64.RawURLEncoding.EncodedLen(len(s.bits)) {
		return Secret{}, false
	}
	bits, err := base64.RawURLEncoding.Strict().DecodeString(text)
	if err != nil || len(bits) != len(s.bits) { // the decoder skips line breaks
		return Secret{}, false
	}
	copy(s.bits[:], bits)
	return s, true
}

// Text is the secret for a link or a cookie: 43 characters of base64url.
func (s Secret) Text() string { return base64.RawURLEncoding.EncodeToString(s.bits[:]) }

// Hash is the SHA-256 of the 32 bytes: what is stored and looked up. 256 random bits need no slow hash.
func (s Secret) Hash() []byte {
	sum := sha256.Sum256(s.bits[:])
	return sum[:]
}

// Matches reports whether a stored hash is this secret's, in constant time.
func (s Secret) Matches(hash []byte) bool { return subtle.ConstantTimeCompare(s.Hash(), hash) == 1 }

// String hides the secret.
func (Secret) String() string { return "(secret)" }

// GoString hides the secret.
func (Secret) GoString() string { return "(secret)" }

// LogValue hides the secret.
func (Secret) LogValue() slog.Value { return slog.StringValue("(secret)") }
