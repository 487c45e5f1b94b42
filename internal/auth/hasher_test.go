package auth

import (
	"context"
	"encoding/base64"
	"errors"
	"fmt"
	"strings"
	"testing"
	"time"

	"golang.org/x/text/unicode/norm"
)

// quick are costs for tests of everything but the costs.
var quick = Params{Memory: 64, Time: 1, Threads: 1}

func newHasher(t testing.TB, p Params, atOnce int) *Hasher {
	t.Helper()
	h, err := NewHasher(p, atOnce)
	if err != nil {
		t.Fatal(err)
	}
	return h
}

// Hashes by the argon2 command, the reference implementation of RFC 9106's authors, as packaged by Debian 12
// (0~20171227): printf 'Zoë climbs nine rungs' | argon2 'sixteen byte salt' -id -k 19456 -t 2 -p 1 -l 32 -e, and so on; the
// one of "password" also stands in that implementation's own test file. RFC 9106's vector for argon2id (section 5.3) uses
// a secret value and associated data, which x/crypto exposes only to its own test of that vector.
func TestVerifyAgreesWithTheReferenceImplementation(t *testing.T) {
	h := newHasher(t, DefaultParams(), 1)
	for _, c := range []struct {
		password, stored string
		stale            bool
	}{
		{"password", "$argon2id$v=19$m=65536,t=2,p=1$c29tZXNhbHQ$CTFhFdXPJO1aFaMaO6Mm5c8y7cJHAph8ArZWb2GRPPc", true},
		{"Zoë climbs nine rungs", "$argon2id$v=19$m=19456,t=2,p=1$c2l4dGVlbiBieXRlIHNhbHQ$S5IuRpHEruSmDkUQNZK1mVYZVFU1XQk1yd4/kmQk1Fg", true},
		{"Zoë climbs nine rungs", "$argon2id$v=19$m=32768,t=3,p=2$c2l4dGVlbiBieXRlIHNhbHQ$SyDhAd+F8Fk1x5HvIa6GSEgakIQPJG+Qo/mDhpKwoQM", true},
		{"Zoë climbs nine rungs", "$argon2id$v=19$m=256,t=1,p=4$c2l4dGVlbiBieXRlIHNhbHQ$Py6Z5Utku4t3nXyNYkKslLJxLGPHvvz5pGw5KalIlbo", true},
	} {
		match, stale, err := h.Verify(t.Context(), c.password, c.stored)
		if err != nil || !match || stale != c.stale {
			t.Errorf("Verify(%q, %s) = %v, stale %v, %v; want a match, stale %v", c.password, c.stored, match, stale, err, c.stale)
		}
		if match, _, err := h.Verify(t.Context(), c.password+".", c.stored); match || err != nil {
			t.Errorf("Verify with another password = %v, %v; want no match", match, err)
		}
	}
}

func TestHashAndVerify(t *testing.T) {
	h := newHasher(t, quick, 2)
	for _, password := range []string{"a", "nine plain rungs of ash", "Zoë Łukasz Ngọc ẞ", "🪜🪜🪜", "nul \x00 inside", strings.Repeat("x", MaxBytes)} {
		stored, err := h.Hash(t.Context(), password)
		if err != nil {
			t.Fatalf("Hash(%q): %v", password, err)
		}
		match, stale, err := h.Verify(t.Context(), password, stored)
		if !match || stale || err != nil {
			t.Errorf("Verify(%q) = %v, stale %v, %v; want a fresh match", password, match, stale, err)
		}
		for _, other := range []string{"", password + "x", "x" + password, strings.ToUpper(password) + " "} {
			if match, _, err := h.Verify(t.Context(), other, stored); match || err != nil {
				t.Errorf("Verify(%q) against the hash of %q = %v, %v; want no match", other, password, match, err)
			}
		}
	}
}

func TestHashDrawsANewSaltEachTime(t *testing.T) {
	h := newHasher(t, quick, 1)
	first, _ := h.Hash(t.Context(), "nine plain rungs of ash")
	second, _ := h.Hash(t.Context(), "nine plain rungs of ash")
	if first == "" || first == second {
		t.Errorf("two hashes of one password: %q and %q; want two different ones", first, second)
	}
}

func TestHashRefusesWhatIsNoPassword(t *testing.T) {
	h := newHasher(t, quick, 1)
	for _, password := range []string{"", "\xff\xfe not utf-8", strings.Repeat("x", MaxBytes+1), strings.Repeat("x", 1<<20)} {
		if _, err := h.Hash(t.Context(), password); !errors.Is(err, ErrPassword) {
			t.Errorf("Hash of %d bytes: %v, want ErrPassword", len(password), err)
		}
	}
}

