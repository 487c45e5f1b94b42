package app

import (
	"context"
	"time"

	"github.com/google/uuid"
	"rungbook/internal/postgres"
	"rungbook/internal/studio"
	"rungbook/internal/words"
)

// How far back a family sees its log, and may still add to it.
const (
	practiceWeeks  = 4
	practiceWithin = 13 // days before today
)

// PracticeDay is a day with what was done at home on it, by name.
type PracticeDay struct {
	Day    time.Time
	Drills []string
}

// PracticeLog is what a child did at home lately. It only ever counts what was done.
type PracticeLog struct {
	Days     []PracticeDay // with anything done, the latest first, of the last four weeks
	ThisWeek int           // days since Monday
	InAll    int           // days ever
	Asked    int           // days a week that the doses ask for
}

// Words says how this week goes, without pressure.
func (l PracticeLog) Words(b *words.Book) string {
	switch {
	case l.InAll == 0:
		return b.Say("practice.begin")
	case l.ThisWeek == 0:
		return b.Count("practice.new-week", l.InAll)
	case l.ThisWeek >= l.Asked:
		return b.Count("practice.enough", l.ThisWeek)
	}
	return b.Count("practice.this-week", l.ThisWeek) + " " + b.Count("practice.in-all", l.InAll)
}

// practiceLog sorts a child's practice by day; inAll is the number of days ever.
func practiceLog(kept []studio.Practice, inAll int, library *ladders, today time.Time) PracticeLog {
	log, monday := PracticeLog{InAll: inAll, Asked: library.settings.HomeDays}, mondayOf(today)
	for _, p := range kept {
		if n := len(log.Days); n == 0 || !log.Days[n-1].Day.Equal(p.DoneOn) {
			log.Days = append(log.Days, PracticeDay{Day: p.DoneOn})
			if !p.DoneOn.Before(monday) {
				log.ThisWeek++
			}
		}
		last := &log.Days[len(log.Days)-1]
		last.Drills = append(last.Drills, library.drills[p.DrillKey].Name)
	}
	return log
}

// Done is that a drill that a child has at home was done on a day.
type Done struct {
	Child, Assignment uuid.UUID
	Day               time.Time // the zero time is today
}

// NotePractice keeps that a drill was done at home: today or up to 13 days ago, on a day on which it was out. One that a care limit
// forbids is left alone.
func (a *App) NotePractice(ctx context.Context, actor studio.Actor, d Done) error {
	return a.db.InTx(ctx, actor, func(t *postgres.Tx) error {
		if err := a.may(ctx, t, studio.NotePractice, Target{Child: d.Child}); err != nil {
			return err
		}
		if d.Day.IsZero() {
			d.Day = t.Today
		}
		if err := mayPractise(ctx, t, d); err != nil {
			return err
		}
		return t.NotePractice(ctx, d.Child, d.Assignment, d.Day)
	})
}

func mayPractise(ctx context.Context, t *postgres.Tx, d Done) error {
	given, err := t.HomeAssignmentsOf(ctx, d.Child)
	if err != nil {
		return err
	}
	for _, g := range given {
		if g.ID != d.Assignment {
			continue
		}
		if d.Day.After(t.Today) || d.Day.Before(t.Today.AddDate(0, 0, -practiceWithin)) || !outOn(g, d.Day) {
			return studio.Refuse(words.Of(ctx).Say("form.nothing-saved"), []studio.FieldError{{Field: "day", Problem: words.Of(ctx).Say("practice.wrong-day")}})
		}
		return notOnHold(ctx, t, d, g.DrillKey)
	}
	return studio.Missing()
}

// notOnHold refuses a drill that a care limit forbade on the day.
func notOnHold(ctx context.Context, t *postgres.Tx, d Done, key string) error {
	library, err := readLadders(ctx, t)
	if err != nil {
		return err
	}
	limits, err := openLimits(ctx, t, d.Child)
	if err != nil {
		return err
	}
	if hold := holdOn(library.drills[key], limits, d.Day); hold != nil {
		b := words.Of(ctx)
		return &studio.Error{Code: studio.Conflict, Text: b.Say("practice.rests", "Limit", homeLimit(b, *hold).Text)}
	}
	return nil
}

// StrikePractice takes away what was noted of a drill on a day.
func (a *App) StrikePractice(ctx context.Context, actor studio.Actor, d Done) error {
	return a.db.InTx(ctx, actor, func(t *postgres.Tx) error {
		if err := a.may(ctx, t, studio.NotePractice, Target{Child: d.Child}); err != nil {
			return err
		}
		if d.Day.IsZero() {
			d.Day = t.Today
		}
		return t.StrikePractice(ctx, d.Child, d.Assignment, d.Day)
	})
}
