package app

import (
	"bytes"
	"context"
	"fmt"
	"slices"
	"time"

	"github.com/google/uuid"
	"rungbook/internal/engine/calibration"
	"rungbook/internal/engine/standing"
	"rungbook/internal/postgres"
	"rungbook/internal/report"
	"rungbook/internal/studio"
)

// What the page of forecasts goes by. Ours.
const (
	// FewJudged is how many forecasts must be judged before the page says anything about them.
	FewJudged = 30
	// JudgedMonths is how far back forecasts are judged, by the day on which they were due.
	JudgedMonths = 12
)

// ForecastBin and ForecastBand are forecasts of like chance; ForecastInterval is one over resampled children.
type (
	ForecastBin      = calibration.Bin
	ForecastBand     = calibration.Band
	ForecastInterval = calibration.Interval
)

// Calibration is how forecasts turned out.
type Calibration struct {
	Class   ClassRef // the zero value for the whole studio
	For     studio.ForecastFor
	Judged  int
	Left    int // not judged: the child had left the class by the day
	Away    int // not judged: the child was at no lesson between
	Gone    int // not judged: the rung has left the library
	Waiting int // not due yet
	Next    time.Time
	Enough  bool
	Rules   int                // how many different rules of secure they were made by
	Result  calibration.Result // the zero value where nothing was judged
	Cases   []JudgedForecast
}

// JudgedForecast is a forecast with what became of it. Children are numbered, not named.
type JudgedForecast = report.JudgedForecast

// Calibration shows how the forecasts of the whole studio turned out.
func (a *App) Calibration(ctx context.Context, actor studio.Actor, of studio.ForecastFor) (Calibration, error) {
	var view Calibration
	err := a.within(ctx, actor, studio.JudgeForecasts, func(t *postgres.Tx) (err error) {
		view, err = judgeForecasts(ctx, t, of, nil)
		return err
	})
	return view, err
}

// ClassCalibration shows how the forecasts of one class turned out.
func (a *App) ClassCalibration(ctx context.Context, actor studio.Actor, of studio.ForecastFor, class uuid.UUID) (Calibration, error) {
	var view Calibration
	err := a.db.InTx(ctx, actor, func(t *postgres.Tx) error {
		if err := a.may(ctx, t, studio.SeeClass, Target{Class: class}); err != nil {
			return err
		}
		card, err := t.ClassCard(ctx, class)
		if err != nil {
			return err
		}
		view, err = judgeForecasts(ctx, t, of, &class)
		view.Class = ClassRef{ID: class, Name: card.Name}
		return err
	})
	return view, err
}

// File is the judged forecasts as a table, for other programs.
func (c Calibration) File() (File, error) {
	var body bytes.Buffer
	if err := report.WriteForecasts(&body, c.Cases); err != nil {
		return File{}, err
	}
	return File{Name: "forecasts-" + string(c.For) + ".csv", Kind: "text/csv; charset=utf-8", Body: body.Bytes()}, nil
}

// judgeForecasts judges the forecasts of a class, or (nil) of all. It reads with the rights of the program, since a child's marks and
// lessons in other classes count as well; what leaves names nobody.
func judgeForecasts(ctx context.Context, t *postgres.Tx, of studio.ForecastFor, class *uuid.UUID) (Calibration, error) {
	view := Calibration{For: of}
	library, err := readLadders(ctx, t)
	if err != nil {
		return view, err
	}
	err = t.AsProgram(ctx, func() error {
		due, err := t.DueForecasts(ctx, of, class, t.Today.AddDate(0, -JudgedMonths, 0))
		if err != nil {
			return fmt.Errorf("read the forecasts that are due: %w", err)
		}
		waiting, err := t.ForecastsWaiting(ctx, of, class)
		if err != nil {
			return fmt.Errorf("count the forecasts that are not due: %w", err)
		}
		view.Waiting, view.Next = waiting.Count, waiting.Next
		j := judge{ladders: library, day: t.Day(), view: &view}
		return j.all(ctx, t, due)
	})
	if err != nil || len(view.Cases) == 0 {
		return view, err
	}
	view.Judged, view.Enough = len(view.Cases), len(view.Cases) >= FewJudged
	view.Result, err = calibration.Assess(forecastsOf(view.Cases), calibration.Defaults())
	return view, err
}

