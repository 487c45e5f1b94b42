package auth

import (
	"encoding/base64"
	"errors"
	"fmt"
	"strconv"
	"strings"

	"golang.org/x/crypto/argon2"
)

// ErrHash says that a stored password hash is not one that this program could have written. The account needs a reset.
var ErrHash = errors.New("stored password hash is damaged or outside of the limits")

// Limits on the parameters of a hash, ours or a stored one. A hash that was tampered with can ask for no more than this.
const (
	MaxMemory  = 64 * 1024 // KiB
	MaxTime    = 10
	MaxThreads = 4
)

// Params are the costs of argon2id: Memory in KiB (8 x Threads to MaxMemory), Time in passes (1 to MaxTime), Threads
// (1 to MaxThreads).
type Params struct {
	Memory  uint32
	Time    uint32
	Threads uint8
}

// DefaultParams are 19 MiB, 2 passes, 1 thread: the minimum of OWASP's Password Storage Cheat Sheet for argon2id.
func DefaultParams() Params { return Params{Memory: 19 * 1024, Time: 2, Threads: 1} }

func (p Params) check() error {
	switch {
	case p.Threads < 1 || p.Threads > MaxThreads:
		return fmt.Errorf("%d threads, want 1 to %d", p.Threads, MaxThreads)
	case p.Time < 1 || p.Time > MaxTime:
		return fmt.Errorf("%d passes, want 1 to %d", p.Time, MaxTime)
	case p.Memory < 8*uint32(p.Threads) || p.Memory > MaxMemory: // lower bound: RFC 9106, section 3.1
		return fmt.Errorf("%d KiB of memory, want %d to %d", p.Memory, 8*p.Threads, MaxMemory)
	}
	return nil
}

// phc is a hash in the PHC string format: $argon2id$v=19$m=19456,t=2,p=1$salt$key, base64 without padding.
type phc struct {
	params    Params
	salt, key []byte
}

func (h phc) String() string {
	return fmt.Sprintf("$argon2id$v=%d$m=%d,t=%d,p=%d$%s$%s", argon2.Version, h.params.Memory, h.params.Time, h.params.Threads,
		base64.RawStdEncoding.EncodeToString(h.salt), base64.RawStdEncoding.EncodeToString(h.key))
}

// parsePHC reads a hash as String writes it, byte for byte, with a salt of 8-64 and a key of 16-64 bytes; else ErrHash.
func parsePHC(s string) (phc, error) {
	parts := strings.Split(s, "$")
	if len(parts) != 6 || len(s) > 300 {
		return phc{}, ErrHash
	}
	params, err := parseParams(parts[3])
	if err != nil {
		return phc{}, err
	}
	salt, saltErr := base64.RawStdEncoding.DecodeString(parts[4])
	key, keyErr := base64.RawStdEncoding.DecodeString(parts[5])
	if saltErr != nil || keyErr != nil || len(salt) < 8 || len(salt) > 64 || len(key) < 16 || len(key) > 64 {
		return phc{}, ErrHash
	}
	h := phc{params, salt, key}
	if h.String() != s { // one spelling only: no leading zeros, signs, line breaks or stray bits; and this checks the head
		return phc{}, ErrHash
	}
	return h, nil
}

func parseParams(s string) (Params, error) {
	fields := strings.Split(s, ",")
	if len(fields) != 3 {
		return Params{}, ErrHash
	}
	var numbers [3]uint64
	for i, name := range []string{"m=", "t=", "p="} {
		digits, found := strings.CutPrefix(fields[i], name)
		n, err := strconv.ParseUint(digits, 10, 32)
		if !found || err != nil {
			return Params{}, ErrHash
		}
		numbers[i] = n
	}
	if numbers[2] > MaxThreads {
		return Params{}, ErrHash
	}
	p := Params{Memory: uint32(numbers[0]), Time: uint32(numbers[1]), Threads: uint8(numbers[2])}
	if err := p.check(); err != nil {
		return Params{}, fmt.Errorf("%w: %w", ErrHash, err)
	}
	return p, nil
}