// RFC 8265, section 4.2.2 (from memory): spaces are mapped, and the composed and the decomposed spelling are one password.
func TestVerifyTakesEveryKeyboardsSpelling(t *testing.T) {
	h := newHasher(t, quick, 1)
	typed := "Zoë's nine rungs"
	stored, err := h.Hash(t.Context(), norm.NFC.String(typed))
	if err != nil {
		t.Fatal(err)
	}
	for _, other := range []string{norm.NFD.String(typed), strings.ReplaceAll(typed, " ", "\u00a0")} {
		if match, _, err := h.Verify(t.Context(), other, stored); !match || err != nil {
			t.Errorf("Verify(%+q) = %v, %v; want a match", other, match, err)
		}
	}
}

func TestVerifyNamesAStaleHash(t *testing.T) {
	old, err := newHasher(t, quick, 1).Hash(t.Context(), "nine plain rungs of ash")
	if err != nil {
		t.Fatal(err)
	}
	today := newHasher(t, Params{Memory: 128, Time: 1, Threads: 1}, 1)
	if match, stale, err := today.Verify(t.Context(), "nine plain rungs of ash", old); !match || !stale || err != nil {
		t.Errorf("match %v, stale %v, %v; want a stale match", match, stale, err)
	}
	if match, stale, _ := today.Verify(t.Context(), "something else entirely", old); match || stale {
		t.Errorf("wrong password: match %v, stale %v; want neither", match, stale)
	}
}

// A hash that was tampered with is refused before any memory is taken: were one of these to run, it would take up to 4 TiB.
func TestVerifyRefusesTamperedHashes(t *testing.T) {
	h := newHasher(t, quick, 1)
	salt, key := base64.RawStdEncoding.EncodeToString(make([]byte, 16)), base64.RawStdEncoding.EncodeToString(make([]byte, 32))
	with := func(head, salt, key string) string { return head + "$" + salt + "$" + key }
	good := "$argon2id$v=19$m=64,t=1,p=1"
	if _, _, err := h.Verify(t.Context(), "x", with(good, salt, key)); err != nil {
		t.Fatalf("the untampered hash: %v", err)
	}
	for name, stored := range map[string]string{
		"nothing":             "",
		"memory of 4 TiB":     with("$argon2id$v=19$m=4294967295,t=1,p=1", salt, key),
		"memory over 32 bits": with("$argon2id$v=19$m=4294967360,t=1,p=1", salt, key),
		"memory over the cap": with("$argon2id$v=19$m=65537,t=1,p=1", salt, key),
		"memory too little":   with("$argon2id$v=19$m=7,t=1,p=1", salt, key),
		"time over the cap":   with("$argon2id$v=19$m=64,t=11,p=1", salt, key),
		"no time":             with("$argon2id$v=19$m=64,t=0,p=1", salt, key),
		"no thread":           with("$argon2id$v=19$m=64,t=1,p=0", salt, key),
		"threads over cap":    with("$argon2id$v=19$m=64,t=1,p=5", salt, key),
		"threads wrap to 1":   with("$argon2id$v=19$m=64,t=1,p=257", salt, key),
		"minus":               with("$argon2id$v=19$m=-64,t=1,p=1", salt, key),
		"plus":                with("$argon2id$v=19$m=+64,t=1,p=1", salt, key),
		"leading zero":        with("$argon2id$v=19$m=064,t=1,p=1", salt, key),
		"order":               with("$argon2id$v=19$t=1,m=64,p=1", salt, key),
		"another field":       with("$argon2id$v=19$m=64,t=1,p=1,x=1", salt, key),
		"older version":       with("$argon2id$v=16$m=64,t=1,p=1", salt, key),
		"no version":          with("$argon2id$m=64,t=1,p=1", salt, key),
		"another kind":        with("$argon2i$v=19$m=64,t=1,p=1", salt, key),
		"something before":    "x" + with(good, salt, key),
		"something after":     with(good, salt, key) + "$",
		"line break":          with(good, salt, key) + "\n",
		"break in the key":    with(good, salt, key[:4]+"\n"+key[4:]),
		"padding":             with(good, salt, key+"="),
		"stray bits":          with(good, salt, key[:len(key)-1]+"B"),
		"empty key":           with(good, salt, ""),
		"short key":           with(good, salt, key[:20]),
		"short salt":          with(good, "AAAA", key),
		"long key":            with(good, salt, strings.Repeat("A", 88)),
		"very long":           with(good, salt, strings.Repeat("A", 1<<20)),
	} {
		if match, _, err := h.Verify(t.Context(), "x", stored); match || !errors.Is(err, ErrHash) {
			t.Errorf("%s: match %v, %v; want ErrHash", name, match, err)
		}
	}
}

