package app

import (
	"cmp"
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

// ClassChild is a row of a class: where one child is on each ladder shown.
type ClassChild struct {
	ID      uuid.UUID
	Name    string
	Age     int
	Limits  []string // what not to do for now
	Ladders []LadderStand
	Secure  int // rungs done, over all ladders
	Recheck int
}

// LadderSpread is how the children of a class stand on one ladder: for each rung the children whose next rung it is.
type LadderSpread struct {
	Key, Name string
	Rungs     []SpreadRung // without the rungs that are nobody's next
}

// SpreadRung counts children at a rung; Names are theirs.
type SpreadRung struct {
	Name  string
	Names []string
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

// ClassView is a class with its children and lessons.
type ClassView struct {
	ClassLine
	Focused  bool // only the ladders that the term leans on are shown
	Ladders  []LadderSpread
	Children []ClassChild
	Next     []LessonLine // soonest first
	Past     []LessonLine // latest first
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

// ClassOf shows a class: its children on its focus ladders, or on all; byReadiness puts those with most rungs done first, else names.
func (a *App) ClassOf(ctx context.Context, actor studio.Actor, class uuid.UUID, all, byReadiness bool) (ClassView, error) {
	var view ClassView
	err := a.db.InTx(ctx, actor, func(t *postgres.Tx) error {
		if err := a.may(ctx, t, studio.SeeClass, Target{Class: class}); err != nil {
			return err
		}
		card, err := t.ClassCard(ctx, class)
		if err != nil {
			return err
		}
		view.ClassLine = classLine(card, t.Today)
		lessons, err := t.LessonLinesOf(ctx, class)
		if err != nil {
			return err
		}
		view.Next, view.Past = splitLessons(lessons, t.Now)
		pupils, err := t.PupilsOf(ctx, class)
		if err != nil {
			return err
		}
		focus := card.Focus
		if all {
			focus = nil
		}
		view.Focused = len(focus) > 0
		view.Children, err = classChildren(ctx, t, pupils, focus)
		return err
	})
	if err != nil {
		return view, err
	}
	view.Ladders = spread(view.Children)
	if byReadiness {
		slices.SortStableFunc(view.Children, func(x, y ClassChild) int { return cmp.Compare(y.Secure, x.Secure) })
	}
	return view, nil
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

// classChildren stands the children on the ladders from one read of their marks; focus nil takes all ladders.
func classChildren(ctx context.Context, t *postgres.Tx, pupils []postgres.Pupil, focus []string) ([]ClassChild, error) {
	ids := idsOf(pupils)
	library, err := readLadders(ctx, t)
	if err != nil {
		return nil, err
	}
	boards, err := library.boards(ctx, t, ids)
	if err != nil {
		return nil, err
	}
	limits, err := limitsInForce(ctx, t, ids)
	if err != nil {
		return nil, err
	}
	var children []ClassChild
	for _, p := range pupils {
		child := ClassChild{ID: p.ID, Name: p.FullName(), Age: studio.AgeOn(p.BirthDate, t.Today), Limits: actions(limits[p.ID])}
		for _, stand := range library.stands(boards[p.ID]) {
			child.Secure += stand.Secure()
			child.Recheck += stand.count("recheck")
			if focus == nil || slices.Contains(focus, stand.Key) {
				child.Ladders = append(child.Ladders, stand)
			}
		}
		children = append(children, child)
	}
	return children, nil
}

// limitsInForce are the care limits of children that hold today.
func limitsInForce(ctx context.Context, t *postgres.Tx, children []uuid.UUID) (map[uuid.UUID][]studio.CareLimit, error) {
	kept, err := t.CareLimitsOf(ctx, children)
	if err != nil {
		return nil, err
	}
	limits := map[uuid.UUID][]studio.CareLimit{}
	for _, l := range kept {
		if l.HoldsOn(t.Today) {
			limits[l.ChildID] = append(limits[l.ChildID], l.CareLimit)
		}
	}
	return limits, nil
}

func actions(limits []studio.CareLimit) []string {
	var out []string
	for _, l := range limits {
		out = append(out, l.Action)
	}
	return out
}

// spread turns the children's ladders round: for each ladder, who is at which rung.
func spread(children []ClassChild) []LadderSpread {
	if len(children) == 0 {
		return nil
	}
	var all []LadderSpread
	for i, ladder := range children[0].Ladders {
		s := LadderSpread{Key: ladder.Key, Name: ladder.Name}
		for _, r := range ladder.Rungs {
			s.add(r.Name, children, func(c ClassChild) bool { n := c.Ladders[i].Next(); return n != nil && n.Key == r.Key })
		}
		s.add("Every rung done", children, func(c ClassChild) bool {
			return c.Ladders[i].Next() == nil && c.Ladders[i].Secure() == len(ladder.Rungs)
		})
		s.add("Waiting for other ladders", children, func(c ClassChild) bool {
			return c.Ladders[i].Next() == nil && c.Ladders[i].Secure() < len(ladder.Rungs)
		})
		all = append(all, s)
	}
	return all
}

func (s *LadderSpread) add(name string, children []ClassChild, at func(ClassChild) bool) {
	rung := SpreadRung{Name: name}
	for _, c := range children {
		if at(c) {
			rung.Names = append(rung.Names, c.Name)
		}
	}
	if len(rung.Names) > 0 {
		s.Rungs = append(s.Rungs, rung)
	}
}
