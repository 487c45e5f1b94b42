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
