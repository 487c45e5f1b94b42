package app

import (
	"context"
	"slices"
	"strings"
	"time"

	"github.com/google/uuid"
	"rungbook/internal/engine/load"
	"rungbook/internal/postgres"
	"rungbook/internal/studio"
)

// LimitLine is a care limit in words, without its reason.
type LimitLine struct {
	ID        uuid.UUID
	Action    string
	Avoids    string // "back-bends and turns on the hands"
	From      time.Time
	Until     *time.Time
	Review    *time.Time
	Cleared   *time.Time
	ClearNote string
	InForce   bool
	Due       bool // its review date has come
	HasReason bool
	Reported  bool // put in place by a report that something hurt
}

// SorenessLine is a report that something hurt.
type SorenessLine struct {
	At      time.Time
	Place   string
	HowMuch int
	Doing   string
	Signs   []string // in words
}

// LoadWeek is what the planned turns of a week asked of a child.
type LoadWeek struct {
	Monday                       time.Time
	Back, Wrists, Landing, Turns int
}

// Sum is the load of all kinds together.
func (w LoadWeek) Sum() int { return w.Back + w.Wrists + w.Landing }

// LoadView is a child's body load, over every class: the last weeks, oldest first, and what that says in words.
type LoadView struct {
	Weeks []LoadWeek
	Words []string // a sentence a kind of load
	Cap   LoadWeek // the teacher's caps for a week
	Over  []string // kinds above the cap this week
	Note  string
}

// CareView is what a teacher minds about a child.
type CareView struct {
	ChildHead
	Limits   []LimitLine
	Soreness []SorenessLine
	Load     LoadView
	Today    time.Time
}

// NewLimit is a care limit to set. Until and Review are nil when left open.
type NewLimit struct {
	studio.CareLimit
	Reason string
}

// CareOf shows a child's care limits, reports of soreness and body load.
func (a *App) CareOf(ctx context.Context, actor studio.Actor, child uuid.UUID) (CareView, error) {
	var view CareView
	err := a.db.InTx(ctx, actor, func(t *postgres.Tx) error {
		if err := a.may(ctx, t, studio.LimitChild, Target{Child: child}); err != nil {
			return err
		}
		var err error
		if view.ChildHead, err = childHead(ctx, t, child); err != nil {
			return err
		}
		view.Today = t.Today
		if view.Limits, err = limitLines(ctx, t, child); err != nil {
			return err
		}
		if view.Soreness, err = sorenessLines(ctx, t, child); err != nil {
			return err
		}
		view.Load, err = loadView(ctx, t, child, view.Age)
		return err
	})
	return view, err
}

func limitLines(ctx context.Context, t *postgres.Tx, child uuid.UUID) ([]LimitLine, error) {
	kept, err := t.CareLimitsOf(ctx, []uuid.UUID{child})
	var lines []LimitLine
	for _, l := range kept {
		lines = append(lines, LimitLine{ID: l.ID, Action: l.Action, Avoids: avoids(l.CareLimit), From: l.FromOn, Until: l.UntilOn, Review: l.ReviewOn,
			Cleared: l.ClearedAt, ClearNote: l.ClearNote, InForce: l.HoldsOn(t.Today), Due: reviewDue(l.CareLimit, t.Today),
			HasReason: l.HasReason, Reported: l.Reported})
	}
	return lines, err
}

func reviewDue(l studio.CareLimit, today time.Time) bool {
	return l.HoldsOn(today) && l.ReviewOn != nil && !l.ReviewOn.After(today)
}

func avoids(l studio.CareLimit) string {
	var parts []string
	for _, p := range []struct {
		avoid bool
		words string
	}{{l.AvoidBack, "back-bends"}, {l.AvoidWrists, "weight on the hands"}, {l.AvoidLanding, "jumps and landings"}, {l.AvoidInverted, "going upside down"}} {
		if p.avoid {
			parts = append(parts, p.words)
		}
	}
	return listOf(parts)
}

// listOf joins words for a sentence: "a, b and c".
func listOf(parts []string) string {
	if len(parts) < 2 {
		return strings.Join(parts, "")
	}
	return strings.Join(parts[:len(parts)-1], ", ") + " and " + parts[len(parts)-1]
}

func sorenessLines(ctx context.Context, t *postgres.Tx, child uuid.UUID) ([]SorenessLine, error) {
	reports, err := t.SorenessOf(ctx, []uuid.UUID{child})
	var lines []SorenessLine
	for _, r := range reports {
		lines = append(lines, SorenessLine{At: r.ReportedAt, Place: r.Place, HowMuch: r.HowMuch, Doing: r.Doing, Signs: signWords(r.Signs)})
	}
	return lines, err
}

// SetLimit puts a care limit in place.
func (a *App) SetLimit(ctx context.Context, actor studio.Actor, l NewLimit) error {
	return a.db.InTx(ctx, actor, func(t *postgres.Tx) error {
		if err := a.may(ctx, t, studio.LimitChild, Target{Child: l.ChildID}); err != nil {
			return err
		}
		if err := checkLimit(l); err != nil {
			return err
		}
		id, err := t.SetCareLimit(ctx, l.CareLimit, l.Reason)
		if err != nil {
			return err
		}
		return t.Audit(ctx, "set a care limit", "child "+l.ChildID.String(), map[string]any{"limit": id.String()})
	})
}

