package demo

import (
	"context"
	"fmt"

	"github.com/google/uuid"
	"rungbook/internal/app"
	"rungbook/internal/studio"
)

// practised says how many days ago a parent noted a child's drills, the first drill of the child first.
type practised struct {
	child, by string
	daysAgo   [][]int
}

func practice() []practised {
	return []practised{
		{"Elowen Pascoe", elspethEmail, [][]int{{9, 7, 6, 4, 2, 1}, {7, 4, 1}}},
		{"Jago Pascoe", elspethEmail, [][]int{{8, 3}, {3}}},
		{"Amara Okonjo", "ifeoma.okonjo@post.example", [][]int{{5, 2}, {5}}},
	}
}

// note is a message to the family of a child, or to those of a class.
type note struct{ child, class, by, words string }

func notes() []note {
	return []note{
		{class: terns, by: "Zoë Adeyemi-Hart", words: "The showcase is on the last Saturday of term. We meet at the side door a quarter of an hour before, in plain dark leggings and a top that stays tucked in. Hair tied back, no jewellery, a bottle of water.\n\nPlease tell the office if your child cannot come: the running order depends on it."},
		{child: "Elowen Pascoe", by: "Zoë Adeyemi-Hart", words: "Elowen’s cartwheels stood still at the end all lesson. At home, please, the two drills only: she is keen to kick up against the wall, and that waits for class."},
		{child: "Amara Okonjo", by: "Zoë Adeyemi-Hart", words: "Amara helped the younger ones with the mats today without being asked."},
	}
}

// addFamilies fills what families have beside the drills: a log of practice, messages, and the first released reports.
func (h *house) addFamilies(ctx context.Context) error {
	for _, p := range practice() {
		if err := h.practise(ctx, p); err != nil {
			return fmt.Errorf("note the practice of %s: %w", p.child, err)
		}
	}
	for _, n := range notes() {
		writer := h.as(staffEmail(n.by), studio.TeacherRole)
		writer.Name = n.by
		if err := h.use.WriteFamilies(ctx, writer, app.To{Child: h.children[n.child], Class: h.classes[n.class]}, n.words); err != nil {
			return fmt.Errorf("write to families: %w", err)
		}
	}
	reports := []uuid.UUID{h.children["Elowen Pascoe"], h.children["Amara Okonjo"]}
	_, err := h.use.ReleaseReports(ctx, h.teacherOf("Elowen Pascoe"), h.classes[terns], reports)
	return err
}

func (h *house) practise(ctx context.Context, p practised) error {
	parent := h.as(p.by, studio.ParentRole)
	view, err := h.use.FamilyChildOf(ctx, parent, h.children[p.child])
	if err != nil {
		return err
	}
	for i, days := range p.daysAgo {
		for _, ago := range days {
			done := app.Done{Child: h.children[p.child], Assignment: view.Drills[i].ID, Day: h.today.AddDate(0, 0, -ago)}
			if err := h.use.NotePractice(ctx, parent, done); err != nil {
				return err
			}
		}
	}
	return nil
}
