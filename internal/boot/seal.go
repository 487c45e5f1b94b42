package boot

import (
	"context"
	"crypto/rand"
	"encoding/base64"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"rungbook/internal/auth"
)

// sealer takes the keys of the configuration; nil without one.
func sealer(c Config) (*auth.Sealer, error) {
	if c.SecretKey == "" {
		if len(c.KeysBefore) > 0 {
			return nil, errors.New("RUNGBOOK_SECRET_KEYS_BEFORE is set without RUNGBOOK_SECRET_KEY: name the present key too")
		}
		return nil, nil
	}
	s, err := auth.NewSealer(c.SecretKey, c.KeysBefore...)
	if err != nil {
		return nil, fmt.Errorf("RUNGBOOK_SECRET_KEY, RUNGBOOK_SECRET_KEYS_BEFORE: %w", err)
	}
	return s, nil
}

// seal seals the secrets of authenticators that are not sealed by the present key, at the start of serving.
func (h *House) seal(ctx context.Context) error {
	sealed, lost, err := h.App.SealSecrets(ctx)
	if err != nil {
		return fmt.Errorf("seal the secrets of codes: %w", err)
	}
	if sealed > 0 {
		h.log.Info("the secrets of codes are sealed by the present key", "accounts", sealed)
	}
	if lost > 0 {
		h.log.Error("codes cannot be checked: set RUNGBOOK_SECRET_KEY or RUNGBOOK_SECRET_KEYS_BEFORE to the key by which they were sealed; until then recovery codes let people in", "accounts", lost)
	}
	return nil
}

const keyFile = "secret.key"

// keepKey reads the key of a folder, and makes one where there is none.
func keepKey(dir string) (string, error) {
	name := filepath.Join(dir, keyFile)
	text, err := os.ReadFile(name)
	if err == nil {
		return strings.TrimSpace(string(text)), nil
	}
	if !errors.Is(err, fs.ErrNotExist) {
		return "", fmt.Errorf("read the key: %w", err)
	}
	key := make([]byte, 32)
	rand.Read(key) // never fails: crypto/rand ends the program instead
	made := base64.StdEncoding.EncodeToString(key)
	if err := os.MkdirAll(dir, 0o700); err != nil {
		return "", fmt.Errorf("make the folder of the key: %w", err)
	}
	if err := os.WriteFile(name, []byte(made+"\n"), 0o600); err != nil {
		return "", fmt.Errorf("keep the key: %w", err)
	}
	return made, nil
}
