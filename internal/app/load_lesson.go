package app

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"github.com/google/uuid"
	"rungbook/internal/engine/lesson"
	"rungbook/internal/engine/load"
	"rungbook/internal/postgres"
	"rungbook/internal/studio"
)

// otherLoad is what a child's week asks beside the stations of one lesson: the other lessons, done and planned, of all its classes, its
// home drills, and the drills of the lesson's own blocks.
type otherLoad struct{ lessons, home, blocks load.Load }

// sum is what stands beside the lesson.
func (o otherLoad) sum() load.Load { return o.lessons.Plus(o.home) }

// weekLoad sums what the week of an evening asks of each child beside it: classes that the actor does not take count too. Only sums leave
// this function.
func weekLoad(ctx context.Context, t *postgres.Tx, children []uuid.UUID, e *evening) (map[uuid.UUID]otherLoad, error) {
	monday := mondayOf(e.day)
	var turns []postgres.LoadTurns
	var doses []postgres.HomeDose
	err := t.AsProgram(ctx, func() error {
		var err error
		if turns, _, err = t.LoadOf(ctx, children, monday); err != nil {
			return err
		}
		doses, err = t.HomeDosesOf(ctx, children, monday)
		return err
	})
	if err != nil {
		return nil, fmt.Errorf("read the load of the week: %w", err)
	}
	sums := map[uuid.UUID]otherLoad{}
	for child, home := range homeLoad(doses, t.Settings.HomeDays) {
		sums[child] = otherLoad{home: home}
	}
	for _, x := range turns {
		here := x.LessonID != nil && *x.LessonID == e.Lesson.ID
		if here && !x.Block || !x.Day.Before(monday.AddDate(0, 0, 7)) {
			continue
		}
		one, sum := entryOf(x, load.NoSide), sums[x.ChildID]
		if here {
			sum.blocks = sum.blocks.Plus(one.Load.Times(one.Turns))
		} else {
			sum.lessons = sum.lessons.Plus(one.Load.Times(one.Turns))
		}
		sums[x.ChildID] = sum
	}
	return sums, nil
}

// caps are the studio's for the age of a child on the day.
func (e *evening) caps(c postgres.EveningChild) load.Caps {
	return capsAt(e.settings, studio.AgeOn(c.BirthDate, e.day))
}

// capsLeft is what the stations of the lesson may still ask of a child.
func (e *evening) capsLeft(c postgres.EveningChild) load.Load {
	other := e.week[c.ID]
	return load.Remaining(e.caps(c).Left(other.sum()), other.blocks)
}

// held says, a sentence for each child and rotation, where a cap of load took turns or an activity away from the plan.
func (e *evening) held(plan studio.Plan) []string {
	in := e.asPlanned(plan)
	sums, err := lesson.Evaluate(in, enginePlan(plan))
	if err != nil {
		return nil // a plan that cannot be summed has its breaches named instead
	}
	var all []string
	for _, c := range e.Children {
		child := slices.IndexFunc(in.Children, func(x lesson.Child) bool { return x.ID == c.ID.String() })
		total := slices.IndexFunc(sums.Totals, func(x lesson.Total) bool { return x.ChildID == c.ID.String() })
		if child < 0 || total < 0 {
			continue
		}
		for _, cell := range sums.Cells {
			at := slices.IndexFunc(cell.Entries, func(x lesson.Entry) bool { return x.ChildID == c.ID.String() })
			if at < 0 {
				continue
			}
			if words := e.heldAt(cell, cell.Entries[at], in.Children[child], sums.Totals[total].Load); words != "" {
				all = append(all, fmt.Sprintf("%s %s%s", c.ShortName(), words, e.weekWords(c)+e.blockWords(c)))
			}
		}
	}
	return all
}

// heldAt says what a cap took away in one cell: "rests after 3 of 7 turns at Cartwheel ...", "" when nothing.
func (e *evening) heldAt(cell lesson.Cell, entry lesson.Entry, child lesson.Child, total load.Load) string {
	doing := e.activity(activityID(entry.ActivityID))
	if over := total.Plus(doing.Load).Over(child.Caps); entry.Turns < cell.Turns && len(over) > 0 {
		return fmt.Sprintf("rests after %d of %s of %s in rotation %d: the cap for the %s is reached.", entry.Turns, countOf(cell.Turns, "turn"), doing.Name,
			cell.Rotation, load.Words(over))
	}
	others := load.Remaining(total, entry.Load)
	chosen := priorityOf(child, entry.ActivityID, cell.StationID)
	for _, o := range child.Options {
		wish := e.activity(activityID(o.ActivityID))
		if over := others.Plus(wish.Load).Over(child.Caps); o.StationID == cell.StationID && o.Priority > chosen && len(over) > 0 {
			return fmt.Sprintf("does not do %s in rotation %d: not one turn is left of the cap for the %s.", wish.Name, cell.Rotation, load.Words(over))
		}
	}
	return ""
}

func priorityOf(child lesson.Child, activity, station string) float64 {
	for _, o := range child.Options {
		if o.ActivityID == activity && o.StationID == station {
			return o.Priority
		}
	}
	return 0
}

// weekWords says what the rest of the week takes, where that is what holds a child; else "".
func (e *evening) weekWords(c postgres.EveningChild) string {
	other := e.week[c.ID]
	words := ""
	for _, k := range e.caps(c).HeldByWeek(other.sum()) {
		words += fmt.Sprintf(" Of %d a week for the %s, %d are in other lessons", e.caps(c).Week.Of(k), k, other.lessons.Of(k))
		if home := other.home.Of(k); home > 0 {
			words += fmt.Sprintf(" and %d in drills at home", home)
		}
		words += "."
	}
	return words
}

// blockWords says what the lesson's own blocks take of the caps, "" when nothing.
func (e *evening) blockWords(c postgres.EveningChild) string {
	var parts []string
	for _, k := range load.Kinds() {
		if n := e.week[c.ID].blocks.Of(k); n > 0 {
			parts = append(parts, fmt.Sprintf("%d for the %s", n, k))
		}
	}
	if len(parts) == 0 {
		return ""
	}
	return " Of what a lesson may ask, the drills of warm-up, conditioning and cool-down take " + strings.Join(parts, ", ") + "."
}
