package app

import (
	"context"
	"fmt"
	"slices"
	"time"

	"github.com/google/uuid"
	"rungbook/internal/engine/cover"
	"rungbook/internal/engine/standing"
	"rungbook/internal/postgres"
	"rungbook/internal/studio"
)

// TodayLesson is a lesson with how its plan and its cover stand.
type TodayLesson struct {
	LessonLine
	Children int
	Cover    string // adults free of spotting against those needed, in words
	Short    bool   // adults are missing
	Away     []string
}

// Attention is one thing to see to: about a child's care, about a lesson, or, when both are uuid.Nil, about sign-offs.
type Attention struct {
	Text          string
	Child, Lesson uuid.UUID
	Urgent        bool
}

// RecheckLine is a child with rungs to look at again.
type RecheckLine struct {
	ID    uuid.UUID
	Name  string
	Rungs []string
}

// StaffToday is the day of somebody who takes classes, or owns the studio. Lessons are today's; Next are those of the next days.
type StaffToday struct {
	Attention []Attention
	Lessons   []TodayLesson
	Next      []LessonLine
	Rechecks  []RecheckLine // children of today's lessons, or of the next one
	Cover     string        // how the cover of the next days stands, in a sentence; "" without lessons
}

// AssistantToday is the day of somebody who helps: the lessons on now, or else when the next one is.
type AssistantToday struct {
	Now  []LessonLine
	Next *LessonLine
}

// TodayView is the first page after signing in; a part is nil for whoever does not hold the role.
type TodayView struct {
	Day       time.Time
	Staff     *StaffToday
	Owner     bool
	Assistant *AssistantToday
	Family    []FamilyChild
	Parent    bool
}

// daysAhead is how far the first page looks.
const daysAhead = 7

// TodayOf is the first page, with each part that the actor's roles need.
func (a *App) TodayOf(ctx context.Context, actor studio.Actor) (TodayView, error) {
	var view TodayView
	err := a.db.InTx(ctx, actor, func(t *postgres.Tx) error {
		if err := a.may(ctx, t, studio.SeeToday, Target{}); err != nil {
			return err
		}
		view.Day, view.Owner, view.Parent = t.Today, t.Scope.Owner, actor.Is(studio.ParentRole)
		var err error
		if a.policy.Offers(actor, studio.SeeClass) {
			if view.Staff, err = staffToday(ctx, t); err != nil {
				return err
			}
		}
		if actor.Is(studio.AssistantRole) {
			if view.Assistant, err = assistantToday(ctx, t); err != nil {
				return err
			}
		}
		return nil
	})
	if err == nil && view.Parent {
		view.Family, err = a.Family(ctx, actor)
	}
	return view, err
}

func staffToday(ctx context.Context, t *postgres.Tx) (*StaffToday, error) {
	rows, err := t.LessonLines(ctx, t.Now.Add(-24*time.Hour), t.Now.AddDate(0, 0, daysAhead))
	if err != nil {
		return nil, err
	}
	var day StaffToday
	var nextClass uuid.UUID
	classes := map[uuid.UUID]bool{}
	for _, row := range rows {
		switch {
		case row.CancelledAt != nil:
		case t.DayOf(row.StartsAt).Equal(t.Today):
			lesson, err := todayLesson(ctx, t, row)
			if err != nil {
				return nil, err
			}
			day.Lessons = append(day.Lessons, lesson)
			classes[row.ClassID] = true
		case row.StartsAt.After(t.Now):
			day.Next = append(day.Next, lessonLine(row))
			if nextClass == uuid.Nil {
				nextClass = row.ClassID
			}
		}
	}
	if len(classes) == 0 && nextClass != uuid.Nil {
		classes[nextClass] = true
	}
	if day.Rechecks, err = rechecks(ctx, t, classes); err != nil {
		return nil, err
	}
	if day.Attention, err = attention(ctx, t, day); err != nil {
		return nil, err
	}
	day.Cover, err = coverWords(ctx, t)
	return &day, err
}

func todayLesson(ctx context.Context, t *postgres.Tx, row postgres.LessonLine) (TodayLesson, error) {
	lesson := TodayLesson{LessonLine: lessonLine(row)}
	e, err := t.Evening(ctx, row.ID)
	if err != nil {
		return lesson, err
	}
	var room cover.Room
	for _, c := range e.Children {
		if c.Present == nil || *c.Present {
			room.Ages = append(room.Ages, studio.AgeOn(c.BirthDate, t.Today))
		}
	}
	for _, s := range e.Staff {
		switch {
		case s.Present != nil && !*s.Present:
			lesson.Away = append(lesson.Away, s.Name)
		case !s.Trainee && studio.AgeOn(s.BirthDate, t.Today) >= cover.AdultAge:
			room.Adults++
		}
	}
	verdict := cover.Check(room, ratios(t.Settings.Cover))
	lesson.Children, lesson.Cover, lesson.Short = len(room.Ages), verdict.Reason, !verdict.Enough
	return lesson, nil
}

