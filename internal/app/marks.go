package app

import (
	"cmp"
	"context"
	"math"
	"slices"
	"time"

	"github.com/google/uuid"
	"rungbook/internal/engine/load"
	"rungbook/internal/postgres"
	"rungbook/internal/studio"
)

// MarkLine is a mark in force, in words.
type MarkLine struct {
	ID       uuid.UUID
	RungKey  string
	Rung     string
	Ladder   string
	SeenAt   time.Time
	LessonID uuid.UUID // uuid.Nil outside of a lesson
	Side     studio.Side
	Outcome  studio.Outcome
	Faults   []string // their names
	Keys     []string // their keys
	Hurts    bool     // one of the faults can hurt
	By       string
	Corrects bool // it stands for an earlier mark
}

// WeekRate is the share of clean marks in a week; NaN in a week without marks.
type WeekRate struct {
	Monday time.Time
	Clean  float64
	Marks  int
}

// FaultCount is how often a fault was seen lately.
type FaultCount struct {
	Name, Rung string
	Safety     bool
	Times      int
}

// MarkForm is what a mark is written from. Rung is nil until one is chosen; Replaces is nil for a new mark.
type MarkForm struct {
	Ladders  []studio.Ladder
	Rung     *studio.Rung
	Lessons  []LessonLine // begun, of classes that the actor takes, latest first
	Replaces *MarkLine
}

// MarksView is a child's marks over time.
type MarksView struct {
	ChildHead
	Today  time.Time
	Marks  []MarkLine // latest first
	Weeks  []WeekRate // oldest first
	Faults []FaultCount
	Form   MarkForm
}

// NewMark is a mark to write. Lesson is uuid.Nil outside of a lesson, Replaces uuid.Nil for no correction; a correction says Why.
type NewMark struct {
	Child    uuid.UUID
	Rung     string
	Lesson   uuid.UUID
	Side     studio.Side
	Outcome  studio.Outcome
	Faults   []string
	Replaces uuid.UUID
	Why      string
}

const (
	lately      = 6 * 7 // days in which faults still count as seen lately
	weeksShown  = 8
	lessonsBack = 12
)

// MarksOfChild shows a child's marks, with the form for a mark of a rung ("" to choose one) or for the correction of a mark.
func (a *App) MarksOfChild(ctx context.Context, actor studio.Actor, child uuid.UUID, rung string, replaces uuid.UUID) (MarksView, error) {
	var view MarksView
	err := a.db.InTx(ctx, actor, func(t *postgres.Tx) error {
		page, err := t.ChildPage(ctx, child)
		if err != nil {
			return err
		}
		if view.ChildHead, err = a.headFor(ctx, t, studio.MarkChild, page.ChildFacts); err != nil {
			return err
		}
		library, err := laddersOf(page.Library, t)
		if err != nil {
			return err
		}
		view.Today = t.Today
		view.Marks = library.markLines(page.Marks)
		view.Weeks = weekRates(page.Marks, t.Today)
		view.Faults = library.faultCounts(page.Marks, t.Today)
		view.Form, err = markForm(library, view.Marks, rung, replaces)
		view.Form.Lessons = begun(page.Lessons, page.Classes)
		return err
	})
	return view, err
}

func markForm(library *ladders, marks []MarkLine, rung string, replaces uuid.UUID) (MarkForm, error) {
	form := MarkForm{Ladders: library.Ladders}
	if replaces != uuid.Nil {
		i := slices.IndexFunc(marks, func(m MarkLine) bool { return m.ID == replaces })
		if i < 0 {
			return form, studio.Missing()
		}
		form.Replaces, rung = &marks[i], marks[i].RungKey
	}
	if rung != "" {
		r, ok := library.rungs[rung]
		if !ok {
			return form, studio.Missing()
		}
		form.Rung = &r
	}
	return form, nil
}

