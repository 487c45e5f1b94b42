package app

import (
	"fmt"
	"slices"
	"strings"

	"github.com/google/uuid"
	"rungbook/internal/engine/lesson"
	"rungbook/internal/postgres"
	"rungbook/internal/studio"
)

// withoutEach says for each person of a plan what cannot run as planned when that person stays away, and who misses it. found are the
// breaches of the plan as it is, which are nobody's absence.
func (e *evening) withoutEach(plan studio.Plan, s LessonSheet, found []lesson.Breach) []string {
	var sentences []string
	for _, p := range s.Staff {
		if p.Present && serves(plan, p.ID) {
			sentences = append(sentences, e.without(plan, p, s, found))
		}
	}
	return sentences
}

func serves(plan studio.Plan, person uuid.UUID) bool {
	return slices.ContainsFunc(plan.Cells, func(c studio.PlanCell) bool {
		return slices.ContainsFunc(c.Staff, func(x studio.PlanStaff) bool { return x.StaffID == person })
	})
}

func (e *evening) without(plan studio.Plan, person SheetStaff, s LessonSheet, found []lesson.Breach) string {
	less := *e
	less.Staff = slices.DeleteFunc(slices.Clone(e.Staff), func(x postgres.EveningStaff) bool { return x.ID == person.ID })
	missing := plan
	missing.Cells = slices.Clone(plan.Cells)
	for i, c := range missing.Cells {
		missing.Cells[i].Staff = slices.DeleteFunc(slices.Clone(c.Staff), func(x studio.PlanStaff) bool { return x.StaffID == person.ID })
	}
	var stopped []string
	misses, short := map[uuid.UUID]bool{}, false
	breaches := lesson.Check(less.input(&missing), enginePlan(missing))
	for _, b := range breaches {
		short = short || b.Rule == lesson.RuleSupervision && !hasRule(found, b)
	}
	for _, c := range missing.Cells {
		if !slices.ContainsFunc(breaches, func(b lesson.Breach) bool {
			return b.Rotation == c.Rotation && b.Group == c.GroupNo && !hasRule(found, b)
		}) {
			continue
		}
		stopped = append(stopped, fmt.Sprintf("%s in rotation %d", e.ladder[c.LadderKey].Name, c.Rotation))
		for _, child := range s.Children {
			if child.Present && child.Group == c.GroupNo {
				misses[child.ID] = true
			}
		}
	}
	return lossWords(person.Name, stopped, len(misses), short)
}

// hasRule reports whether the same rule was broken in the same place already.
func hasRule(found []lesson.Breach, b lesson.Breach) bool {
	return slices.ContainsFunc(found, func(x lesson.Breach) bool {
		return x.Rule == b.Rule && x.Rotation == b.Rotation && x.Group == b.Group && x.ChildID == b.ChildID
	})
}

func lossWords(name string, stopped []string, children int, short bool) string {
	var parts []string
	if short {
		parts = append(parts, "the room is short of adults")
	}
	if n := len(stopped); n > 0 {
		who, what := fmt.Sprintf("%d children miss", children), "something"
		if children == 1 {
			who = "1 child misses"
		}
		if n == 1 {
			what = "it"
		} else {
			stopped = append(stopped[:n-2], stopped[n-2]+" and "+stopped[n-1])
		}
		parts = append(parts, fmt.Sprintf("%s cannot run as planned, and %s %s", strings.Join(stopped, ", "), who, what))
	}
	if len(parts) == 0 {
		parts = []string{"everything can still run"}
	}
	return "Without " + name + ": " + strings.Join(parts, "; ") + "."
}
