package app

import (
	"cmp"
	"context"
	"fmt"
	"slices"
	"time"

	"github.com/google/uuid"
	"rungbook/internal/engine/standing"
	"rungbook/internal/postgres"
	"rungbook/internal/studio"
)

// How agreement is judged. Ours; no published figures for this.
const (
	// DoubledWithin is how near in time two marks must be to be of the same turn.
	DoubledWithin = standing.SameTurn
	// FewDoubled and FewDoubledChildren are below what a kappa says too little to act on.
	FewDoubled         = 20
	FewDoubledChildren = 5
	agreementDays      = 182
	resamples          = 2000
)

// AgreementLine is how an assistant and a teacher marked the same turns.
type AgreementLine struct {
	Teacher, Assistant string
	Turns, Children    int
	Table              [3][3]int // the teacher's outcome, then the assistant's: missed, supported, clean
	Same               float64   // share of turns marked alike
	Kappa              float64   // Cohen's, with linear weights
	Low, High          float64   // its 95% interval
	Defined, Bounded   bool      // whether there is a kappa, and an interval
	Few                bool      // too few turns or children to act on
	Again              bool      // below the studio's floor: mark together again
}

// AgreementView is how markers agree, those to mark together again first.
type AgreementView struct {
	Floor float64
	Since time.Time
	Lines []AgreementLine
}

// Agreement shows how the assistants and teachers of the actor's classes (all of an owner's) agree on turns that both marked in the
// last half year.
func (a *App) Agreement(ctx context.Context, actor studio.Actor) (AgreementView, error) {
	var view AgreementView
	err := a.within(ctx, actor, studio.SeeAgreement, func(t *postgres.Tx) error {
		view.Floor, view.Since = t.Settings.Agreement, t.Today.AddDate(0, 0, -agreementDays)
		marks, err := t.DoubleMarks(ctx, view.Since)
		if err != nil {
			return fmt.Errorf("read the turns that two people marked: %w", err)
		}
		view.Lines, err = agreementLines(marks, view.Floor)
		return err
	})
	return view, err
}

// twoMarkers are a teacher and an assistant, by name so that the order of lines is that of names.
type twoMarkers struct{ teacher, assistant person }

type person struct {
	name string
	id   uuid.UUID
}

func (p person) compare(q person) int {
	return cmp.Or(cmp.Compare(p.name, q.name), cmp.Compare(p.id.String(), q.id.String()))
}

func agreementLines(marks []postgres.DoubleMark, floor float64) ([]AgreementLine, error) {
	doubles := doubledTurns(marks)
	var lines []AgreementLine
	for _, two := range sortedMarkers(doubles) {
		g, err := standing.Agree(doubles[two], resamples, 1)
		if err != nil {
			return nil, fmt.Errorf("work out how %s and %s agree: %w", two.teacher.name, two.assistant.name, err)
		}
		lines = append(lines, agreementLine(two, g, floor))
	}
	slices.SortStableFunc(lines, func(a, b AgreementLine) int { return cmp.Compare(order(a), order(b)) })
	return lines, nil
}

func order(l AgreementLine) int {
	switch {
	case l.Again:
		return 0
	case !l.Few:
		return 1
	}
	return 2
}

func sortedMarkers(doubles map[twoMarkers][]standing.Double) []twoMarkers {
	var all []twoMarkers
	for two := range doubles {
		all = append(all, two)
	}
	slices.SortFunc(all, func(a, b twoMarkers) int {
		return cmp.Or(a.assistant.compare(b.assistant), a.teacher.compare(b.teacher))
	})
	return all
}

func agreementLine(two twoMarkers, g standing.Agreement, floor float64) AgreementLine {
	l := AgreementLine{Teacher: two.teacher.name, Assistant: two.assistant.name, Turns: g.Turns, Children: g.Children, Same: g.Same,
		Kappa: g.Kappa, Low: g.Low, High: g.High, Defined: g.Defined, Bounded: g.Bounded}
	for i, row := range g.Table {
		for j, n := range row {
			l.Table[i][j] = int(n)
		}
	}
	return l.judged(floor)
}

// judged says whether there is enough to act on, and whether to.
func (l AgreementLine) judged(floor float64) AgreementLine {
	l.Few = l.Turns < FewDoubled || l.Children < FewDoubledChildren
	l.Again = l.Defined && !l.Few && l.Kappa < floor
	return l
}

// doubledTurns pairs each teacher's marks of a child with each assistant's.
func doubledTurns(marks []postgres.DoubleMark) map[twoMarkers][]standing.Double {
	type by struct {
		child uuid.UUID
		who   person
	}
	given, duty, children := map[by][]standing.Mark{}, map[studio.Duty][]by{}, map[uuid.UUID]int{}
	for _, m := range marks {
		k := by{m.ChildID, person{m.Name, m.StaffID}}
		if _, known := children[m.ChildID]; !known {
			children[m.ChildID] = len(children)
		}
		if !slices.Contains(duty[m.Duty], k) {
			duty[m.Duty] = append(duty[m.Duty], k)
		}
		given[k] = append(given[k], standing.Mark{RungID: m.RungKey, Lesson: m.LessonID.String(), Side: standing.Side(m.Side), Outcome: standing.Outcome(m.Outcome), At: m.MarkedAt})
	}
	all := map[twoMarkers][]standing.Double{}
	for _, teacher := range duty[studio.TeacherDuty] {
		for _, assistant := range duty[studio.AssistantDuty] {
			if teacher.child != assistant.child || teacher.who == assistant.who {
				continue
			}
			two := twoMarkers{teacher.who, assistant.who}
			for _, p := range standing.PairTurns(given[teacher], given[assistant]) {
				all[two] = append(all[two], standing.Double{Child: children[teacher.child], First: p[0].Outcome, Second: p[1].Outcome})
			}
		}
	}
	return all
}
