package postgres

import (
	"bytes"
	"context"

	"github.com/google/uuid"
	"rungbook/internal/studio"
)

// SavePair keeps two children of a class together or apart, in place of what was wished of them before.
func (t *Tx) SavePair(ctx context.Context, class uuid.UUID, p studio.ClassPair) error {
	a, b := inOrder(p.ChildA, p.ChildB)
	return exec(ctx, t, `insert into class_pair (class_id, child_a, child_b, wish) values ($1, $2, $3, $4)
		on conflict (class_id, child_a, child_b) do update set wish = $4`, class, a, b, p.Wish)
}

// RemovePair lets two children of a class be in any groups; studio.Missing when nothing was wished of them.
func (t *Tx) RemovePair(ctx context.Context, class, one, other uuid.UUID) error {
	a, b := inOrder(one, other)
	return exec(ctx, t, `delete from class_pair where class_id = $1 and child_a = $2 and child_b = $3`, class, a, b)
}

func inOrder(a, b uuid.UUID) (lesser, greater uuid.UUID) {
	if bytes.Compare(a[:], b[:]) > 0 {
		return b, a
	}
	return a, b
}

// CarryPairs takes what was wished of pairs in the classes of a term over to each class of another term that both are in now; where two
// classes wished differently, apart stands. How many, comes back.
func (t *Tx) CarryPairs(ctx context.Context, from, to uuid.UUID) (int, error) {
	tag, err := t.tx.Exec(ctx, `insert into class_pair (class_id, child_a, child_b, wish)
		select distinct on (n.id, p.child_a, p.child_b) n.id, p.child_a, p.child_b, p.wish from class_pair p join class o on o.id = p.class_id and o.term_id = $1
			join enrolment a on a.child_id = p.child_a join enrolment b on b.child_id = p.child_b and b.class_id = a.class_id
			join class n on n.id = a.class_id and n.term_id = $2
		order by n.id, p.child_a, p.child_b, p.wish`, from, to)
	return int(tag.RowsAffected()), err
}
