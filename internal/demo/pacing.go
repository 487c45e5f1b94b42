package demo

import (
	"context"
	"fmt"

	"rungbook/internal/studio"
)

// layOutTerm proposes the term of each class, as its teacher would: what was taught in its weeks, the rest over the weeks to come.
func (h *house) layOutTerm(ctx context.Context) error {
	for _, c := range courses() {
		if _, err := h.use.ProposePacing(ctx, studio.ProgramActor(), h.classes[c.name], 0); err != nil {
			return fmt.Errorf("lay out the term of the %s: %w", c.name, err)
		}
	}
	return nil
}
