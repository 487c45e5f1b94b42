package app

import (
	"cmp"
	"context"
	"slices"
	"strings"
	"time"

	"github.com/google/uuid"
	"rungbook/internal/engine/standing"
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
	Place   string
	HowMuch int
	Doing   string
	Signs   []string // in words
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
		if view.Soreness, err = sorenessLines(ctx, t, child); err != nil {
			return err
		}
		return nil
	})
	return view, err
}

// careLimits are a child's limits with what became of each, and what each takes away from what the child could work at.
func careLimits(ctx context.Context, t *postgres.Tx, child uuid.UUID) ([]LimitLine, error) {
	kept, err := t.CareLimitsOf(ctx, []uuid.UUID{child})
	if err != nil || len(kept) == 0 {
		return nil, err
	}
	changes, err := t.LimitChangesOf(ctx, child)
	if err != nil {
		return nil, err
	}
	library, err := readLadders(ctx, t)
	if err != nil {
		return nil, err
	}
	boards, err := library.boards(ctx, t, []uuid.UUID{child})
	if err != nil {
		return nil, err
	}
	var lines []LimitLine
	for _, l := range kept {
		line := LimitLine{ID: l.ID, Action: l.Action, Avoids: avoids(l.CareLimit), From: l.FromOn, Until: l.UntilOn, Review: l.ReviewOn,
			Cleared: l.ClearedAt, InForce: l.HoldsOn(t.Today), Due: reviewDue(l.CareLimit, t.Today), HasReason: l.HasReason, Reported: l.Reported,
			Trail: limitTrail(l, changes)}
		if line.InForce {
			line.Closes = library.closedBy(l.CareLimit, boards[child])
		}
		lines = append(lines, line)
	}
	return lines, nil
}

func reviewDue(l studio.CareLimit, today time.Time) bool {
	return l.HoldsOn(today) && l.ReviewOn != nil && !l.ReviewOn.After(today)
}

// limitTrail puts what became of a limit into words, the first first.
func limitTrail(l postgres.KeptLimit, changes []postgres.LimitChange) []LimitEvent {
	var trail []LimitEvent
	for _, c := range slices.Backward(changes) {
		if c.LimitID != l.ID {
			continue
		}
		by := cmp.Or(c.By, "somebody who is not on the staff now")
		text := map[string]string{"set": "Set", "extended": "Extended", "cleared": "Cleared", "reason read": "The reason was read"}[c.What] + " by " + by
		switch {
		case c.What == "set" && l.Reported:
			text = "Put in place by a report that it hurt"
		case c.What == "extended":
			text += spanWords(c.UntilOn, c.ReviewOn)
		}
		trail = append(trail, LimitEvent{At: c.At, Text: text, Note: c.Note})
	}
	return trail
}

func spanWords(until, review *time.Time) string {
	words := " until it is cleared"
	if until != nil {
		words = " until " + until.Format("2 January")
	}
	if review != nil {
		words += ", to be looked at on " + review.Format("2 January")
	}
	return words
}

// LadderGap is a ladder of which rungs fall away. Whole says that nothing is left that the child could work at on it.
type LadderGap struct {
	Ladder string
	Rungs  []string
	Whole  bool
}

// closedBy lists the rungs that a child could work at by its board and that a limit forbids, ladder by ladder.
func (l *ladders) closedBy(limit studio.CareLimit, board standing.Board) []LadderGap {
	var gaps []LadderGap
	for _, ladder := range l.Ladders {
		gap := LadderGap{Ladder: ladder.Name, Whole: true}
		for _, r := range ladder.Rungs {
			s, _ := board.On(r.Key)
			switch {
			case s.State == standing.Waiting || s.State == standing.Secure:
			case limit.Forbids(r.Load, r.Inverted):
				gap.Rungs = append(gap.Rungs, r.Name)
			default:
				gap.Whole = false
			}
		}
		if len(gap.Rungs) > 0 {
			gaps = append(gaps, gap)
		}
	}
	return gaps
}

// limitsTonight are the care limits of children that hold on the day of a lesson. Planner, class sheet and home practice all go by
// studio.CareLimit.Forbids.
func limitsTonight(ctx context.Context, t *postgres.Tx, children []uuid.UUID, day time.Time) (map[uuid.UUID][]studio.CareLimit, error) {
	kept, err := t.CareLimitsOf(ctx, children)
	limits := map[uuid.UUID][]studio.CareLimit{}
	for _, l := range kept {
		if l.HoldsOn(day) {
			limits[l.ChildID] = append(limits[l.ChildID], l.CareLimit)
		}
	}
	return limits, err
}

// forbidden is the action of the first of the limits that forbids something with this load, or upside down; "" when none does.
func forbidden(limits []studio.CareLimit, load studio.Load, inverted bool) string {
	for _, l := range limits {
		if l.Forbids(load, inverted) {
			return l.Action
		}
	}
	return ""
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
		return t.Audit(ctx, "read the reason of a care limit", "child "+child.String(), map[string]any{"limit": limit.String()})
	})
	return reason, err
}
