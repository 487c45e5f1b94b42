package demo

import (
	"context"
	"slices"

	"github.com/google/uuid"
	"rungbook/internal/app"
	"rungbook/internal/studio"
)

// childNote is what a teacher wants the child's next teacher to know.
type childNote struct{ child, note string }

func childNotes() []childNote {
	return []childNote{
		{"Amara Okonjo", "Learns by watching: one quiet demonstration, then space. Asks for the next rung early; agreed with her that two clean lessons come first."},
		{"Amara Okonjo", "Left side catches up when it goes first in the lesson."},
		{"Elowen Pascoe", "Tired on weeks with the school team. A lighter station first works better than a rest in the middle."},
		{"Bảo Châu Nguyễn", "Bridge: wants the hands wider than the others have them. Left so on purpose until the shoulders open."},
		{"Wren Ashdown", "Happy to lead the warm-up while the wrists rest. Keep a job ready so that nobody stands aside."},
		{"Oisín Ó Faoláin", "Counts aloud to keep the roll slow. Let him."},
	}
}

// addChildNotes writes the notes as each child's teacher, who also puts one mark right.
func (h *house) addChildNotes(ctx context.Context) error {
	for _, n := range childNotes() {
		if err := h.use.WriteNote(ctx, h.teacherOf(n.child), h.children[n.child], n.note); err != nil {
			return err
		}
	}
	const child = "Amara Okonjo"
	view, err := h.use.MarksOfChild(ctx, h.teacherOf(child), h.children[child], "", uuid.Nil)
	if err != nil {
		return err
	}
	i := slices.IndexFunc(view.Marks, func(m app.MarkLine) bool { return m.Outcome == studio.Clean })
	if i < 0 {
		return nil
	}
	wrong := view.Marks[i]
	return h.use.WriteMark(ctx, h.teacherOf(child), app.NewMark{Child: h.children[child], Side: wrong.Side, Outcome: studio.Supported, Faults: wrong.Keys,
		Replaces: wrong.ID, Why: "A hand was still on her hips; noted as clean at first."})
}
