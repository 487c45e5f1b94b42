package postgres

import (
	"context"

	"github.com/google/uuid"
	"rungbook/internal/studio"
)

const guardiansSQL = `select g.account_id, g.child_id, a.name, a.email, a.language, g.relation, g.rights, g.invited_by, g.since, g.removed_at,
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

// AddGuardian makes an account a guardian of a child, again if it was before, and reports whether that was news. Whoever is the only
// one may invite others.
func (t *Tx) AddGuardian(ctx context.Context, account, child uuid.UUID, relation string) (bool, error) {
	tag, err := t.tx.Exec(ctx, `insert into guardian (account_id, child_id, relation, since, called, rights)
		select $1, $2, $3, $4, a.name, case when exists (select from guardian o where o.child_id = $2 and o.removed_at is null)
			then '{hurt,reports}'::text[] else '{hurt,reports,invite}' end from account a where a.id = $1
		on conflict (account_id, child_id) do update set relation = $3, since = $4, removed_at = null, called = excluded.called,
			rights = excluded.rights, invited_by = null where guardian.removed_at is not null`,
		account, child, relation, t.Now)
	return err == nil && tag.RowsAffected() > 0, err
}

// SetGuardianRights changes what a guardian may.
func (t *Tx) SetGuardianRights(ctx context.Context, account, child uuid.UUID, rights []studio.GuardianRight) error {
	return exec(ctx, t, `update guardian set rights = $3 where account_id = $1 and child_id = $2 and removed_at is null`, account, child, filled(rights))
}

// NoteInviter keeps who let a guardian in.
func (t *Tx) NoteInviter(ctx context.Context, account, child uuid.UUID, by *uuid.UUID) error {
	return exec(ctx, t, `update guardian set invited_by = $3 where account_id = $1 and child_id = $2 and removed_at is null`, account, child, by)
}

// GuardiansBeside lists who is a guardian of the child now, as a guardian who may invite sees it: names, without addresses.
func (t *Tx) GuardiansBeside(ctx context.Context, child uuid.UUID) ([]studio.Guardian, error) {
	return many[studio.Guardian](ctx, t, `select account_id, child_id, called as name, relation, rights, invited_by, since from guardian
		where child_id = $1 and removed_at is null order by since, lower(called)`, child)
}

// RemoveGuardian ends it from now on; the row stays for the trail.
func (t *Tx) RemoveGuardian(ctx context.Context, account, child uuid.UUID) error {
	return exec(ctx, t, `update guardian set removed_at = $3 where account_id = $1 and child_id = $2 and removed_at is null`, account, child, t.Now)
}

// RemovedGuardians lists who was a guardian of whom and is so no longer; only the ids are filled in.
func (t *Tx) RemovedGuardians(ctx context.Context) ([]studio.Guardian, error) {
	return many[studio.Guardian](ctx, t, `select account_id, child_id, removed_at from guardian where removed_at is not null`)
}
