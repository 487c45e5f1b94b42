package app

import (
	"context"
	"slices"
	"time"

	"github.com/google/uuid"
	"rungbook/internal/engine/standing"
	"rungbook/internal/postgres"
	"rungbook/internal/studio"
)

// ReviewView is what a teacher looks at after a lesson.
type ReviewView struct {
	Lesson  studio.Lesson // in the class's time zone
	Class   string
	Seen    []SeenRung   // what was marked, ladder by ladder
	Secure  []RungNews   // rungs that became secure with this lesson's marks
	Recheck []RungNews   // rungs that this lesson's marks put in doubt
	Next    []RungNews   // whose next rung has changed: next week's plan starts there
	Missed  []NamedChild // children who were here and have no mark
	Waiting []WaitingMark
	Kept    []KeptLine
	Notes   []NoteLine
	Home    []HomeIdea
	Records int // incident records of the lesson
}

// SeenRung is how a rung went in the lesson.
type SeenRung struct {
	Ladder, Rung             string
	Clean, Supported, Missed int
	Children                 int
}

// RungNews is news of a child's rung; From is where it stood before.
type RungNews struct {
	Child  NamedChild
	Rung   string
	Ladder string
	From   string
	Reason string
}

// WaitingMark is a mark that does not count before a teacher confirms it.
type WaitingMark struct {
	ID      uuid.UUID
	Child   string
	Rung    string
	Side    studio.Side
	Outcome studio.Outcome
	Faults  []string // names
	By      string
	At      time.Time
}

// KeptLine is an item that did not count at once.
type KeptLine struct {
	studio.KeptItem
	Says string // what it would note
	May  bool   // it can be accepted
}

// NoteLine is a quick note; Child is "" for one about the lesson.
type NoteLine struct {
	Child, Note, By string
	At              time.Time
}

// HomeIdea is what might go home with a child.
type HomeIdea struct {
	Child NamedChild
	Drill HomeSuggestion
}

// ideasEach is how many drills are suggested for one child after a lesson.
const ideasEach = 1

// Review is the look back at a lesson.
func (a *App) Review(ctx context.Context, actor studio.Actor, lesson uuid.UUID) (ReviewView, error) {
	var view ReviewView
	err := a.db.InTx(ctx, actor, func(t *postgres.Tx) error {
		if err := a.may(ctx, t, studio.KeepLesson, Target{Lesson: lesson}); err != nil {
			return err
		}
		r, err := readReview(ctx, t, lesson)
		if err != nil {
			return err
		}
		view, err = r.view(ctx)
		return err
	})
	return view, err
}

// review is a lesson with all that was kept of it.
type review struct {
	postgres.SheetRoll
	*ladders
	t     *postgres.Tx
	kept  []studio.KeptItem
	notes []studio.SheetNote
	past  []postgres.SeenMark // of the children, this lesson's too
}

func readReview(ctx context.Context, t *postgres.Tx, lesson uuid.UUID) (r *review, err error) {
	r = &review{t: t}
	if r.SheetRoll, err = t.SheetRoll(ctx, lesson); err != nil {
		return nil, err
	}
	if r.ladders, err = readLadders(ctx, t); err != nil {
		return nil, err
	}
	if r.kept, err = t.UndecidedItems(ctx, lesson); err != nil {
		return nil, err
	}
	if r.notes, err = t.SheetNotes(ctx, lesson); err != nil {
		return nil, err
	}
	r.past, err = t.MarksOf(ctx, r.ids())
	return r, err
}

func (r *review) ids() []uuid.UUID {
	var ids []uuid.UUID
	for _, c := range r.Children {
		ids = append(ids, c.ID)
	}
	return ids
}

func (r *review) view(ctx context.Context) (ReviewView, error) {
	v := ReviewView{Lesson: r.Lesson, Class: r.Class.Name, Seen: r.seen(), Missed: r.unmarked()}
	v.Lesson.StartsAt = inZone(r.Lesson.StartsAt, r.Class.TimeZone)
	for _, m := range r.Marks {
		if m.Awaits {
			v.Waiting = append(v.Waiting, r.waiting(m))
		}
	}
	for _, k := range r.kept {
		v.Kept = append(v.Kept, r.keptLine(k))
	}
	for _, n := range r.notes {
		line := NoteLine{Note: n.Note, By: n.WrittenByName, At: inZone(n.WrittenAt, r.Class.TimeZone)}
		if n.ChildID != nil {
			line.Child = r.child(*n.ChildID)
		}
		v.Notes = append(v.Notes, line)
	}
	if err := r.news(&v); err != nil {
		return v, err
	}
	records, err := r.t.Incidents(ctx, r.Lesson.ID)
	if err != nil {
		return v, err
	}
	v.Records = len(records)
	v.Home, err = r.ideas(ctx)
	return v, err
}