func TestVerifyRefusesEveryChangedByte(t *testing.T) {
	h := newHasher(t, quick, 1)
	stored, err := h.Hash(t.Context(), "nine plain rungs of ash")
	if err != nil {
		t.Fatal(err)
	}
	for i := range stored {
		changed := []byte(stored)
		changed[i] ^= 1
		if match, _, _ := h.Verify(t.Context(), "nine plain rungs of ash", string(changed)); match {
			t.Errorf("byte %d changed (%s): still a match", i, changed)
		}
	}
}

func TestVerifyNobodyDoesTheSameWork(t *testing.T) {
	h := newHasher(t, quick, 1)
	decoy, err := parsePHC(h.decoy)
	if err != nil {
		t.Fatal(err)
	}
	stored, _ := h.Hash(t.Context(), "nine plain rungs of ash")
	real, _ := parsePHC(stored)
	if decoy.params != real.params || len(decoy.salt) != len(real.salt) || len(decoy.key) != len(real.key) {
		t.Errorf("decoy is %s, a real hash is %s; want the same costs and lengths", h.decoy, stored)
	}
	if err := h.VerifyNobody(t.Context(), "nine plain rungs of ash"); err != nil {
		t.Errorf("VerifyNobody: %v", err)
	}
}

func TestHasherLimitsHashesAtOnce(t *testing.T) {
	h := newHasher(t, quick, 2)
	h.slots <- struct{}{}
	h.slots <- struct{}{} // both places are taken
	ctx, cancel := context.WithTimeout(t.Context(), 20*time.Millisecond)
	defer cancel()
	if _, err := h.Hash(ctx, "nine plain rungs of ash"); !errors.Is(err, context.DeadlineExceeded) {
		t.Errorf("Hash with every place taken: %v, want to wait until the deadline", err)
	}
	if err := h.VerifyNobody(ctx, "x"); !errors.Is(err, context.DeadlineExceeded) {
		t.Errorf("VerifyNobody with every place taken: %v, want to wait until the deadline", err)
	}
	<-h.slots
	if _, err := h.Hash(t.Context(), "nine plain rungs of ash"); err != nil {
		t.Errorf("Hash with a free place: %v", err)
	}
	if len(h.slots) != 1 {
		t.Errorf("%d places taken afterwards, want 1", len(h.slots))
	}
}

func TestNewHasherRefusesSettings(t *testing.T) {
	for _, p := range []Params{{}, {Memory: MaxMemory + 1, Time: 1, Threads: 1}, {Memory: 64, Time: MaxTime + 1, Threads: 1},
		{Memory: 64, Time: 1, Threads: MaxThreads + 1}, {Memory: 31, Time: 1, Threads: 4}} {
		if _, err := NewHasher(p, 1); err == nil {
			t.Errorf("NewHasher(%+v) took it", p)
		}
	}
	if _, err := NewHasher(quick, 0); err == nil {
		t.Error("NewHasher with no hash at once took it")
	}
}

func FuzzParsePHC(f *testing.F) {
	for _, seed := range []string{"", "$$$$$", "$argon2id$v=19$m=19456,t=2,p=1$c2l4dGVlbiBieXRlIHNhbHQ$S5IuRpHEruSmDkUQNZK1mVYZVFU1XQk1yd4/kmQk1Fg",
		"$argon2id$v=19$m=4294967295,t=2,p=1$c29tZXNhbHQ$CTFhFdXPJO1aFaMaO6Mm5c8y7cJHAph8ArZWb2GRPPc"} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, s string) {
		h, err := parsePHC(s)
		if err != nil {
			if !errors.Is(err, ErrHash) {
				t.Fatalf("%q: %v is not ErrHash", s, err)
			}
			return
		}
		if h.String() != s {
			t.Fatalf("%q reads and writes as %q", s, h)
		}
		if err := h.params.check(); err != nil || len(h.key) < 16 || len(h.salt) < 8 {
			t.Fatalf("%q is outside of the limits: %v", s, err)
		}
	})
}

func BenchmarkVerify(b *testing.B) {
	for _, p := range []Params{DefaultParams(), {Memory: MaxMemory, Time: MaxTime, Threads: MaxThreads}} {
		b.Run(fmt.Sprintf("m=%d,t=%d,p=%d", p.Memory, p.Time, p.Threads), func(b *testing.B) {
			h := newHasher(b, p, 1)
			for b.Loop() {
				if err := h.VerifyNobody(b.Context(), "nine plain rungs of ash"); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
