package demo

import (
	"context"
	"fmt"

	"rungbook/internal/studio"
)

// answer is what a parent said to a question about a child.
type answer struct {
	child, by string
	purpose   studio.Purpose
	yes       bool
}

const ifeomaEmail, danielEmail, corinEmail = "ifeoma.okonjo@post.example", "daniel.marsh@post.example", "corin.ashdown@post.example"

// answers has what there is to see: a change of mind, two guardians of two minds, and families who have not answered.
func answers() []answer {
	return []answer{
		{"Elowen Pascoe", elspethEmail, studio.Photos, false}, {"Elowen Pascoe", elspethEmail, studio.Photos, true},
		{"Elowen Pascoe", elspethEmail, studio.AdultDrills, true}, {"Elowen Pascoe", elspethEmail, studio.Letters, true},
		{"Jago Pascoe", elspethEmail, studio.Photos, false},
		{"Amara Okonjo", ifeomaEmail, studio.Photos, true}, {"Amara Okonjo", danielEmail, studio.Photos, false}, {"Amara Okonjo", ifeomaEmail, studio.Letters, true},
		{"Wren Ashdown", corinEmail, studio.AdultDrills, true},
	}
}

// addSay has parents answer, one of them ask for erasure, and a teacher read why a care limit was set.
func (h *house) addSay(ctx context.Context) error {
	for _, a := range answers() {
		if err := h.use.AnswerConsent(ctx, h.as(a.by, studio.ParentRole), h.children[a.child], a.purpose, a.yes); err != nil {
			return fmt.Errorf("answer for %s: %w", a.child, err)
		}
	}
	const child = "Wren Ashdown"
	if err := h.use.AskErasure(ctx, h.as(corinEmail, studio.ParentRole), h.children[child], "We are moving away when the term is over. Please erase it then, not before."); err != nil {
		return err
	}
	return h.readReasons(ctx, child)
}

func (h *house) readReasons(ctx context.Context, child string) error {
	care, err := h.use.CareOf(ctx, h.teacherOf(child), h.children[child])
	if err != nil {
		return err
	}
	for _, l := range care.Limits {
		if _, err := h.use.LimitReason(ctx, h.teacherOf(child), h.children[child], l.ID); err != nil {
			return err
		}
	}
	return nil
}
