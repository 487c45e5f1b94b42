package app

import (
	"context"
	"slices"
	"time"

	"github.com/google/uuid"
	"rungbook/internal/postgres"
	"rungbook/internal/studio"
)

// CalendarChange says what MakeLessons did.
type CalendarChange struct {
	Made    int         // lessons written
	Removed int         // lessons ahead taken out, since they are off the calendar and nothing hangs on them
	Kept    []time.Time // lessons ahead that are off the calendar but hold a plan, marks, attendance or a note
}

// MakeLessons brings the lessons of a class in line with its term: one on each of its weekdays, none on a holiday, at its wall time
// whatever the clocks do. Asked again, it changes nothing; after a change of the class or the term it moves what still lies ahead.
func (a *App) MakeLessons(ctx context.Context, actor studio.Actor, class uuid.UUID) (CalendarChange, error) {
	var change CalendarChange
	err := a.within(ctx, actor, studio.KeepClasses, func(t *postgres.Tx) error {
		c, err := t.Class(ctx, class)
		if err != nil {
			return err
		}
		wanted, err := calendar(ctx, t, c)
		if err != nil {
			return err
		}
		if change, err = bringInLine(ctx, t, c, wanted); err != nil {
			return err
		}
		return t.Audit(ctx, "made the lessons", "class "+class.String(), map[string]any{"made": change.Made, "removed": change.Removed})
	})
	return change, err
}

// calendar is the moments at which a class should meet.
func calendar(ctx context.Context, t *postgres.Tx, c studio.Class) ([]time.Time, error) {
	term, err := t.Term(ctx, c.TermID)
	if err != nil {
		return nil, err
	}
	holidays, err := t.Holidays(ctx, c.TermID)
	if err != nil {
		return nil, err
	}
	var starts []time.Time
	for _, day := range lessonDays(c.Weekday, term, holidays) {
		start, err := c.StartOn(day)
		if err != nil {
			return nil, err
		}
		starts = append(starts, start)
	}
	return starts, nil
}

// lessonDays are the days of a term that fall on a weekday and on no holiday.
func lessonDays(weekday time.Weekday, term studio.Term, holidays []studio.Holiday) []time.Time {
	var days []time.Time
	first := term.StartsOn.AddDate(0, 0, (int(weekday)-int(term.StartsOn.Weekday())+7)%7)
	for day := first; !day.After(term.EndsOn); day = day.AddDate(0, 0, 7) {
		if !slices.ContainsFunc(holidays, func(h studio.Holiday) bool { return h.Covers(day) }) {
			days = append(days, day)
		}
	}
	return days
}

func bringInLine(ctx context.Context, t *postgres.Tx, c studio.Class, wanted []time.Time) (CalendarChange, error) {
	var change CalendarChange
	there, err := t.CalendarOf(ctx, c.ID)
	if err != nil {
		return change, err
	}
	var stay []time.Time
	var remove []uuid.UUID
	for _, l := range there {
		fits := slices.ContainsFunc(wanted, l.StartsAt.Equal)
		switch {
		case l.StartsAt.Before(t.Now) || fits && (l.Minutes == c.Minutes || l.Touched):
			stay = append(stay, l.StartsAt)
		case l.Touched:
			change.Kept = append(change.Kept, l.StartsAt)
			stay = append(stay, l.StartsAt)
		default:
			remove = append(remove, l.ID)
		}
	}
	var lessons []studio.Lesson
	for _, start := range wanted {
		if !slices.ContainsFunc(stay, start.Equal) {
			lessons = append(lessons, studio.Lesson{ID: uuid.New(), ClassID: c.ID, StartsAt: start, Minutes: c.Minutes})
		}
	}
	change.Made, change.Removed = len(lessons), len(remove)
	if err := t.DeleteLessons(ctx, remove); err != nil {
		return change, err
	}
	return change, t.AddLessons(ctx, lessons, usualBlocks(c.Minutes))
}

// usualBlocks shares out the minutes of a lesson: arrive 3, warm-up 8, conditioning 7, cool-down 5, and the stations have the rest.
// In a lesson shorter than 38 minutes the others give way (2, 5, 3, 3), so that the stations never have less than 7 minutes of the
// 20 that a lesson has at least. Common practice, no source; each lesson's blocks can be changed.
func usualBlocks(minutes int) []studio.Block {
	arrive, warm, condition, cool := 3, 8, 7, 5
	if minutes < 38 {
		arrive, warm, condition, cool = 2, 5, 3, 3
	}
	return []studio.Block{
		{Position: 1, Kind: studio.ArriveBlock, Minutes: arrive},
		{Position: 2, Kind: studio.WarmUpBlock, Minutes: warm},
		{Position: 3, Kind: studio.ConditioningBlock, Minutes: condition},
		{Position: 4, Kind: studio.StationsBlock, Minutes: minutes - arrive - warm - condition - cool},
		{Position: 5, Kind: studio.CoolDownBlock, Minutes: cool},
	}
}
