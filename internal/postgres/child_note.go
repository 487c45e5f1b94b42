package postgres

import (
	"context"

	"github.com/google/uuid"
)

// notesSQL lists the notes about a child, the newest first. by is the writer among the staff, ” for somebody who is gone.
const notesSQL = `select n.id, n.child_id, n.note, n.written_at, coalesce((select s.name from staff s where s.account_id = n.written_by), '') as by
	from child_note n where n.child_id = $1 order by n.written_at desc, n.id`

// AddNote keeps a note about a child.
func (t *Tx) AddNote(ctx context.Context, child uuid.UUID, note string) error {
	return exec(ctx, t, `insert into child_note (child_id, note, written_by, written_at) values ($1, $2, $3, $4)`, child, note, t.by(), t.Now)
}
