package postgres

import (
	"context"
	"time"

	"github.com/google/uuid"
	"rungbook/internal/studio"
)

// Trail lists what was done before the entry of a moment and id, the newest first.
func (t *Tx) Trail(ctx context.Context, before time.Time, id uuid.UUID, limit int) ([]studio.TrailEntry, error) {
	return many[studio.TrailEntry](ctx, t, `select e.id, e.at, coalesce(a.name, case when e.actor is null then 'Rungbook' else 'somebody who is gone' end) as actor_name,
		e.action, e.kind, e.key, e.detail, coalesce(
			case e.kind
				when 'account' then (select n.name from account n where n.id::text = e.key)
				when 'child' then (select trim(c.given_name || ' ' || d.family_name) from child c join child_detail d on d.child_id = c.id where c.id::text = e.key)
				when 'staff' then (select s.name from staff s where s.id::text = e.key)
				when 'class' then (select k.name from class k where k.id::text = e.key)
				when 'term' then (select m.name from term m where m.id::text = e.key)
				when 'lesson' then (select k.name || ', ' || to_char(l.starts_at at time zone k.time_zone, 'FMDD Mon YYYY') from lesson l join class k on k.id = l.class_id where l.id::text = e.key)
			end, '') as name
		from (select at, actor, action, detail, id, split_part(subject, ' ', 1) as kind, substr(subject, length(split_part(subject, ' ', 1)) + 2) as key
			from audit where (at, id) < ($1, $2) order by at desc, id desc limit $3) e
		left join account a on a.id = e.actor order by e.at desc, e.id desc`, before, id, limit)
}

// childTrailSQL lists what was done about a child, the newest first: what people of the staff did, by their name, and ” for others.
// name is the drill or the rung that it was about.
const childTrailSQL = `select e.id, e.at, e.action, e.detail,
	case when e.actor is null then 'Rungbook' else coalesce((select s.name from staff s where s.account_id = e.actor), '') end as actor_name,
	coalesce((select d.name from drill d where d.key = e.detail ->> 'drill'), (select r.name from rung r where r.key = e.detail ->> 'rung'), '') as name
	from audit e where e.subject = $1 order by e.at desc, e.id desc limit $2`
