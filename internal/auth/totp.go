package auth

import (
	"crypto/hmac"
	"crypto/rand"
	"crypto/sha1"
	"crypto/sha256"
	"crypto/subtle"
	"encoding/base32"
	"encoding/binary"
	"fmt"
	"net/url"
	"strings"
	"time"
)

// Codes of an authenticator, as RFC 6238 has them by default: HMAC-SHA-1, steps of 30 seconds from 1970, six digits.
const (
	codeStep    = 30 * time.Second
	codeDigits  = 6
	codeSecret  = 20 // bytes: the length of the hash, as RFC 4226 section 4 recommends
	codeLeeway  = 1  // steps before and after, for clocks that differ (RFC 6238 section 5.2)
	recoveryLen = 10 // bytes of a recovery code
)

var base32Plain = base32.StdEncoding.WithPadding(base32.NoPadding)

// NewCodeSecret draws the secret that the program shares with an authenticator.
func NewCodeSecret() []byte {
	secret := make([]byte, codeSecret)
	rand.Read(secret) // never fails: crypto/rand ends the program instead
	return secret
}

// CodeStep is the time step of a moment.
func CodeStep(at time.Time) int64 { return at.Unix() / int64(codeStep/time.Second) }

// codeAt is the code of a time step (RFC 4226 section 5.3).
func codeAt(secret []byte, step int64, digits int) string {
	mac := hmac.New(sha1.New, secret)
	mac.Write(binary.BigEndian.AppendUint64(nil, uint64(step)))
	sum := mac.Sum(nil)
	from := sum[len(sum)-1] & 0x0f
	number := binary.BigEndian.Uint32(sum[from:]) & 0x7fffffff
	modulus := uint32(1)
	for range digits {
		modulus *= 10
	}
	return fmt.Sprintf("%0*d", digits, number%modulus)
}

// CheckCode finds the time step of which a typed code is, within the leeway around a moment and after the last step that was taken: no
// code is taken twice. Spaces in the code do not count.
func CheckCode(secret []byte, typed string, at time.Time, last int64) (step int64, ok bool) {
	typed = strings.Join(strings.Fields(typed), "")
	now := CodeStep(at)
	for s := now - codeLeeway; s <= now+codeLeeway; s++ {
		if subtle.ConstantTimeCompare([]byte(codeAt(secret, s, codeDigits)), []byte(typed)) == 1 && s > last {
			step, ok = s, true
		}
	}
	return step, ok
}

// CodeAt is the code that an authenticator with the secret shows at a moment.
func CodeAt(secret []byte, at time.Time) string { return codeAt(secret, CodeStep(at), codeDigits) }

// CodeSecretText is the secret for typing into an authenticator: base32 in groups of four.
func CodeSecretText(secret []byte) string {
	var groups []string
	for text := base32Plain.EncodeToString(secret); text != ""; {
		n := min(4, len(text))
		groups, text = append(groups, text[:n]), text[n:]
	}
	return strings.Join(groups, " ")
}

// CodeSecretURL is the secret in the form that authenticators read from a picture: otpauth://totp/issuer:account.
func CodeSecretURL(secret []byte, issuer, account string) string {
	u := url.URL{Scheme: "otpauth", Host: "totp", Path: "/" + issuer + ":" + account}
	query := url.Values{"secret": {base32Plain.EncodeToString(secret)}, "issuer": {issuer}}
	return u.String() + "?" + strings.ReplaceAll(query.Encode(), "+", "%20")
}

// NewRecoveryCodes draws codes that each let in once without the authenticator: 80 random bits, written in groups of four.
func NewRecoveryCodes(n int) []string {
	codes := make([]string, n)
	for i := range codes {
		bits := make([]byte, recoveryLen)
		rand.Read(bits)
		codes[i] = strings.ReplaceAll(CodeSecretText(bits), " ", "-")
	}
	return codes
}

// RecoveryHash is what is kept of a recovery code, however it is typed: letters of either case, with or without its dashes.
func RecoveryHash(code string) []byte {
	plain := strings.NewReplacer("-", "", " ", "").Replace(strings.ToUpper(strings.TrimSpace(code)))
	sum := sha256.Sum256([]byte(plain))
	return sum[:]
}
