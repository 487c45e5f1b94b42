package auth

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"log/slog"
	"strings"
	"testing"
)

// The text is base64url of RFC 4648, section 5, without padding; the hash is SHA-256: that of 32 zero bytes is
// 66687aad...2925, computed with coreutils: head -c 32 /dev/zero | sha256sum.
func TestSecretTextAndHash(t *testing.T) {
	s, ok := ParseSecret(strings.Repeat("A", 43))
	if !ok {
		t.Fatal("43 times A is not read")
	}
	if got := hex.EncodeToString(s.Hash()); got != "66687aadf862bd776c8fc18b8e9f8e20089714856ee233b3902a591d0d5f2925" {
		t.Errorf("hash of 32 zero bytes = %s", got)
	}
}

func TestSecretRoundTrip(t *testing.T) {
	seen := map[string]bool{}
	for range 1000 {
		s := NewSecret()
		back, ok := ParseSecret(s.Text())
		if !ok || back != s || !back.Matches(s.Hash()) {
			t.Fatalf("%s does not read back", s.Text())
		}
		if len(s.Hash()) != sha256.Size || bytes.Contains([]byte(s.Text()), s.Hash()) {
			t.Fatalf("hash %x of %s", s.Hash(), s.Text())
		}
		seen[s.Text()] = true
	}
	if len(seen) != 1000 {
		t.Errorf("%d different secrets of 1000", len(seen))
	}
}

func TestSecretMatchesOnlyItsOwnHash(t *testing.T) {
	s, other := NewSecret(), NewSecret()
	for name, hash := range map[string][]byte{"another's": other.Hash(), "none": nil, "shorter": s.Hash()[:31], "longer": append(s.Hash(), 0)} {
		if s.Matches(hash) {
			t.Errorf("matches a hash that is %s", name)
		}
	}
}

func TestParseSecretRefusesOtherSpellings(t *testing.T) {
	good := strings.Repeat("A", 43)
	for _, text := range []string{"", good[:42], good + "A", good + "=", good[:42] + "B", good[:42] + "+", good[:42] + "/", good[:42] + "\n",
		good[:38] + "\nAAAA", " " + good[:42], strings.Repeat("A", 1<<20)} {
		if _, ok := ParseSecret(text); ok {
			t.Errorf("ParseSecret(%.50q) took it", text)
		}
	}
}

func TestSecretIsNotPrinted(t *testing.T) {
	s := NewSecret()
	var log bytes.Buffer
	slog.New(slog.NewJSONHandler(&log, nil)).Info("signed in", "session", s)
	for _, printed := range []string{fmt.Sprint(s), fmt.Sprintf("%v %+v %#v %s %q", s, s, s, s, s), log.String()} {
		if strings.Contains(printed, s.Text()) || !strings.Contains(printed, "(secret)") {
			t.Errorf("printed as %s", printed)
		}
	}
}

func FuzzParseSecret(f *testing.F) {
	f.Add(strings.Repeat("A", 43))
	f.Add("")
	f.Fuzz(func(t *testing.T, text string) {
		if s, ok := ParseSecret(text); ok && s.Text() != text {
			t.Fatalf("%q reads and writes as %q", text, s.Text())
		}
	})
}
