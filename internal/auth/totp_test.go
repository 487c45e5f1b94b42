package auth

import (
	"net/url"
	"testing"
	"time"
)

// RFC 6238 appendix B gives eight digits for SHA-1 and the secret "12345678901234567890".
func TestCodesOfRFC6238(t *testing.T) {
	secret := []byte("12345678901234567890")
	for at, want := range map[int64]string{59: "94287082", 1111111109: "07081804", 1111111111: "14050471", 1234567890: "89005924", 2000000000: "69279037", 20000000000: "65353130"} {
		moment := time.Unix(at, 0)
		if got := codeAt(secret, CodeStep(moment), 8); got != want {
			t.Errorf("at %d: %s, want %s", at, got, want)
		}
		if got := CodeAt(secret, moment); got != want[2:] {
			t.Errorf("at %d: %s, want the last six digits of %s", at, got, want)
		}
	}
}

// RFC 4226 appendix D: the first ten values of the same secret.
func TestCodesOfRFC4226(t *testing.T) {
	for count, want := range []string{"755224", "287082", "359152", "969429", "338314", "254676", "287922", "162583", "399871", "520489"} {
		if got := codeAt([]byte("12345678901234567890"), int64(count), 6); got != want {
			t.Errorf("count %d: %s, want %s", count, got, want)
		}
	}
}

func TestCodeIsTakenOnceAndAroundItsTime(t *testing.T) {
	secret, now := NewCodeSecret(), time.Unix(1_700_000_010, 0)
	code := CodeAt(secret, now)
	step, ok := CheckCode(secret, code[:3]+" "+code[3:], now, 0)
	if !ok || step != CodeStep(now) {
		t.Fatalf("the code of now: %d, %v", step, ok)
	}
	if _, ok := CheckCode(secret, code, now, step); ok {
		t.Error("a code is taken twice (RFC 6238 section 5.2 forbids it)")
	}
	for steps, want := range map[int]bool{-2: false, -1: true, 1: true, 2: false} {
		moved := now.Add(time.Duration(steps) * codeStep)
		if CodeAt(secret, moved) == code {
			continue // one in a million
		}
		if _, ok := CheckCode(secret, CodeAt(secret, moved), now, 0); ok != want {
			t.Errorf("the code of %d steps away is taken: %v", steps, ok)
		}
	}
	for _, typed := range []string{"", "12345", "abcdef", "1234567"} {
		if _, ok := CheckCode(secret, typed, now, 0); ok {
			t.Errorf("%q is taken", typed)
		}
	}
}

func TestSecretIsWrittenForAuthenticators(t *testing.T) {
	secret := []byte("12345678901234567890")
	if got := CodeSecretText(secret); got != "GEZD GNBV GY3T QOJQ GEZD GNBV GY3T QOJQ" { // RFC 4648 base32
		t.Errorf("got %s", got)
	}
	u, err := url.Parse(CodeSecretURL(secret, "Our hall: acro", "ada@sample.example"))
	if err != nil || u.Scheme != "otpauth" || u.Host != "totp" || u.Path != "/Our hall: acro:ada@sample.example" {
		t.Fatalf("got %v, %v", u, err)
	}
	if q := u.Query(); q.Get("secret") != "GEZDGNBVGY3TQOJQGEZDGNBVGY3TQOJQ" || q.Get("issuer") != "Our hall: acro" {
		t.Errorf("got %v", q)
	}
}

func TestRecoveryCodes(t *testing.T) {
	codes := NewRecoveryCodes(8)
	seen := map[string]bool{}
	for _, c := range codes {
		seen[string(RecoveryHash(c))] = true
		if len(c) != 19 {
			t.Errorf("%q is no four groups of four", c)
		}
	}
	if len(seen) != 8 {
		t.Error("two codes are the same")
	}
	if string(RecoveryHash("abcd-efgh")) != string(RecoveryHash(" ABCDEFGH ")) {
		t.Error("a code in other writing is another code")
	}
}
