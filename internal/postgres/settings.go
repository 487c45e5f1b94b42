package postgres

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"

	"github.com/jackc/pgx/v5"
	"rungbook/internal/studio"
)

const settingsSQL = `select chosen from studio_settings`

// scanSettings reads the settings over the defaults: what the studio has not chosen keeps its default.
func scanSettings(row pgx.Row, into *studio.Settings) error {
	*into = studio.DefaultSettings()
	var chosen []byte
	if err := row.Scan(&chosen); errors.Is(err, pgx.ErrNoRows) {
		return nil
	} else if err != nil {
		return fmt.Errorf("read the settings: %w", err)
	}
	if err := json.Unmarshal(chosen, into); err != nil {
		return fmt.Errorf("read the settings: %w", err)
	}
	return nil
}

// SaveSettings keeps the studio's settings, all of them, and makes them those of the transaction.
func (t *Tx) SaveSettings(ctx context.Context, s studio.Settings) error {
	var by any
	if t.Actor.SignedIn() {
		by = t.Actor.ID
	}
	err := exec(ctx, t, `insert into studio_settings (chosen, changed_by, changed_at) values ($1, $2, $3)
		on conflict (one) do update set chosen = excluded.chosen, changed_by = excluded.changed_by, changed_at = excluded.changed_at`, s, by, t.Now)
	if err == nil {
		t.Settings = s
	}
	return err
}
