// Package auth keeps sign-in secrets: password hashes, the rules for a new password, and random tokens and session ids.
package auth

import (
	"context"
	"crypto/rand"
	"crypto/subtle"
	"errors"
	"fmt"

	"golang.org/x/crypto/argon2"
)

// ErrPassword says that a password cannot be hashed at all: empty, not UTF-8, or over MaxBytes. Refusal says which flaw.
var ErrPassword = errors.New("password is empty, not UTF-8 or too long")

const (
	saltBytes = 16 // RFC 9106, section 3.1: 16 bytes are recommended for password hashing
	keyBytes  = 32
)

// Hasher makes and checks password hashes (argon2id), a bounded number at a time. It is safe for concurrent use.
type Hasher struct {
	params Params
	slots  chan struct{}
	decoy  string // the hash of a password that nobody knows, checked when there is no account
}

// NewHasher makes a Hasher that hashes with params, at most atOnce (1 or more) at a time; others wait their turn. Checking
// old hashes takes at most atOnce x MaxMemory.
func NewHasher(params Params, atOnce int) (*Hasher, error) {
	if err := params.check(); err != nil {
		return nil, fmt.Errorf("password hash settings: %w", err)
	}
	if atOnce < 1 {
		return nil, fmt.Errorf("password hash settings: %d hashes at once, want 1 or more", atOnce)
	}
	h := &Hasher{params: params, slots: make(chan struct{}, atOnce)}
	h.decoy = h.encode([]byte(rand.Text()))
	return h, nil
}

// Hash returns the hash of a password as a PHC string with a fresh salt. It waits for a free slot until ctx ends. It does
// not judge the password: see Refusal.
func (h *Hasher) Hash(ctx context.Context, password string) (string, error) {
	secret, ok := prepare(password)
	if !ok {
		return "", ErrPassword
	}
	if err := h.enter(ctx); err != nil {
		return "", err
	}
	defer h.leave()
	return h.encode(secret), nil
}

// Verify reports whether the password belongs to the stored hash, and whether the hash is stale: made with other settings
// than today's, so that the caller should store a new one. A stored hash that is damaged, or that asks for more memory or
// time than the limits, is ErrHash and costs nothing. A password that nobody could have is simply no match.
func (h *Hasher) Verify(ctx context.Context, password, stored string) (match, stale bool, err error) {
	want, err := parsePHC(stored)
	if err != nil {
		return false, false, err
	}
	secret, ok := prepare(password)
	if err := h.enter(ctx); err != nil {
		return false, false, err
	}
	defer h.leave()
	got := want.params.derive(secret, want.salt, len(want.key))
	match = subtle.ConstantTimeCompare(got, want.key) == 1 && ok
	return match, match && (want.params != h.params || len(want.salt) != saltBytes || len(want.key) != keyBytes), nil
}

// VerifyNobody does the work of Verify for an address that has no account, so that the time taken does not tell. It never
// matches; the only error is that of ctx.
func (h *Hasher) VerifyNobody(ctx context.Context, password string) error {
	_, _, err := h.Verify(ctx, password, h.decoy)
	return err
}

func (h *Hasher) encode(secret []byte) string {
	salt := make([]byte, saltBytes)
	rand.Read(salt) // never fails: crypto/rand ends the program instead
	return phc{h.params, salt, h.params.derive(secret, salt, keyBytes)}.String()
}

func (h *Hasher) enter(ctx context.Context) error {
	if err := ctx.Err(); err != nil {
		return fmt.Errorf("wait to hash a password: %w", err)
	}
	select {
	case h.slots <- struct{}{}:
		return nil
	case <-ctx.Done():
		return fmt.Errorf("wait to hash a password: %w", ctx.Err())
	}
}

func (h *Hasher) leave() { <-h.slots }

func (p Params) derive(secret, salt []byte, length int) []byte {
	return argon2.IDKey(secret, salt, p.Time, p.Memory, p.Threads, uint32(length))
}
