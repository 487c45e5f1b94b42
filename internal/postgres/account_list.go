package postgres

import (
	"context"
	"time"

	"github.com/google/uuid"
	"rungbook/internal/studio"
)

const accountsSQL = `select a.id, a.email, a.name, a.language, a.joined_at, a.disabled_at,
	array(select r.role from account_role r where r.account_id = a.id order by r.role) as roles,
	(select count(*) from guardian g where g.account_id = a.id and g.removed_at is null)::int as children
	from account a where $1::uuid is null or a.id = $1 order by lower(a.name), a.email`

// Accounts lists every account by name.
func (t *Tx) Accounts(ctx context.Context) ([]studio.Account, error) {
	return many[studio.Account](ctx, t, accountsSQL, nil)
}

// Account is one account with its roles.
func (t *Tx) Account(ctx context.Context, id uuid.UUID) (studio.Account, error) {
	return one[studio.Account](ctx, t, accountsSQL, id)
}

// AccountByEmail is the id of the account with an address in lower case; studio.Missing when there is none.
func (t *Tx) AccountByEmail(ctx context.Context, email string) (uuid.UUID, error) {
	return value[uuid.UUID](ctx, t, `select id from account where email = $1`, email)
}

// AccountsByEmail are the ids of the accounts among addresses in lower case.
func (t *Tx) AccountsByEmail(ctx context.Context, emails []string) (map[string]uuid.UUID, error) {
	type row struct {
		ID    uuid.UUID
		Email string
	}
	rows, err := many[row](ctx, t, `select id, email from account where email = any($1)`, emails)
	ids := make(map[string]uuid.UUID, len(rows))
	for _, r := range rows {
		ids[r.Email] = r.ID
	}
	return ids, err
}

// SetRoles makes the roles of an account these and no others.
func (t *Tx) SetRoles(ctx context.Context, account uuid.UUID, roles []studio.Role) error {
	if _, err := t.tx.Exec(ctx, `delete from account_role where account_id = $1 and role <> all($2::text[])`, account, filled(roles)); err != nil {
		return err
	}
	for _, r := range roles {
		if err := t.GrantRole(ctx, account, r); err != nil {
			return err
		}
	}
	return nil
}

// SetDisabled locks an account out from a moment on; nil lets it in again.
func (t *Tx) SetDisabled(ctx context.Context, account uuid.UUID, at *time.Time) error {
	return exec(ctx, t, `update account set disabled_at = $2 where id = $1`, account, at)
}

// LockOwners keeps other transactions from changing who owns the studio until this one ends, so that two changes at once cannot
// leave it without an owner.
func (t *Tx) LockOwners(ctx context.Context) error {
	_, err := t.tx.Exec(ctx, `select pg_advisory_xact_lock(hashtext('rungbook owners'))`)
	return err
}