// lessonsToMark lists the last lessons that have begun, of the child's classes that the actor takes.
func lessonsToMark(ctx context.Context, t *postgres.Tx, child uuid.UUID) ([]LessonLine, error) {
	classes, err := t.ClassesOfChild(ctx, child)
	if err != nil {
		return nil, err
	}
	lines, err := t.LessonLines(ctx, t.Now.AddDate(0, -3, 0), t.Now)
	return begun(lines, classes), err
}

// begun are the latest lessons of some classes, out of those that have begun.
func begun(lines []postgres.LessonLine, classes []uuid.UUID) []LessonLine {
	var lessons []LessonLine
	for _, l := range slices.Backward(lines) {
		if l.CancelledAt == nil && slices.Contains(classes, l.ClassID) && len(lessons) < lessonsBack {
			lessons = append(lessons, lessonLine(l))
		}
	}
	return lessons
}

// markLines puts marks into words, latest first.
func (l *ladders) markLines(marks []postgres.SeenMark) []MarkLine {
	lines := make([]MarkLine, 0, len(marks))
	for _, m := range marks {
		rung := l.rungs[m.RungKey]
		line := MarkLine{ID: m.ID, RungKey: m.RungKey, Rung: rung.Name, Ladder: l.ladder[l.of[m.RungKey]].Name, SeenAt: m.MarkedAt, Side: m.Side,
			Outcome: m.Outcome, Keys: m.Faults, Hurts: m.SafetyFault, By: m.MarkedByName, Corrects: m.Replaces != nil}
		if m.LessonID != nil {
			line.LessonID = *m.LessonID
		}
		for _, f := range rung.Faults {
			if slices.Contains(m.Faults, f.Key) {
				line.Faults = append(line.Faults, f.Name)
			}
		}
		lines = append(lines, line)
	}
	slices.SortStableFunc(lines, func(x, y MarkLine) int { return y.SeenAt.Compare(x.SeenAt) })
	return lines
}

// weekRates is the clean share of each of the last weeks.
func weekRates(marks []postgres.SeenMark, today time.Time) []WeekRate {
	this := mondayOf(today)
	weeks := make([]WeekRate, weeksShown)
	for i := range weeks {
		weeks[i].Monday = this.AddDate(0, 0, -7*(weeksShown-1-i))
		clean := 0
		for _, m := range marks {
			if mondayOf(m.MarkedAt).Equal(weeks[i].Monday) {
				weeks[i].Marks++
				if m.Outcome == studio.Clean {
					clean++
				}
			}
		}
		weeks[i].Clean = math.NaN()
		if weeks[i].Marks > 0 {
			weeks[i].Clean = float64(clean) / float64(weeks[i].Marks)
		}
	}
	return weeks
}

// mondayOf is the Monday of a day's week, at midnight UTC.
func mondayOf(day time.Time) time.Time { return load.WeekOf(nil, day).Monday }

// faultCounts counts the faults seen lately, those that can hurt first, then the most seen.
func (l *ladders) faultCounts(marks []postgres.SeenMark, today time.Time) []FaultCount {
	times := faultTimes(marks, today)
	var counts []FaultCount
	for _, ladder := range l.Ladders {
		for _, r := range ladder.Rungs {
			for _, f := range r.Faults {
				if n := times[faultKey(r.Key, f.Key)]; n > 0 {
					counts = append(counts, FaultCount{Name: f.Name, Rung: r.Name, Safety: f.Safety, Times: n})
				}
			}
		}
	}
	slices.SortStableFunc(counts, func(x, y FaultCount) int {
		if x.Safety != y.Safety {
			if x.Safety {
				return -1
			}
			return 1
		}
		return cmp.Compare(y.Times, x.Times)
	})
	return counts
}

func faultKey(rung, fault string) string { return rung + "/" + fault }

// faultTimes counts how often each fault of each rung was seen lately.
func faultTimes(marks []postgres.SeenMark, today time.Time) map[string]int {
	times := map[string]int{}
	since := today.AddDate(0, 0, -lately)
	for _, m := range marks {
		if m.MarkedAt.Before(since) {
			continue
		}
		for _, f := range m.Faults {
			times[faultKey(m.RungKey, f)]++
		}
	}
	return times
}
