package postgres

import (
	"context"

	"github.com/google/uuid"
	"rungbook/internal/studio"
)

// Credentials are what sign-in needs of an account.
type Credentials struct {
	ID           uuid.UUID
	PasswordHash string
}

// CredentialsOf finds an enabled account by its e-mail address in lower case.
func (t *Tx) CredentialsOf(ctx context.Context, email string) (Credentials, error) {
	return one[Credentials](ctx, t, `select a.id, s.password_hash from account a join account_secret s on s.account_id = a.id
		where a.email = $1 and a.disabled_at is null`, email)
}

// PasswordHash is the stored hash of an account's own passphrase.
func (t *Tx) PasswordHash(ctx context.Context, account uuid.UUID) (string, error) {
	return value[string](ctx, t, `select password_hash from account_secret where account_id = $1`, account)
}

// SetPassword stores a passphrase's hash; the first one makes the account one that has joined.
func (t *Tx) SetPassword(ctx context.Context, account uuid.UUID, hash string) error {
	if err := exec(ctx, t, `update account set joined_at = coalesce(joined_at, $2) where id = $1`, account, t.Now); err != nil {
		return err
	}
	return exec(ctx, t, `insert into account_secret (account_id, password_hash, changed_at) values ($1, $2, $3)
		on conflict (account_id) do update set password_hash = $2, changed_at = $3`, account, hash, t.Now)
}

// DropPassword makes an account's passphrase open nothing, until a new one is chosen by link.
func (t *Tx) DropPassword(ctx context.Context, account uuid.UUID) error {
	_, err := t.tx.Exec(ctx, `delete from account_secret where account_id = $1`, account)
	return err
}

// SetEmail changes an account's own address, in lower case.
func (t *Tx) SetEmail(ctx context.Context, account uuid.UUID, email string) error {
	return exec(ctx, t, `update account set email = $2 where id = $1`, account, email)
}

// SetLanguage keeps the tag of the language that an account reads in; "" lets the browser say.
func (t *Tx) SetLanguage(ctx context.Context, account uuid.UUID, tag string) error {
	return exec(ctx, t, `update account set language = $2 where id = $1`, account, tag)
}

// LanguageOf is what SetLanguage kept of the account with an address in lower case; "" where there is none.
func (t *Tx) LanguageOf(ctx context.Context, email string) (string, error) {
	return value[string](ctx, t, `select coalesce((select language from account where email = $1), '')`, email)
}

// AddAccount makes an account with roles; the id comes back.
func (t *Tx) AddAccount(ctx context.Context, email, name string, roles []studio.Role) (uuid.UUID, error) {
	id, err := value[uuid.UUID](ctx, t, `insert into account (email, name, created_at) values ($1, $2, $3) returning id`, email, name, t.Now)
	if err != nil {
		return id, err
	}
	for _, r := range roles {
		if err := t.GrantRole(ctx, id, r); err != nil {
			return id, err
		}
	}
	return id, nil
}

// GrantRole gives an account a role; it is no error when it has it.
func (t *Tx) GrantRole(ctx context.Context, account uuid.UUID, role studio.Role) error {
	_, err := t.tx.Exec(ctx, `insert into account_role (account_id, role, granted_at) values ($1, $2, $3) on conflict do nothing`, account, role, t.Now)
	return err
}

// Owners counts the accounts that hold the owner's role.
func (t *Tx) Owners(ctx context.Context) (int, error) {
	return value[int](ctx, t, `select count(*) from account_role r join account a on a.id = r.account_id where r.role = 'owner' and a.disabled_at is null`)
}
