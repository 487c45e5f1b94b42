package postgres

import (
	"context"

	"rungbook/internal/studio"
)

// ChainHead reads the last link.
func (t *Tx) ChainHead(ctx context.Context) (studio.ChainHead, error) {
	return one[studio.ChainHead](ctx, t, `select coalesce(max(seq), 0) as seq, coalesce((select encode(hash, 'hex') from audit_link order by seq desc limit 1), '') as hash from audit_link`)
}

// CheckChain works every hash of the trail out again and lists the first broken place, or nothing.
func (t *Tx) CheckChain(ctx context.Context) ([]studio.ChainBreak, error) {
	return many[studio.ChainBreak](ctx, t, `
		with walked as (
		  select l.seq, l.hash, a, a.id is null as gone, lag(l.seq, 1, 0::bigint) over w as before_seq,
		    coalesce(lag(l.hash) over w, decode(repeat('00', 32), 'hex')) as before_hash
		  from audit_link l left join audit a on a.id = l.audit_id window w as (order by l.seq)
		), broken as (
		  select seq, case when gone or seq <> before_seq + 1 then 'missing' else 'changed' end as what, a from walked
		  where gone or seq <> before_seq + 1 or hash <> audit_hash(before_hash, a)
		), outside as (
		  select 0::bigint as seq, 'unlinked' as what, a from audit a where not exists (select from audit_link l where l.audit_id = a.id)
		)
		select seq, what, coalesce((a).at, 'epoch') as at, coalesce((a).action, '') as action, coalesce((a).subject, '') as subject,
		  (select count(*) from audit_link l where found.seq = 0 or l.seq < found.seq) as holds
		from ((select * from broken order by seq limit 1) union all (select * from outside order by (a).at limit 1)) found order by seq desc limit 1`)
}

// ChainHas reports whether a hash, in hex, is that of a link.
func (t *Tx) ChainHas(ctx context.Context, hash string) (bool, error) {
	return value[bool](ctx, t, `select exists (select from audit_link where encode(hash, 'hex') = $1)`, hash)
}
