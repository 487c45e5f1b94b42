package postgres

import (
	"context"
	"time"

	"github.com/google/uuid"
)

// SecondFactor is the secret that an account shares with its authenticator.
type SecondFactor struct {
	AccountID   uuid.UUID
	KeyID       string     // of the key by which the secret is sealed; "" for one from before there was a key
	Secret      []byte     // as it is kept
	ConfirmedAt *time.Time // nil until a first code was shown: not in force yet
	LastStep    int64      // of the last code that was taken
}

// SecondFactorOf finds it and keeps others from using it meanwhile; studio.Missing when the account has none.
func (t *Tx) SecondFactorOf(ctx context.Context, account uuid.UUID) (SecondFactor, error) {
	return one[SecondFactor](ctx, t, `select account_id, key_id, secret, confirmed_at, last_step from second_factor where account_id = $1 for update`, account)
}

// SecondFactorsNotOf lists those whose secrets are not sealed by the key of an id, and keeps others from using them meanwhile.
func (t *Tx) SecondFactorsNotOf(ctx context.Context, keyID string) ([]SecondFactor, error) {
	return many[SecondFactor](ctx, t, `select account_id, key_id, secret, confirmed_at, last_step from second_factor where key_id <> $1 order by account_id for update`, keyID)
}

// SealSecondFactor keeps the same secret under another key.
func (t *Tx) SealSecondFactor(ctx context.Context, account uuid.UUID, keyID string, sealed []byte) error {
	return exec(ctx, t, `update second_factor set key_id = $2, secret = $3 where account_id = $1`, account, keyID, sealed)
}

// BeginSecondFactor keeps a sealed secret that is not in force yet, in place of one that was not in force either.
func (t *Tx) BeginSecondFactor(ctx context.Context, account uuid.UUID, keyID string, sealed []byte) error {
	return exec(ctx, t, `insert into second_factor (account_id, key_id, secret, made_at) values ($1, $2, $3, $4)
		on conflict (account_id) do update set key_id = $2, secret = $3, made_at = $4, last_step = 0 where second_factor.confirmed_at is null`, account, keyID, sealed, t.Now)
}

// TakeStep notes that a code of a time step was taken; the first one puts the second factor in force. studio.Missing when a code of
// that step or a later one was taken before.
func (t *Tx) TakeStep(ctx context.Context, account uuid.UUID, step int64) error {
	return exec(ctx, t, `update second_factor set last_step = $2, confirmed_at = coalesce(confirmed_at, $3) where account_id = $1 and last_step < $2`, account, step, t.Now)
}

// RemoveSecondFactor ends it, with its recovery codes.
func (t *Tx) RemoveSecondFactor(ctx context.Context, account uuid.UUID) error {
	return exec(ctx, t, `delete from second_factor where account_id = $1`, account)
}

// SetRecoveryCodes keeps the SHA-256 of each code in place of all earlier ones.
func (t *Tx) SetRecoveryCodes(ctx context.Context, account uuid.UUID, hashes [][]byte) error {
	if _, err := t.tx.Exec(ctx, `delete from recovery_code where account_id = $1`, account); err != nil {
		return err
	}
	return exec(ctx, t, `insert into recovery_code (account_id, place, code_hash) select $1, place, hash from unnest($2::bytea[]) with ordinality x (hash, place)`, account, hashes)
}

// UseRecoveryCode uses one up; studio.Missing when there is none, or it was used.
func (t *Tx) UseRecoveryCode(ctx context.Context, account uuid.UUID, hash []byte) error {
	return exec(ctx, t, `update recovery_code set used_at = $3 where account_id = $1 and code_hash = $2 and used_at is null`, account, hash, t.Now)
}

// RecoveryCodesLeft counts those that were not used.
func (t *Tx) RecoveryCodesLeft(ctx context.Context, account uuid.UUID) (int, error) {
	return value[int](ctx, t, `select count(*)::int from recovery_code where account_id = $1 and used_at is null`, account)
}
