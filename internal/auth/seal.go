package auth

import (
	"crypto/aes"
	"crypto/cipher"
	"crypto/sha256"
	"encoding/base64"
	"encoding/hex"
	"errors"
	"fmt"
	"strings"
)

// sealKeyLen is the length of a key in bytes: AES-256.
const sealKeyLen = 32

// ErrSealed is the refusal to open what was sealed: by a key that is not there, for something else, or changed since.
var ErrSealed = errors.New("the sealed secret does not open")

// Sealer keeps secrets that must be read again, such as those of authenticators, unreadable in the database: AES-256-GCM (NIST SP
// 800-38D) with a random nonce of 96 bits. Beside the key that seals it may hold earlier ones that only open.
type Sealer struct {
	present string
	keys    map[string]cipher.AEAD // by id
}

// NewSealer reads keys of 32 bytes in base64: the one that seals, then those of before.
func NewSealer(present string, before ...string) (*Sealer, error) {
	s := &Sealer{keys: map[string]cipher.AEAD{}}
	for _, text := range append([]string{present}, before...) {
		key, err := base64.StdEncoding.DecodeString(strings.TrimSpace(text))
		if err != nil || len(key) != sealKeyLen {
			return nil, errors.New("a key is 32 random bytes in base64; make one by: openssl rand -base64 32")
		}
		aead, err := sealing(key)
		if err != nil {
			return nil, fmt.Errorf("take a key: %w", err)
		}
		id := keyID(key)
		if s.keys[id] = aead; s.present == "" {
			s.present = id
		}
	}
	return s, nil
}

func sealing(key []byte) (cipher.AEAD, error) {
	block, err := aes.NewCipher(key)
	if err != nil {
		return nil, err
	}
	return cipher.NewGCMWithRandomNonce(block)
}

// keyID tells keys apart: 8 hex digits of a hash, from which no key can be found.
func keyID(key []byte) string {
	sum := sha256.Sum256(append([]byte("rungbook key id "), key...))
	return hex.EncodeToString(sum[:4])
}

// KeyID names the key that seals.
func (s *Sealer) KeyID() string { return s.present }

// Knows reports whether what was sealed by the key of an id can be opened.
func (s *Sealer) Knows(id string) bool { return s.keys[id] != nil }

// Seal gives nonce, sealed secret and tag, 28 bytes more than the secret. It opens only for the same about.
func (s *Sealer) Seal(secret, about []byte) []byte {
	return s.keys[s.present].Seal(nil, nil, secret, about)
}

// Open gives back what the key of an id has sealed for about, or ErrSealed.
func (s *Sealer) Open(id string, sealed, about []byte) ([]byte, error) {
	key := s.keys[id]
	if key == nil {
		return nil, fmt.Errorf("%w: there is no key %q", ErrSealed, id)
	}
	secret, err := key.Open(nil, nil, sealed, about)
	if err != nil {
		return nil, fmt.Errorf("%w: %w", ErrSealed, err)
	}
	return secret, nil
}
