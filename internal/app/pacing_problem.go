package app

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"
	"time"

	"github.com/google/uuid"
	"rungbook/internal/engine/pacing"
	"rungbook/internal/engine/standing"
	"rungbook/internal/postgres"
	"rungbook/internal/studio"
)

// newTimes is how often the back and wrist load of a turn counts in the week in which a rung is new, with its many turns. Ours; no
// published figure. What else a rung counts is the studio's rule.
const newTimes = 2

// searchTime bounds a search; what is found in less ends it sooner.
const searchTime = 400 * time.Millisecond

// pacer is the term of a class with what the engine needs.
type pacer struct {
	postgres.TermPage
	termCalendar
	*ladders
	pupils []postgres.Pupil
	marks  []postgres.SeenMark
	boards map[uuid.UUID]standing.Board
	rule   studio.PacingRule
}

// readPacer reads a class's term. Ask first whether the actor may see the class.
func readPacer(ctx context.Context, t *postgres.Tx, class uuid.UUID) (*pacer, error) {
	page, err := t.TermPage(ctx, class)
	if err != nil {
		return nil, err
	}
	w := &pacer{TermPage: page, termCalendar: newTermCalendar(page, t.Now, t.Today), rule: t.Settings.Pacing}
	if w.ladders, err = readLadders(ctx, t); err != nil {
		return nil, err
	}
	if w.pupils, err = t.PupilsOf(ctx, class); err != nil {
		return nil, fmt.Errorf("read the children of a class: %w", err)
	}
	if w.marks, err = t.MarksOf(ctx, idsOf(w.pupils)); err != nil {
		return nil, fmt.Errorf("read the marks: %w", err)
	}
	w.boards, err = w.boardsOf(idsOf(w.pupils), w.marks, t)
	return w, err
}

// problem puts a term into the engine's words. It must have a week.
func (w *pacer) problem(p studio.Pacing) pacing.Problem {
	out := pacing.Problem{Weeks: len(w.weeks), Done: w.done, Limits: pacing.Limits{MaxNew: p.MostNew}}
	for _, week := range w.weeks {
		if !week.Lesson {
			out.Holidays = append(out.Holidays, week.No)
		}
	}
	if w.show > w.done {
		out = w.withShowcase(out, w.show)
	}
	for _, r := range p.Rungs {
		out.Rungs = append(out.Rungs, w.engineRung(r, p))
		if r.Focus && out.Showcase.Week > 0 && out.Rungs[len(out.Rungs)-1].Taught == 0 {
			out.Showcase.Rungs = append(out.Showcase.Rungs, r.RungKey)
		}
	}
	return out
}

// withShowcase puts a first showcase after a week: what is in focus is seen again by then, and the last lessons up to it have nothing
// new.
func (w *pacer) withShowcase(p pacing.Problem, week int) pacing.Problem {
	p.Showcase.Week, p.Showcase.Revisits, p.Quiet = week, 1, pacing.QuietBefore(p, week, w.rule.Quiet)
	return p
}

func (w *pacer) engineRung(r studio.PacedRung, p studio.Pacing) pacing.Rung {
	rung := w.rungs[r.RungKey]
	points := w.rule.New
	if rung.Spotting.People > 0 {
		points += w.rule.Spotted
	}
	out := pacing.Rung{ID: r.RungKey, Name: rung.Name, Focus: r.Focus, Again: w.rule.After,
		Load:      pacing.Load{New: points, Back: newTimes * rung.Load.Back, Wrists: newTimes * rung.Load.Wrists},
		AgainLoad: pacing.Load{New: w.rule.Again, Back: rung.Load.Back, Wrists: rung.Load.Wrists}}
	for _, key := range w.needsIn(r.RungKey, p) {
		out.Needs = append(out.Needs, pacing.Need{ID: key, Lag: p.Lag})
	}
	at := w.placed(r)
	switch {
	case at > 0 && at <= w.done && w.has(at):
		out.Taught = at
	case r.Pinned:
		out.Pin = at
	}
	if r.Earliest != nil {
		out.Earliest = min(w.number(*r.Earliest), len(w.weeks))
	}
	if r.Latest != nil {
		if last := max(1, w.number(*r.Latest)); last <= len(w.weeks) {
			out.Latest = last
		}
	}
	return out
}

