package demo

import (
	"context"
	"fmt"

	"rungbook/internal/studio"
)

// parentNote is what a teacher writes to the parents in the term report of a child of the Terns.
type parentNote struct{ child, note string }

func parentNotes() []parentNote {
	return []parentNote{
		{"Elowen Pascoe", "Elowen listens with her whole body and waits for her turn without being asked. Her wheels have become straight.\nNext we spend time on holding the hollow shape, which is what the wall work needs."},
		{"Amara Okonjo", "Amara takes a correction and uses it in the very next turn. She helps the younger ones with the mats, and has learnt to rest her wrists before they tire."},
	}
}

// addParentNotes writes them before the first reports are released; the other children of the class have none yet.
func (h *house) addParentNotes(ctx context.Context) error {
	for _, n := range parentNotes() {
		note := studio.ReportNote{ClassID: h.classes[terns], ChildID: h.children[n.child], Note: n.note}
		if err := h.use.WriteReportNote(ctx, h.teacherOf(n.child), note); err != nil {
			return fmt.Errorf("write to the parents of %s: %w", n.child, err)
		}
	}
	return nil
}
