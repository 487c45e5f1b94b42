package postgres

import (
	"context"

	"github.com/google/uuid"
	"rungbook/internal/studio"
)

const requestSQL = `select r.id, r.staff_id, s.name as staff_name, coalesce(r.ladder_key, '') as ladder_key, coalesce(r.rung_key, '') as rung_key, r.words, r.asked_at,
	r.decided_at, coalesce((select d.name from staff d where d.account_id = r.decided_by), '') as decided_by_name, r.granted, r.answer
	from sign_off_request r join staff s on s.id = r.staff_id`

// SignOffRequests lists the requests of one person, or (uuid.Nil) of everybody: those that wait first, oldest first, then the decided,
// latest first.
func (t *Tx) SignOffRequests(ctx context.Context, staff uuid.UUID) ([]studio.SignOffRequest, error) {
	return many[studio.SignOffRequest](ctx, t, requestSQL+` where $1 = '00000000-0000-0000-0000-000000000000'::uuid or r.staff_id = $1
		order by r.decided_at desc nulls first, r.asked_at, r.id limit 200`, staff)
}

// SignOffRequest reads one that waits and that the actor may decide, so that nobody else decides it meanwhile.
func (t *Tx) SignOffRequest(ctx context.Context, id uuid.UUID) (studio.SignOffRequest, error) {
	return one[studio.SignOffRequest](ctx, t, requestSQL+` where r.id = $1 and r.decided_at is null for update of r`, id)
}

// AskSignOff writes a request.
func (t *Tx) AskSignOff(ctx context.Context, r studio.SignOffRequest) error {
	return exec(ctx, t, `insert into sign_off_request (staff_id, ladder_key, rung_key, words, asked_at) values ($1, nullif($2, ''), nullif($3, ''), $4, $5)`,
		r.StaffID, r.LadderKey, r.RungKey, r.Words, t.Now)
}

// DecideSignOff closes a request.
func (t *Tx) DecideSignOff(ctx context.Context, id uuid.UUID, granted bool, answer string) error {
	return exec(ctx, t, `update sign_off_request set decided_by = $2, decided_at = $3, granted = $4, answer = $5 where id = $1 and decided_at is null`,
		id, t.savedBy(), t.Now, granted, answer)
}

// OwnStaff is the staff record of the actor; studio.Missing when there is none, or it has left.
func (t *Tx) OwnStaff(ctx context.Context) (studio.Staff, error) {
	return one[studio.Staff](ctx, t, `select id, account_id, name, trainee, can_lead, left_on from staff where account_id = $1 and left_on is null`, t.Actor.ID)
}

// OwnSignOffs are the actor's own that were not revoked.
func (t *Tx) OwnSignOffs(ctx context.Context, staff uuid.UUID) ([]studio.SignOff, error) {
	return many[studio.SignOff](ctx, t, signOffSQL+`where o.staff_id = $1 and o.revoked_at is null order by r.ladder_key, r.position, o.expires_on`, staff)
}