// rechecks lists the children of classes that have rungs to look at again.
func rechecks(ctx context.Context, t *postgres.Tx, classes map[uuid.UUID]bool) ([]RecheckLine, error) {
	var pupils []postgres.Pupil
	for class := range classes {
		more, err := t.PupilsOf(ctx, class)
		if err != nil {
			return nil, err
		}
		for _, p := range more {
			if !slices.ContainsFunc(pupils, func(q postgres.Pupil) bool { return q.ID == p.ID }) {
				pupils = append(pupils, p)
			}
		}
	}
	var ids []uuid.UUID
	for _, p := range pupils {
		ids = append(ids, p.ID)
	}
	library, err := readLadders(ctx, t)
	if err != nil {
		return nil, err
	}
	boards, err := library.boards(ctx, t, ids)
	var lines []RecheckLine
	for _, p := range pupils {
		line := RecheckLine{ID: p.ID, Name: p.FullName()}
		for _, ladder := range library.Ladders {
			for _, r := range ladder.Rungs {
				if s, _ := boards[p.ID].On(r.Key); s.State == standing.Recheck {
					line.Rungs = append(line.Rungs, r.Name)
				}
			}
		}
		if len(line.Rungs) > 0 {
			lines = append(lines, line)
		}
	}
	slices.SortFunc(lines, func(x, y RecheckLine) int { return len(y.Rungs) - len(x.Rungs) })
	return lines, err
}

// attention lists what waits to be seen to, the most pressing first.
func attention(ctx context.Context, t *postgres.Tx, day StaffToday) ([]Attention, error) {
	all, err := careAttention(ctx, t)
	if err != nil {
		return nil, err
	}
	for _, l := range day.Lessons {
		if l.Short {
			all = append(all, Attention{Text: l.Class + " today: " + l.Cover, Lesson: l.ID, Urgent: true})
		}
		if len(l.Away) > 0 {
			all = append(all, Attention{Text: l.Class + " today without " + listOf(l.Away) + ": look at the plan again.", Lesson: l.ID})
		}
	}
	if !t.Scope.Owner {
		return all, nil
	}
	for _, l := range day.Next {
		if !l.Planned {
			all = append(all, Attention{Text: l.Class + " on " + l.StartsAt.Format("Monday 2 January") + " has no plan yet.", Lesson: l.ID})
		}
	}
	more, err := signOffAttention(ctx, t)
	return append(all, more...), err
}

// careAttention lists reports of soreness that nobody has looked at, then care limits whose review has come.
func careAttention(ctx context.Context, t *postgres.Tx) ([]Attention, error) {
	due, err := t.LimitsDue(ctx)
	var all []Attention
	for _, l := range due {
		name := l.GivenName + " " + l.FamilyName
		text := name + ": the care limit “" + l.Action + "” is due a review."
		if l.Reported {
			text = name + " was reported sore on " + t.DayOf(l.SetAt).Format("2 January") + ". " + l.Action + "."
			if Urgent(l.Place, l.Signs) {
				text += " The family ticked a sign that calls for emergency services: ring them now."
			}
		}
		all = append(all, Attention{Text: text, Child: l.ChildID, Urgent: l.Reported})
	}
	return all, err
}

func signOffAttention(ctx context.Context, t *postgres.Tx) ([]Attention, error) {
	signOffs, err := t.SignOffs(ctx)
	if err != nil {
		return nil, err
	}
	names := map[string]string{}
	for _, s := range signOffs {
		names[s.StaffID.String()] = s.StaffName
	}
	over, soon := map[string]int{}, map[string]int{}
	for _, e := range ending(signOffs, t.Today) {
		if e.DaysLeft < 0 {
			over[e.Person]++
		} else {
			soon[e.Person]++
		}
	}
	var all []Attention
	for _, id := range sortedByName(names) {
		if n := over[id]; n > 0 {
			all = append(all, Attention{Text: fmt.Sprintf("%s: %s expired.", names[id], countOf(n, "sign-off"))})
		}
		if n := soon[id]; n > 0 {
			all = append(all, Attention{Text: fmt.Sprintf("%s: %s will expire within %d days.", names[id], countOf(n, "sign-off"), SoonDays)})
		}
	}
	return all, nil
}

func sortedByName(names map[string]string) []string {
	var ids []string
	for id := range names {
		ids = append(ids, id)
	}
	slices.SortFunc(ids, func(x, y string) int {
		if names[x] != names[y] && names[x] < names[y] || names[x] == names[y] && x < y {
			return -1
		}
		return 1
	})
	return ids
}

func assistantToday(ctx context.Context, t *postgres.Tx) (*AssistantToday, error) {
	var day AssistantToday
	rows, err := t.LessonsHelped(ctx)
	if err != nil {
		return nil, err
	}
	for _, l := range rows {
		day.Now = append(day.Now, lessonLine(l))
	}
	err = t.AsProgram(ctx, func() error {
		next, err := t.NextHelped(ctx, t.Actor.ID)
		if studio.CodeOf(err) == studio.NotFound {
			return nil
		}
		line := lessonLine(next)
		day.Next = &line
		return err
	})
	return &day, err
}
