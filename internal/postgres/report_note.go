package postgres

import (
	"context"

	"github.com/google/uuid"
	"rungbook/internal/studio"
)

// ReportNotes lists what teachers wrote for the term report of a class.
func (t *Tx) ReportNotes(ctx context.Context, class uuid.UUID) ([]studio.ReportNote, error) {
	return many[studio.ReportNote](ctx, t, `select class_id, child_id, note, written_at from report_note where class_id = $1`, class)
}

// SaveReportNote writes a note anew; an empty one takes away what was there.
func (t *Tx) SaveReportNote(ctx context.Context, n studio.ReportNote) error {
	if n.Note == "" {
		_, err := t.tx.Exec(ctx, `delete from report_note where class_id = $1 and child_id = $2`, n.ClassID, n.ChildID)
		return err
	}
	return exec(ctx, t, `insert into report_note (class_id, child_id, note, written_by, written_at) values ($1, $2, $3, $4, $5)
		on conflict (class_id, child_id) do update set note = $3, written_by = $4, written_at = $5`, n.ClassID, n.ChildID, n.Note, t.by(), t.Now)
}
