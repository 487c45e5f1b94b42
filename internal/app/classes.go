package app

import (
	"context"
	"slices"
	"time"

	"github.com/google/uuid"
	"rungbook/internal/postgres"
	"rungbook/internal/studio"
)

// ClassLine is a class in a list.
type ClassLine struct {
	ID       uuid.UUID
	Name     string
	Term     string
	Over     bool // its term has ended
	When     string
	Teachers []string
	Children int
	Places   int
	NextID   uuid.UUID // uuid.Nil without a next lesson
	NextAt   time.Time
}

// LessonLine is a lesson in a list, in the class's wall time.
type LessonLine struct {
	ID              uuid.UUID
	Class           string
	StartsAt        time.Time
	EndsAt          time.Time
	Cancelled       bool
	Planned         bool
	Shared          bool // the assistants see the plan
	Present, Absent int
}

// offered refuses a list to whoever holds no grant of the action at all; the list itself holds only what is the actor's.
func (a *App) offered(t *postgres.Tx, action studio.Action) error {
	if !a.policy.Offers(t.Actor, action) {
		return studio.Missing()
	}
	return nil
}

// ClassesTaken lists the classes that the actor takes; an owner's are all.
func (a *App) ClassesTaken(ctx context.Context, actor studio.Actor) ([]ClassLine, error) {
	var lines []ClassLine
	err := a.db.InTx(ctx, actor, func(t *postgres.Tx) error {
		if err := a.offered(t, studio.SeeClass); err != nil {
			return err
		}
		cards, err := t.ClassCards(ctx)
		for _, c := range cards {
			lines = append(lines, classLine(c, t.Today))
		}
		return err
	})
	return lines, err
}

func classLine(c postgres.ClassCard, today time.Time) ClassLine {
	line := ClassLine{ID: c.ID, Name: c.Name, Term: c.TermName, Over: c.TermEndsOn.Before(today), Teachers: c.Teachers, Children: c.Children,
		Places: c.Places, When: c.Weekday.String() + " " + c.StartsAt + ", " + countOf(c.Minutes, "minute")}
	if c.NextID != nil {
		line.NextID, line.NextAt = *c.NextID, inZone(*c.NextAt, c.TimeZone)
	}
	return line
}

// inZone is a moment in a class's wall time; in UTC where this computer does not know the zone.
func inZone(moment time.Time, zone string) time.Time {
	location, err := time.LoadLocation(zone)
	if err != nil {
		return moment.UTC()
	}
	return moment.In(location)
}

func lessonLine(l postgres.LessonLine) LessonLine {
	return LessonLine{ID: l.ID, Class: l.ClassName, StartsAt: inZone(l.StartsAt, l.TimeZone), EndsAt: inZone(l.EndsAt(), l.TimeZone),
		Cancelled: l.CancelledAt != nil, Planned: l.PlanSavedAt != nil, Shared: l.PlanSharedAt != nil, Present: l.Present, Absent: l.Absent}
}

func splitLessons(lessons []postgres.LessonLine, now time.Time) (next, past []LessonLine) {
	for _, l := range lessons {
		if l.EndsAt().After(now) {
			next = append(next, lessonLine(l))
		} else {
			past = append(past, lessonLine(l))
		}
	}
	slices.Reverse(past)
	return next, past
}

// limitsInForce are the care limits of children that hold today.
func limitsInForce(ctx context.Context, t *postgres.Tx, children []uuid.UUID) (map[uuid.UUID][]studio.CareLimit, error) {
	return limitsTonight(ctx, t, children, t.Today)
}

// holding are the limits that hold on a day, by child.
func holding(kept []postgres.KeptLimit, day time.Time) map[uuid.UUID][]studio.CareLimit {
	limits := map[uuid.UUID][]studio.CareLimit{}
	for _, l := range kept {
		if l.HoldsOn(day) {
			limits[l.ChildID] = append(limits[l.ChildID], l.CareLimit)
		}
	}
	return limits
}

func actions(limits []studio.CareLimit) []string {
	var out []string
	for _, l := range limits {
		out = append(out, l.Action)
	}
	return out
}
