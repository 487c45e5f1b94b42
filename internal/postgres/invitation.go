package postgres

import (
	"context"
	"time"

	"github.com/google/uuid"
	"rungbook/internal/studio"
)

const invitationColumns = `select i.id, i.kind, i.email, i.name, i.roles, i.staff_id, i.child_ids, i.rights, i.created_by, i.created_at, i.expires_at, i.used_at,
	array(select trim(c.given_name || ' ' || coalesce(d.family_name, c.initial)) from child c left join child_detail d on d.child_id = c.id
		where c.id = any(i.child_ids) order by 1) as child_names from invitation i `

// AddInvitation keeps an invitation of which hash is the SHA-256 of the secret in the link. Earlier open ones of the same kind and
// address end: only the newest link works.
func (t *Tx) AddInvitation(ctx context.Context, hash []byte, i studio.Invitation) (uuid.UUID, error) {
	if err := t.WithdrawInvitations(ctx, i.Kind, i.Email); err != nil {
		return uuid.Nil, err
	}
	return value[uuid.UUID](ctx, t, `insert into invitation (token_hash, kind, email, name, roles, staff_id, child_ids, created_by, created_at, expires_at, rights)
		values ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10, $11) returning id`,
		hash, i.Kind, i.Email, i.Name, filled(i.Roles), i.StaffID, filled(i.ChildIDs), t.savedBy(), t.Now, i.ExpiresAt, i.Rights)
}

// WithdrawInvitations ends the open links of a kind for an address.
func (t *Tx) WithdrawInvitations(ctx context.Context, kind studio.InvitationKind, email string) error {
	_, err := t.tx.Exec(ctx, `delete from invitation where kind = $1 and email = $2 and used_at is null`, kind, email)
	return err
}

// WithdrawInvitation ends an open link and returns what it was.
func (t *Tx) WithdrawInvitation(ctx context.Context, id uuid.UUID) (studio.Invitation, error) {
	return one[studio.Invitation](ctx, t, `delete from invitation where id = $1 and used_at is null
		returning id, kind, email, name, roles, staff_id, child_ids, rights, created_by, created_at, expires_at, used_at`, id)
}

// OpenInvitations lists the links that have not been used, the newest first; some may have run out.
func (t *Tx) OpenInvitations(ctx context.Context) ([]studio.Invitation, error) {
	return many[studio.Invitation](ctx, t, invitationColumns+`where i.used_at is null order by i.created_at desc`)
}

// OpenInvitationsTo lists the links by which somebody may still become a guardian of a child and that the actor may see.
func (t *Tx) OpenInvitationsTo(ctx context.Context, child uuid.UUID) ([]studio.Invitation, error) {
	return many[studio.Invitation](ctx, t, invitationColumns+`where i.used_at is null and i.expires_at > $2 and $1 = any(i.child_ids) order by i.created_at desc`, child, t.Now)
}

// LinkMadeSince reports whether an open link of a kind was made for an address after a moment.
func (t *Tx) LinkMadeSince(ctx context.Context, kind studio.InvitationKind, email string, since time.Time) (bool, error) {
	return value[bool](ctx, t, `select exists (select from invitation where kind = $1 and email = $2 and used_at is null and created_at > $3)`, kind, email, since)
}

// InvitationBySecret finds an invitation by the SHA-256 of its secret, used or not, and keeps others from using it meanwhile.
func (t *Tx) InvitationBySecret(ctx context.Context, hash []byte) (studio.Invitation, error) {
	return one[studio.Invitation](ctx, t, invitationColumns+`where i.token_hash = $1 for update of i`, hash)
}

// UseInvitation marks it used; studio.Missing when it was used already.
func (t *Tx) UseInvitation(ctx context.Context, id uuid.UUID) error {
	return exec(ctx, t, `update invitation set used_at = $2 where id = $1 and used_at is null`, id, t.Now)
}