// placed is the week in which a rung is new, 0 for none of the term.
func (w *pacer) placed(r studio.PacedRung) int {
	if r.WeekOf == nil {
		return 0
	}
	if week := w.number(*r.WeekOf); week <= len(w.weeks) {
		return week
	}
	return 0
}

// needsIn are the rungs of the term that a rung needs, also by way of rungs that are not of the term.
func (w *pacer) needsIn(key string, p studio.Pacing) []string {
	var found []string
	seen := map[string]bool{}
	var follow func(key string)
	follow = func(key string) {
		for _, need := range w.rungs[key].Needs {
			switch {
			case seen[need]:
			case p.Rung(need) != nil:
				found = append(found, need)
			default:
				seen[need] = true
				follow(need)
				continue
			}
			seen[need] = true
		}
	}
	follow(key)
	return found
}

// places are the weeks of the rungs as they stand.
func (w *pacer) places(p studio.Pacing) map[string]int {
	at := map[string]int{}
	for _, r := range p.Rungs {
		at[r.RungKey] = w.placed(r)
	}
	return at
}

// settle writes the weeks of a plan into a term.
func (w *pacer) settle(p *studio.Pacing, plan pacing.Plan) {
	for i := range p.Rungs {
		p.Rungs[i].SeenAgain = nil
	}
	for _, placed := range plan.Rungs {
		r := p.Rung(placed.RungID)
		r.WeekOf = w.monday(placed.Week)
		for _, week := range placed.Again {
			r.SeenAgain = append(r.SeenAgain, *w.monday(week))
		}
	}
}

// solve lays a term out anew: what was taught and what is pinned stays, and of plans that are equally good that which moves least.
func (w *pacer) solve(ctx context.Context, p studio.Pacing) (pacing.Plan, error) {
	return pacing.Solve(ctx, stayNear(w.problem(p), w.places(p)), pacing.Options{Time: searchTime})
}

// stayNear is the problem of which the plan should move little from the weeks that rungs have.
func stayNear(p pacing.Problem, at map[string]int) pacing.Problem {
	p.Rungs = slices.Clone(p.Rungs)
	for i, r := range p.Rungs {
		p.Rungs[i].Was = at[r.ID]
	}
	return p
}

// noPlan is the engine's refusal in words for people, with the way out.
func noPlan(err error) error {
	var none *pacing.Infeasible
	if errors.As(err, &none) {
		return &studio.Error{Code: studio.Invalid, Text: "No plan keeps every rule. " + whyAndHow(none), Cause: err}
	}
	if errors.Is(err, pacing.ErrNoTime) {
		return &studio.Error{Code: studio.Invalid, Text: "No plan was found in the time that there is. Take a rung out, or allow more new rungs a week, and try again.", Cause: err}
	}
	return fmt.Errorf("lay out a term: %w", err)
}

// whyAndHow says what is in the way, and what would help: each was tried.
func whyAndHow(none *pacing.Infeasible) string {
	switch n := len(none.Help); n {
	case 0:
		return none.Words + " No single change was found to help: take rungs out, or let pins go."
	case 1:
		return none.Words + " What would help: " + none.Help[0] + "."
	default:
		return none.Words + " What would help, each by itself: " + strings.Join(none.Help[:n-1], ", ") + ", or " + none.Help[n-1] + "."
	}
}

// mostOf reports whether a number of children is at least half of the class.
func (w *pacer) mostOf(n int) bool { return n > 0 && 2*n >= len(w.pupils) }

// secureNow counts the children who have a rung.
func (w *pacer) secureNow(key string) int {
	n := 0
	for _, b := range w.boards {
		if s, ok := b.On(key); ok && s.Met() {
			n++
		}
	}
	return n
}

// termLadders are the ladders that the class leans on; where it leans on none, those at which most of the class was marked.
func (w *pacer) termLadders() []studio.Ladder {
	return slices.DeleteFunc(slices.Clone(w.Ladders), func(l studio.Ladder) bool {
		if len(w.Card.Focus) > 0 {
			return !slices.Contains(w.Card.Focus, l.Key)
		}
		return !w.mostOf(w.begunOn(l))
	})
}

func (w *pacer) begunOn(l studio.Ladder) int {
	n := 0
	for _, b := range w.boards {
		if slices.ContainsFunc(l.Rungs, func(r studio.Rung) bool { s, _ := b.On(r.Key); return s.Marks > 0 }) {
			n++
		}
	}
	return n
}
