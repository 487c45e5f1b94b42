package auth

import (
	"encoding/json"
	"errors"
	"testing"
)

// Where passkeys are offered: Web Authentication Level 2, section 5.1.3, wants a secure context and a domain as the party's id.
func TestPasskeysNeedATrustedName(t *testing.T) {
	for address, want := range map[string]bool{
		"https://studio.example": true, "https://studio.example:8443": true, "http://localhost:8080": true,
		"http://studio.example": false, "http://127.0.0.1:8080": false, "https://192.0.2.7": false, "https://[2001:db8::1]": false, "": false,
	} {
		keys, err := NewPasskeys(address, "Sample")
		if err != nil || (keys != nil) != want {
			t.Errorf("%q: offered %v, %v", address, keys != nil, err)
		}
	}
}

func TestPasskeyAnswersAreRefused(t *testing.T) {
	keys, err := NewPasskeys("https://studio.example", "Sample")
	if err != nil {
		t.Fatal(err)
	}
	holder := Holder{ID: []byte("an account"), Email: "a@sample.example", Name: "A"}
	options, kept, err := keys.BeginRegister(holder)
	if err != nil {
		t.Fatal(err)
	}
	var asked struct {
		Challenge string
		RP        struct{ ID string }
	}
	if err := json.Unmarshal(options, &asked); err != nil || asked.RP.ID != "studio.example" || len(asked.Challenge) < 22 { // 16 bytes at least, section 13.4.3
		t.Errorf("asked %s, %v", options, err)
	}
	for _, answer := range []string{"", "{}", "null", `{"id":"x","type":"public-key"}`} {
		if _, err := keys.Register(holder, kept, []byte(answer)); !errors.Is(err, ErrPasskey) {
			t.Errorf("%q: %v", answer, err)
		}
		if _, err := keys.SignIn(kept, []byte(answer), func([]byte) (Holder, error) { return holder, nil }); !errors.Is(err, ErrPasskey) {
			t.Errorf("sign in by %q: %v", answer, err)
		}
	}
	if _, err := keys.Register(holder, nil, []byte("{}")); !errors.Is(err, ErrPasskey) {
		t.Errorf("without a challenge: %v", err)
	}
}

func TestPictureHasItsRim(t *testing.T) {
	p, err := QR("otpauth://totp/Sample:a?secret=GEZDGNBVGY3TQOJQGEZDGNBVGY3TQOJQ")
	if err != nil || p.Size < 21+2*QuietZone || (p.Size-2*QuietZone-21)%4 != 0 { // sides are 21 + 4n modules, ISO/IEC 18004
		t.Errorf("got %d, %v", p.Size, err)
	}
}
