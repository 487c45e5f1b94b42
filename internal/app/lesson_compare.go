package app

import (
	"context"
	"slices"
	"time"

	"github.com/google/uuid"
	"rungbook/internal/engine/lesson"
	"rungbook/internal/postgres"
	"rungbook/internal/studio"
)

// Comparison is the plan of a lesson beside the one before its last change or, when there is none, the last plan of the class.
type Comparison struct {
	Lesson   studio.Lesson // times are in the class's time zone
	Class    studio.Class
	Is       ComparedPlan
	Was      *ComparedPlan // nil when there is nothing to compare with
	WasOf    *time.Time    // the day of the lesson that Was is of, nil when it is of this lesson
	Children []ComparedChild
}

// ComparedPlan is what a plan comes to.
type ComparedPlan struct {
	Worth     float64
	Words     string        // how good it is
	Broken    int           // rules broken; -1 for another evening's plan, which other people were there for
	MeanWait  time.Duration // of a child, over all rotations
	Children  int
	WorkTotal time.Duration // working time of all rotations
}

// ComparedChild is what two plans give a child.
type ComparedChild struct {
	ID         uuid.UUID
	Name       string
	Was, Is    ComparedWork
	OtherGroup bool // with other children than before, whatever the number of the group
}

// ComparedWork is what a plan gives a child. Group is 0 when it is in none.
type ComparedWork struct {
	Group      int
	Activities []string // names, by rotation
	Turns      int
	Wait       time.Duration
}

// ComparePlan sets the plan of a lesson beside the one before; studio.Missing when there is no plan.
func (a *App) ComparePlan(ctx context.Context, actor studio.Actor, id uuid.UUID) (Comparison, error) {
	var c Comparison
	err := a.db.InTx(ctx, actor, func(t *postgres.Tx) error {
		if err := a.may(ctx, t, studio.SeeLesson, Target{Lesson: id}); err != nil {
			return err
		}
		e, plan, err := readEvening(ctx, t, id)
		if err != nil {
			return err
		}
		if plan == nil {
			return studio.Missing()
		}
		before, err := t.PlanUndo(ctx, plan.ID)
		if err != nil {
			return err
		}
		c = e.compare(*plan, before)
		return nil
	})
	return c, err
}

// compare sets a plan beside the one before its last change, or beside the last plan of the class when that is nil.
func (e *evening) compare(is studio.Plan, before *studio.Plan) Comparison {
	c := Comparison{Lesson: e.Lesson, Class: e.Class, Is: e.compared(is)}
	c.Lesson.StartsAt = e.Lesson.StartsAt.In(e.zone())
	var was studio.Plan
	switch {
	case before != nil:
		was = e.stillHere(e.stillKnown(*before))
		sums := e.compared(was)
		c.Was = &sums
	case e.last != nil:
		was = e.stillKnown(e.last.Plan)
		sums := comparedSums(was)
		c.Was, c.WasOf = &sums, &e.last.day
	default:
		return c
	}
	now := sameGroups(was, is)
	for _, child := range e.Children {
		one := ComparedChild{ID: child.ID, Name: child.ShortName(), Was: e.workOf(was, child.ID), Is: e.workOf(is, child.ID)}
		one.OtherGroup = now[one.Was.Group] != one.Is.Group
		if one.Was.Group > 0 || one.Is.Group > 0 {
			c.Children = append(c.Children, one)
		}
	}
	return c
}

// compared sums a plan of this evening and counts the rules that it breaks with who is here now.
func (e *evening) compared(p studio.Plan) ComparedPlan {
	sums := comparedSums(p)
	sums.Broken = len(lesson.Check(e.input(&p), enginePlan(p)))
	return sums
}

func comparedSums(p studio.Plan) ComparedPlan {
	sums := ComparedPlan{Worth: p.Worth, Words: goodness(p), Broken: -1, Children: len(p.Members), WorkTotal: time.Duration(p.Rotations*p.WorkSeconds) * time.Second}
	for _, m := range p.Members {
		sums.MeanWait += waitIn(p, m.ChildID) / time.Duration(len(p.Members))
	}
	return sums
}

// waitIn is how long a plan lets a child wait, over all rotations.
func waitIn(p studio.Plan, child uuid.UUID) time.Duration {
	share := 0.0
	for _, x := range p.Entries {
		if x.ChildID == child {
			share += x.WaitShare
		}
	}
	return time.Duration(share * float64(p.WorkSeconds) * float64(time.Second))
}

func (e *evening) workOf(p studio.Plan, child uuid.UUID) ComparedWork {
	work := ComparedWork{Group: p.GroupOf(child), Wait: waitIn(p, child)}
	for r := 1; r <= p.Rotations; r++ {
		if entry := p.Entry(r, child); entry != nil {
			work.Activities = append(work.Activities, e.activity(activityOf(*entry)).Name)
			work.Turns += entry.Turns
		}
	}
	return work
}

// SameWork reports whether two plans give a child the same activities in the same order.
func (c ComparedChild) SameWork() bool { return slices.Equal(c.Was.Activities, c.Is.Activities) }
