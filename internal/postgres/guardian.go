package postgres

import (
	"context"

	"github.com/google/uuid"
	"rungbook/internal/studio"
)

const guardiansSQL = `select g.account_id, g.child_id, a.name, a.email, g.relation, g.since, g.removed_at,
	trim(c.given_name || ' ' || coalesce(d.family_name, c.initial)) as child_name
	from guardian g join account a on a.id = g.account_id join child c on c.id = g.child_id left join child_detail d on d.child_id = c.id
	where g.removed_at is null`

// GuardiansOfChild lists who is a guardian of the child now.
func (t *Tx) GuardiansOfChild(ctx context.Context, child uuid.UUID) ([]studio.Guardian, error) {
	return many[studio.Guardian](ctx, t, guardiansSQL+` and g.child_id = $1 order by lower(a.name), a.email`, child)
}

// ChildrenOfGuardian lists the children of whom the account is a guardian now.
func (t *Tx) ChildrenOfGuardian(ctx context.Context, account uuid.UUID) ([]studio.Guardian, error) {
	return many[studio.Guardian](ctx, t, guardiansSQL+` and g.account_id = $1 order by child_name`, account)
}

// AddGuardian makes an account a guardian of a child, again if it was before, and reports whether that was news.
func (t *Tx) AddGuardian(ctx context.Context, account, child uuid.UUID, relation string) (bool, error) {
	tag, err := t.tx.Exec(ctx, `insert into guardian (account_id, child_id, relation, since) values ($1, $2, $3, $4)
		on conflict (account_id, child_id) do update set relation = $3, since = $4, removed_at = null where guardian.removed_at is not null`,
		account, child, relation, t.Now)
	return err == nil && tag.RowsAffected() > 0, err
}

// RemoveGuardian ends it from now on; the row stays for the trail.
func (t *Tx) RemoveGuardian(ctx context.Context, account, child uuid.UUID) error {
	return exec(ctx, t, `update guardian set removed_at = $3 where account_id = $1 and child_id = $2 and removed_at is null`, account, child, t.Now)
}

// RemovedGuardians lists who was a guardian of whom and is so no longer; only the ids are filled in.
func (t *Tx) RemovedGuardians(ctx context.Context) ([]studio.Guardian, error) {
	return many[studio.Guardian](ctx, t, `select account_id, child_id, removed_at from guardian where removed_at is not null`)
}
