package app

import (
	"context"
	"strings"
	"time"

	"github.com/google/uuid"
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
	InForce   bool
	Due       bool // its review date has come
	HasReason bool
	Reported  bool         // put in place by a report that something hurt
	Trail     []LimitEvent // what became of it, the first first
	Closes    []LadderGap  // what falls away while it is in force
}

// LimitEvent is what became of a care limit once, in words, with the note that was written then.
type LimitEvent struct {
	At   time.Time
	Text string // "Set by Tove"
	Note string
}

// SorenessLine is a report that something hurt.
type SorenessLine struct {
	At      time.Time
	Since   *time.Time // the day on which it began; nil where nobody asked
	Place   string
	HowMuch int
	Doing   string
	Signs   []string   // in words
	Urgent  bool       // what was ticked calls for emergency services
	Cleared *time.Time // when a teacher cleared the limit that the report put in place
}

// CareView is what a teacher minds about a child.
type CareView struct {
	ChildHead
	Limits   []LimitLine
	Soreness []SorenessLine
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
		if view.Limits, err = careLimits(ctx, t, child); err != nil {
			return err
		}
		view.Soreness, err = sorenessLines(ctx, t, child)
		return err
	})
	return view, err
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
	return linesOf(reports), err
}

func linesOf(reports []studio.Soreness) []SorenessLine {
	var lines []SorenessLine
	for _, r := range reports {
		lines = append(lines, SorenessLine{At: r.ReportedAt, Since: r.BeganOn, Place: r.Place, HowMuch: r.HowMuch, Doing: r.Doing, Signs: signWords(r.Signs),
			Urgent: Urgent(r.Place, r.Signs), Cleared: r.ClearedAt})
	}
	return lines
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
	if l.UntilOn == nil && l.ReviewOn == nil {
		wrong = append(wrong, studio.FieldError{Field: "review", Problem: "Say until when, or when to look again, so that it is not forgotten."})
	}
	if len([]rune(l.Reason)) > 2000 {
		wrong = append(wrong, studio.FieldError{Field: "reason", Problem: "At most 2000 characters."})
	}
	return studio.Refuse("Nothing was saved.", wrong)
}

// Extension gives a care limit other days. Until and Review are nil when left open.
type Extension struct {
	Child, Limit  uuid.UUID
	Until, Review *time.Time
	Note          string
}

// ExtendLimit gives a care limit that was not cleared another last day and another day to look again, with a note of what was seen.
func (a *App) ExtendLimit(ctx context.Context, actor studio.Actor, e Extension) error {
	return a.db.InTx(ctx, actor, func(t *postgres.Tx) error {
		if err := a.may(ctx, t, studio.LimitChild, Target{Child: e.Child}); err != nil {
			return err
		}
		e.Note = strings.TrimSpace(e.Note)
		if err := e.check(t.Today); err != nil {
			return err
		}
		if err := t.ExtendCareLimit(ctx, e.Child, e.Limit, e.Until, e.Review, e.Note); err != nil {
			return err
		}
		return t.Audit(ctx, "extended a care limit", "child "+e.Child.String(), map[string]any{"limit": e.Limit.String()})
	})
}

func (e Extension) check(today time.Time) error {
	var wrong []studio.FieldError
	past := func(day *time.Time) bool { return day != nil && day.Before(today) }
	if past(e.Until) {
		wrong = append(wrong, studio.FieldError{Field: "until", Problem: "That day is over. To end a limit, clear it."})
	}
	if past(e.Review) || e.Review != nil && e.Until != nil && e.Review.After(*e.Until) {
		wrong = append(wrong, studio.FieldError{Field: "review", Problem: "A day from today on, and not after the last one."})
	}
	if e.Until == nil && e.Review == nil {
		wrong = append(wrong, studio.FieldError{Field: "review", Problem: "Say until when, or when to look again, so that it is not forgotten."})
	}
	if n := len([]rune(e.Note)); n == 0 || n > 400 {
		wrong = append(wrong, studio.FieldError{Field: "note", Problem: "Say in a few words what you saw, or who said so."})
	}
	return studio.Refuse("Nothing was changed.", wrong)
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
		if err := t.NoteHealthRead(ctx, studio.ReadReason, child); err != nil {
			return err
		}
		return t.Audit(ctx, "read the reason of a care limit", "child "+child.String(), map[string]any{"limit": limit.String()})
	})
	return reason, err
}