func checkLimit(l NewLimit) error {
	var wrong []studio.FieldError
	if !l.AvoidBack && !l.AvoidWrists && !l.AvoidLanding && !l.AvoidInverted {
		wrong = append(wrong, studio.FieldError{Field: "avoid", Problem: "Tick at least one thing to avoid."})
	}
	if n := len([]rune(strings.TrimSpace(l.Action))); n == 0 || n > 160 {
		wrong = append(wrong, studio.FieldError{Field: "action", Problem: "Say in at most 160 characters what to do or leave."})
	}
	if l.FromOn.IsZero() {
		wrong = append(wrong, studio.FieldError{Field: "from", Problem: "Say from which day."})
	}
	if l.UntilOn != nil && l.UntilOn.Before(l.FromOn) {
		wrong = append(wrong, studio.FieldError{Field: "until", Problem: "The last day is before the first."})
	}
	if len([]rune(l.Reason)) > 2000 {
		wrong = append(wrong, studio.FieldError{Field: "reason", Problem: "At most 2000 characters."})
	}
	return studio.Refuse("Nothing was saved.", wrong)
}

// ClearLimit ends a care limit, with a note of who said so or what was seen.
func (a *App) ClearLimit(ctx context.Context, actor studio.Actor, child, limit uuid.UUID, note string) error {
	return a.db.InTx(ctx, actor, func(t *postgres.Tx) error {
		if err := a.may(ctx, t, studio.LimitChild, Target{Child: child}); err != nil {
			return err
		}
		note = strings.TrimSpace(note)
		if n := len([]rune(note)); n == 0 || n > 400 {
			return studio.Refuse("Nothing was changed.", []studio.FieldError{{Field: "note", Problem: "Say in a few words why it may end: who cleared it, or what was seen."}})
		}
		if err := t.ClearCareLimit(ctx, child, limit, note); err != nil {
			return err
		}
		return t.Audit(ctx, "cleared a care limit", "child "+child.String(), map[string]any{"limit": limit.String()})
	})
}

// LimitReason reads why a limit was set; the reading is written to the trail.
func (a *App) LimitReason(ctx context.Context, actor studio.Actor, child, limit uuid.UUID) (string, error) {
	var reason string
	err := a.db.InTx(ctx, actor, func(t *postgres.Tx) error {
		if err := a.may(ctx, t, studio.LimitChild, Target{Child: child}); err != nil {
			return err
		}
		var err error
		if reason, err = t.CareReason(ctx, child, limit); err != nil {
			return err
		}
		return t.Audit(ctx, "read the reason of a care limit", "child "+child.String(), map[string]any{"limit": limit.String()})
	})
	return reason, err
}

const loadWeeks = 6

// loadEntries are a child's planned turns of the last weeks and of what is to come, over every class: also those that the actor does
// not take. The caller has checked the actor.
func loadEntries(ctx context.Context, t *postgres.Tx, child uuid.UUID) ([]load.Entry, error) {
	var entries []load.Entry
	err := t.AsProgram(ctx, func() error {
		turns, err := t.LoadTurnsOf(ctx, []uuid.UUID{child}, mondayOf(t.Today).AddDate(0, 0, -7*(loadWeeks-1)))
		for _, l := range turns {
			entries = append(entries, load.Entry{Day: l.Day, Turns: l.Turns, Load: load.Load{Back: l.Back, Wrists: l.Wrists, Landing: l.Landing}})
		}
		return err
	})
	return entries, err
}

func loadView(ctx context.Context, t *postgres.Tx, child uuid.UUID, age int) (LoadView, error) {
	entries, err := loadEntries(ctx, t, child)
	if err != nil {
		return LoadView{}, err
	}
	today := t.Today
	limit := load.DefaultCaps(age).Week
	view := LoadView{Note: load.CapsNote, Cap: LoadWeek{Back: limit.Back, Wrists: limit.Wrists, Landing: limit.Landing}}
	for i := range loadWeeks {
		w := load.WeekOf(entries, today.AddDate(0, 0, -7*(loadWeeks-1-i)))
		view.Weeks = append(view.Weeks, LoadWeek{Monday: w.Monday, Back: w.Load.Back, Wrists: w.Load.Wrists, Landing: w.Load.Landing, Turns: w.Turns})
	}
	for _, k := range load.Kinds() {
		view.Words = append(view.Words, strings.ToUpper(string(k[:1]))+string(k[1:])+": "+load.AgainstOf(entries, today, k).Words)
	}
	for _, k := range load.WeekOf(entries, today).Load.Over(limit) {
		view.Over = append(view.Over, string(k))
	}
	if !slices.ContainsFunc(view.Weeks, func(w LoadWeek) bool { return w.Sum() > 0 }) {
		view.Words = nil
	}
	return view, nil
}
