package demo

import (
	"context"
	"math/rand/v2"

	"github.com/google/uuid"
	"rungbook/internal/studio"
)

// addEffort notes how hard the past lessons were, all but one in eight: as in life, somebody forgets.
func (h *house) addEffort(ctx context.Context) error {
	meetings, err := h.pastMeetings(ctx)
	if err != nil {
		return err
	}
	rng := rand.New(rand.NewPCG(seed, 2))
	for _, m := range meetings {
		class, forgotten := 3+rng.IntN(4), rng.IntN(8) == 0
		own := map[uuid.UUID]*int{}
		for _, p := range pupils() {
			if figure := class + 2; rng.IntN(12) == 0 && p.class == m.course.name {
				own[h.children[p.fullName()]] = &figure
			}
		}
		if forgotten {
			continue
		}
		if err := h.use.NoteEffort(ctx, studio.ProgramActor(), m.lesson.ID, &class, own); err != nil {
			return err
		}
	}
	return nil
}
