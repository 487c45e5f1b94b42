package postgres

import (
	"context"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"
	"rungbook/internal/studio"
)

const signOffSQL = `select o.id, o.staff_id, s.name as staff_name, o.rung_key, r.name as rung_name, o.granted_on, o.expires_on, o.revoked_at
	from sign_off o join staff s on s.id = o.staff_id join rung r on r.key = o.rung_key `

// SignOffs lists every sign-off that was not revoked, of people who have not left, by person, rung and end.
func (t *Tx) SignOffs(ctx context.Context) ([]studio.SignOff, error) {
	return many[studio.SignOff](ctx, t, signOffSQL+`where o.revoked_at is null and (s.left_on is null or s.left_on > $1)
		order by lower(s.name), s.id, r.ladder_key, r.position, o.expires_on`, t.Today)
}

// SignOffsOf lists those of one person, revoked ones too, by rung and end.
func (t *Tx) SignOffsOf(ctx context.Context, staff uuid.UUID) ([]studio.SignOff, error) {
	return many[studio.SignOff](ctx, t, signOffSQL+`where o.staff_id = $1 order by r.ladder_key, r.position, o.expires_on desc`, staff)
}

// AddSignOffs writes sign-offs. Each must have its id.
func (t *Tx) AddSignOffs(ctx context.Context, signOffs []studio.SignOff) error {
	batch := &pgx.Batch{}
	for _, s := range signOffs {
		batch.Queue(`insert into sign_off (id, staff_id, rung_key, granted_by, granted_on, expires_on) values ($1, $2, $3, $4, $5, $6)`,
			s.ID, s.StaffID, s.RungKey, t.savedBy(), s.GrantedOn, s.ExpiresOn)
	}
	return t.tx.SendBatch(ctx, batch).Close()
}

// RevokeSignOff ends a sign-off from now on and returns it.
func (t *Tx) RevokeSignOff(ctx context.Context, id uuid.UUID) (studio.SignOff, error) {
	if err := exec(ctx, t, `update sign_off set revoked_at = $2 where id = $1 and revoked_at is null`, id, t.Now); err != nil {
		return studio.SignOff{}, err
	}
	return one[studio.SignOff](ctx, t, signOffSQL+`where o.id = $1`, id)
}
