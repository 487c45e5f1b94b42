package postgres

import (
	"context"
	"time"

	"github.com/google/uuid"
)

// Passkey is a stored WebAuthn credential. Credential is its record as internal/auth writes it.
type Passkey struct {
	ID           uuid.UUID
	AccountID    uuid.UUID
	CredentialID []byte
	Name         string
	Credential   []byte
	MadeAt       time.Time
	UsedAt       *time.Time
}

const passkeySQL = `select k.id, k.account_id, k.credential_id, k.name, k.credential, k.made_at, k.used_at from passkey k `

// PasskeysOf lists an account's passkeys, the oldest first.
func (t *Tx) PasskeysOf(ctx context.Context, account uuid.UUID) ([]Passkey, error) {
	return many[Passkey](ctx, t, passkeySQL+`where k.account_id = $1 order by k.made_at, k.id`, account)
}

// PasskeyToSignIn finds the passkey of a credential id whose account may sign in; studio.Missing when there is none.
func (t *Tx) PasskeyToSignIn(ctx context.Context, credential []byte) (Passkey, error) {
	return one[Passkey](ctx, t, passkeySQL+`join account a on a.id = k.account_id where k.credential_id = $1 and a.disabled_at is null for update of k`, credential)
}

// AddPasskey keeps a new one.
func (t *Tx) AddPasskey(ctx context.Context, k Passkey) error {
	return exec(ctx, t, `insert into passkey (account_id, credential_id, name, credential, made_at) values ($1, $2, $3, $4, $5)`,
		k.AccountID, k.CredentialID, k.Name, k.Credential, t.Now)
}

// UsePasskey keeps the credential's new record, with its counter, and when that was.
func (t *Tx) UsePasskey(ctx context.Context, id uuid.UUID, credential []byte) error {
	return exec(ctx, t, `update passkey set credential = $2, used_at = $3 where id = $1`, id, credential, t.Now)
}

// NamePasskey changes the name of one's own passkey.
func (t *Tx) NamePasskey(ctx context.Context, account, id uuid.UUID, name string) error {
	return exec(ctx, t, `update passkey set name = $3 where id = $2 and account_id = $1`, account, id, name)
}

// RemovePasskey forgets one's own passkey and says what it was called.
func (t *Tx) RemovePasskey(ctx context.Context, account, id uuid.UUID) (string, error) {
	return value[string](ctx, t, `delete from passkey where id = $2 and account_id = $1 returning name`, account, id)
}

// HasPasskeys reports whether an account has any.
func (t *Tx) HasPasskeys(ctx context.Context, account uuid.UUID) (bool, error) {
	return value[bool](ctx, t, `select exists (select from passkey where account_id = $1)`, account)
}

// RemovePasskeysOf forgets all of an account's passkeys.
func (t *Tx) RemovePasskeysOf(ctx context.Context, account uuid.UUID) error {
	_, err := t.tx.Exec(ctx, `delete from passkey where account_id = $1`, account)
	return err
}