func forecastsOf(cases []JudgedForecast) []calibration.Forecast {
	all := make([]calibration.Forecast, len(cases))
	for i, c := range cases {
		all[i] = calibration.Forecast{Child: c.Child, Chance: c.Chance, True: c.True}
	}
	return all
}

// judge goes through forecasts child by child.
type judge struct {
	*ladders
	day   Day
	view  *Calibration
	marks map[uuid.UUID][]standing.Mark
	there map[uuid.UUID][]time.Time // days on which a child was at a lesson, by attendance or a mark
	rules map[standing.Rule]bool
}

// all judges forecasts, each child's together.
func (j *judge) all(ctx context.Context, t *postgres.Tx, due []postgres.DueForecast) error {
	due = slices.DeleteFunc(due, func(f postgres.DueForecast) bool {
		if f.Left {
			j.view.Left += len(f.Rungs)
		}
		return f.Left
	})
	if len(due) == 0 {
		return nil
	}
	if err := j.read(ctx, t, due); err != nil {
		return err
	}
	child := 0
	for len(due) > 0 {
		n := 1
		for n < len(due) && due[n].ChildID == due[0].ChildID {
			n++
		}
		child++
		if err := j.child(child, due[:n]); err != nil {
			return err
		}
		due = due[n:]
	}
	j.view.Rules = len(j.rules)
	return nil
}

// read gathers the marks of the children and the days on which they were at a lesson.
func (j *judge) read(ctx context.Context, t *postgres.Tx, due []postgres.DueForecast) error {
	var children []uuid.UUID
	since := t.Today
	for i, f := range due {
		if i == 0 || f.ChildID != due[i-1].ChildID {
			children = append(children, f.ChildID)
		}
		if f.MadeOn.Before(since) {
			since = f.MadeOn
		}
	}
	marks, err := t.MarksOf(ctx, children)
	if err != nil {
		return fmt.Errorf("read the marks: %w", err)
	}
	days, err := t.LessonDays(ctx, children, since)
	if err != nil {
		return fmt.Errorf("read who was at lessons: %w", err)
	}
	j.marks, j.there, j.rules = map[uuid.UUID][]standing.Mark{}, map[uuid.UUID][]time.Time{}, map[standing.Rule]bool{}
	for _, m := range marks {
		j.marks[m.ChildID] = append(j.marks[m.ChildID], standingMark(m))
		j.there[m.ChildID] = append(j.there[m.ChildID], j.dayOf(m.MarkedAt))
	}
	for _, d := range days {
		j.there[d.ChildID] = append(j.there[d.ChildID], d.Day)
	}
	return nil
}

// dayOf is the studio's day of a moment, as midnight UTC.
func (j *judge) dayOf(moment time.Time) time.Time {
	y, m, d := moment.In(j.day.Zone).Date()
	return time.Date(y, m, d, 0, 0, 0, 0, time.UTC)
}

// child judges the forecasts about one child. Those between whose days it was at no lesson are counted apart.
func (j *judge) child(number int, due []postgres.DueForecast) error {
	boards := map[standing.Rule]standing.Board{}
	for _, f := range due {
		if !slices.ContainsFunc(j.there[f.ChildID], func(day time.Time) bool { return day.After(f.MadeOn) && !day.After(f.DueOn) }) {
			j.view.Away += len(f.Rungs)
			continue
		}
		rule := standing.Rule{Clean: f.RuleClean, Window: f.RuleWindow, Lessons: f.RuleLessons}
		board, known := boards[rule]
		if !known {
			settings := judging(j.settings)
			settings.Rule = rule
			var err error
			if board, err = j.graph.Board(j.marks[f.ChildID], settings, j.day.Today); err != nil {
				return fmt.Errorf("work out where a child stands: %w", err)
			}
			boards[rule], j.rules[rule] = board, true
		}
		j.take(number, f, board)
	}
	return nil
}

// take judges what was forecast for a day: a rung came true if the rule was first met by the end of it.
func (j *judge) take(child int, f postgres.DueForecast, board standing.Board) {
	for i, key := range f.Rungs {
		s, known := board.On(key)
		if !known {
			j.view.Gone++
			continue
		}
		met := !s.SecureSince.IsZero() && !j.dayOf(s.SecureSince).After(f.DueOn)
		j.view.Cases = append(j.view.Cases, JudgedForecast{Child: child, Rung: j.rungs[key].Name, MadeOn: f.MadeOn, DueOn: f.DueOn, Chance: f.Chances[i], True: met})
	}
}