func (r *review) child(id uuid.UUID) string {
	for _, c := range r.Children {
		if c.ID == id {
			return c.ShortName()
		}
	}
	return "a child of another day"
}

// seen counts the lesson's marks that count, by rung, in reading order.
func (r *review) seen() []SeenRung {
	var all []SeenRung
	for _, ladder := range r.Ladders {
		for _, rung := range ladder.Rungs {
			row := SeenRung{Ladder: ladder.Name, Rung: rung.Name}
			children := map[uuid.UUID]bool{}
			for _, m := range r.Marks {
				if m.RungKey != rung.Key || m.Awaits {
					continue
				}
				children[m.ChildID] = true
				switch m.Outcome {
				case studio.Clean:
					row.Clean++
				case studio.Supported:
					row.Supported++
				default:
					row.Missed++
				}
			}
			if row.Children = len(children); row.Children > 0 {
				all = append(all, row)
			}
		}
	}
	return all
}

// unmarked are the children who were noted as here, or not noted at all, and have no mark.
func (r *review) unmarked() []NamedChild {
	var all []NamedChild
	for _, c := range r.Children {
		here := c.Present == nil || *c.Present
		if here && !slices.ContainsFunc(r.Marks, func(m postgres.RollMark) bool { return m.ChildID == c.ID }) {
			all = append(all, NamedChild{c.ID, c.ShortName()})
		}
	}
	return all
}

func (r *review) waiting(m postgres.RollMark) WaitingMark {
	rung := r.rungs[m.RungKey]
	w := WaitingMark{ID: m.ID, Child: r.child(m.ChildID), Rung: rung.Name, Side: m.Side, Outcome: m.Outcome, By: m.MarkedByName, At: inZone(m.MarkedAt, r.Class.TimeZone)}
	for _, f := range rung.Faults {
		if slices.Contains(m.Faults, f.Key) {
			w.Faults = append(w.Faults, f.Name)
		}
	}
	return w
}

// news compares where the children stand with where they stood without this lesson's marks.
func (r *review) news(v *ReviewView) error {
	before := slices.DeleteFunc(slices.Clone(r.past), func(m postgres.SeenMark) bool { return m.LessonID != nil && *m.LessonID == r.Lesson.ID })
	now, err := r.boardsOf(r.ids(), r.past, r.t)
	if err != nil {
		return err
	}
	was, err := r.boardsOf(r.ids(), before, r.t)
	if err != nil {
		return err
	}
	for _, c := range r.Children {
		child := NamedChild{c.ID, c.ShortName()}
		old := r.stands(was[c.ID])
		for i, ladder := range r.stands(now[c.ID]) {
			for j, rung := range ladder.Rungs {
				news := RungNews{Child: child, Rung: rung.Name, Ladder: ladder.Name, Reason: rung.Evidence}
				changed := rung.State != old[i].Rungs[j].State
				switch {
				case changed && rung.State == string(standing.Secure):
					v.Secure = append(v.Secure, news)
				case changed && rung.State == string(standing.Recheck):
					news.Reason = rung.Reason
					v.Recheck = append(v.Recheck, news)
				}
			}
			if from, to := nextName(old[i]), nextName(ladder); from != to {
				v.Next = append(v.Next, RungNews{Child: child, Rung: to, Ladder: ladder.Name, From: from})
			}
		}
	}
	return nil
}

// nextName is the name of the next rung of a ladder, "" when there is none.
func nextName(l LadderStand) string {
	if next := l.Next(); next != nil {
		return next.Name
	}
	return ""
}

// ideas are the drills that might go home with the children who were here.
func (r *review) ideas(ctx context.Context) ([]HomeIdea, error) {
	var here []uuid.UUID
	for _, c := range r.Children {
		if c.Present == nil || *c.Present {
			here = append(here, c.ID)
		}
	}
	all, err := readPlain(ctx, r.t, here)
	if err != nil {
		return nil, err
	}
	var ideas []HomeIdea
	for _, c := range r.Children {
		if h, ok := homeworkOf(all, c.ID); ok {
			suggested := h.view().Suggested
			for _, s := range suggested[:min(len(suggested), ideasEach)] {
				ideas = append(ideas, HomeIdea{NamedChild{c.ID, c.ShortName()}, s})
			}
		}
	}
	return ideas, nil
}
