package auth

import (
	"bytes"
	"encoding/base64"
	"encoding/hex"
	"errors"
	"slices"
	"strings"
	"testing"
)

// Test cases 13 to 16 (AES-256, nonce of 96 bits) of "The Galois/Counter Mode of Operation" (McGrew and Viega), the specification of
// what NIST SP 800-38D recommends. Written from memory; that they hold under Go's crypto/cipher and the tag has 128 bits tells a slip.
func TestSealIsGCM(t *testing.T) {
	t.Parallel()
	const (
		zeros  = "0000000000000000000000000000000000000000000000000000000000000000"
		key    = "feffe9928665731c6d6a8f9467308308feffe9928665731c6d6a8f9467308308"
		nonce  = "cafebabefacedbaddecaf888"
		plain  = "d9313225f88406e5a55909c5aff5269a86a7a9531534f7da2e4c303d8a318a721c3c0c95956809532fcf0e2449a6b525b16aedf5aa0de657ba637b39"
		cipher = "522dc1f099567d07f47f37a32a84427d643a8cdcbfe5c0c97598a2bd2555d1aa8cb08e48590dbb3da7b08b1056828838c5f61e6393ba7a0abcc9f662"
	)
	for name, c := range map[string]struct{ key, nonce, plain, about, cipher, tag string }{
		"13": {zeros, zeros[:24], "", "", "", "530f8afbc74536b9a963b4f1c4cb738b"},
		"14": {zeros, zeros[:24], zeros[:32], "", "cea7403d4d606b6e074ec5d3baf39d18", "d0d1c8a799996bf0265b98b5d48ab919"},
		"15": {key, nonce, plain + "1aafd255", "", cipher + "898015ad", "b094dac5d93471bdec1a502270e3cc6c"},
		"16": {key, nonce, plain, "feedfacedeadbeeffeedfacedeadbeefabaddad2", cipher, "76fc6ece0f4e1768cddf8853bb2d551b"},
	} {
		s, err := NewSealer(base64.StdEncoding.EncodeToString(unhex(t, c.key)))
		if err != nil {
			t.Fatal(err)
		}
		got, err := s.Open(s.KeyID(), unhex(t, c.nonce+c.cipher+c.tag), unhex(t, c.about))
		if err != nil || hex.EncodeToString(got) != c.plain {
			t.Errorf("case %s: %x, %v", name, got, err)
		}
	}
}

func unhex(t *testing.T, text string) []byte {
	t.Helper()
	b, err := hex.DecodeString(text)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

func TestSealedOpensForItsAccountOnly(t *testing.T) {
	t.Parallel()
	old := base64.StdEncoding.EncodeToString(bytes.Repeat([]byte{1}, 32))
	next := base64.StdEncoding.EncodeToString(bytes.Repeat([]byte{2}, 32))
	s, err := NewSealer(old)
	if err != nil {
		t.Fatal(err)
	}
	secret := NewCodeSecret()
	sealed := s.Seal(secret, []byte("account 1"))
	if len(sealed) != len(secret)+12+16 || bytes.Contains(sealed, secret) || bytes.Equal(sealed, s.Seal(secret, []byte("account 1"))) {
		t.Errorf("sealed as %x", sealed)
	}
	rotated, err := NewSealer(next, old)
	if err != nil {
		t.Fatal(err)
	}
	if got, err := rotated.Open(s.KeyID(), sealed, []byte("account 1")); err != nil || !bytes.Equal(got, secret) {
		t.Errorf("after a change of key: %x, %v", got, err)
	}
	if rotated.KeyID() == s.KeyID() || !rotated.Knows(s.KeyID()) || s.Knows(rotated.KeyID()) {
		t.Error("the keys are mixed up")
	}
	refused := func(what string, by *Sealer, id string, sealed []byte, about string) {
		t.Helper()
		if _, err := by.Open(id, sealed, []byte(about)); !errors.Is(err, ErrSealed) {
			t.Errorf("%s: %v", what, err)
		}
	}
	refused("moved to another account", s, s.KeyID(), sealed, "account 2")
	refused("by a key that is gone", s, rotated.KeyID(), sealed, "account 1")
	refused("by the wrong key", rotated, rotated.KeyID(), sealed, "account 1")
	refused("cut off", s, s.KeyID(), sealed[:11], "account 1")
	for i := range sealed {
		changed := slices.Clone(sealed)
		changed[i] ^= 1
		refused("changed", s, s.KeyID(), changed, "account 1")
	}
}

func TestKeysAreChecked(t *testing.T) {
	t.Parallel()
	for _, text := range []string{"", "short", strings.Repeat("A", 40), strings.Repeat("A", 88)} {
		if _, err := NewSealer(text); err == nil {
			t.Errorf("%q is taken for a key", text)
		}
	}
}
