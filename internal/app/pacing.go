package app

import (
	"context"
	"errors"
	"fmt"
	"math"
	"slices"

	"github.com/google/uuid"
	"rungbook/internal/engine/pacing"
	"rungbook/internal/postgres"
	"rungbook/internal/studio"
)

// PacingView is a class's term: its weeks with the rungs in them.
type PacingView struct {
	ID         uuid.UUID
	Class      string
	Term       string
	Version    int // 0: nothing is saved
	MostNew    int
	Lag        int
	Rule       studio.PacingRule // what a rung counts, and when it comes back
	Children   int
	Changed    bool // the last change can be taken back
	Over       bool // no lesson of the term is left
	Weeks      []PacingWeek
	Ladders    []PacingLadder
	Rungs      []PacingRung // as the library orders them
	Peak       int          // points of the heaviest week to come, of one kind
	Bound      int          // no plan of these rungs has a lower peak; 0 when none is known
	Words      string       // how even the plan is
	Trouble    string       // why no plan keeps every rule; "" when one does
	Breaches   []string     // of no week
	ShowcaseOn string       // the day; "" without a showcase to come
	Choice     []ChoiceOf   // every ladder, to choose from
	If         *WhatIf      // nil when nothing was asked
}

// PacingWeek is a week with what is in it. Loads are in points: new material, back, wrists.
type PacingWeek struct {
	TermWeek
	Loads    [3]int
	New      []string // rung keys
	Again    []string // rung keys
	Breaches []string
}

// PacingLadder is a ladder with its rungs of the term.
type PacingLadder struct {
	Key, Name string
	Rungs     []PacingRung
}

// PacingRung is a rung of the term. Week 0 is none.
type PacingRung struct {
	Key, Name, Ladder string
	Week              int
	Again             []int
	Earliest, Latest  int
	Pinned, Focus     bool
	Taught            bool
	Secure            int // children who have it now
	Needs             []string
	Breaches          []string
}

// ChoiceOf is a ladder whose rungs can be chosen for the term.
type ChoiceOf struct {
	Key, Name string
	Term      bool // the class leans on it
	Rungs     []RungOfChoice
}

// RungOfChoice is a rung that can be chosen. Near counts the children for whom it is among the next ones.
type RungOfChoice struct {
	Key, Name    string
	Chosen       bool
	Near, Secure int
}

// Pacing shows a class's term; ask may try something out, which changes nothing.
func (a *App) Pacing(ctx context.Context, actor studio.Actor, class uuid.UUID, ask PacingAsk) (PacingView, error) {
	var view PacingView
	err := a.db.InTx(ctx, actor, func(t *postgres.Tx) error {
		if err := a.may(ctx, t, studio.SeeClass, Target{Class: class}); err != nil {
			return err
		}
		w, err := readPacer(ctx, t, class)
		if err != nil {
			return err
		}
		if view, err = w.view(ctx); err != nil || ask == (PacingAsk{}) || len(w.Pacing.Rungs) == 0 {
			return err
		}
		view.If, err = w.whatIf(ctx, t, ask)
		return err
	})
	return view, err
}

func (w *pacer) view(ctx context.Context) (PacingView, error) {
	p := w.Pacing
	view := PacingView{ID: w.Card.ID, Class: w.Card.Name, Term: w.Term.Name, Version: p.Version, MostNew: p.MostNew, Lag: p.Lag, Rule: w.rule,
		Children: len(w.pupils), Changed: w.Changed, Over: len(w.weeks) == 0 || len(w.ahead(len(w.weeks))) == 0, Choice: w.choice()}
	if w.show > w.done {
		view.ShowcaseOn = w.Term.ShowcaseOn.Format("2 January")
	}
	for _, week := range w.weeks {
		view.Weeks = append(view.Weeks, PacingWeek{TermWeek: week})
	}
	if len(w.weeks) == 0 || len(p.Rungs) == 0 {
		return view, nil
	}
	problem := w.problem(p)
	plan := pacing.Evaluate(problem, w.places(p))
	breaches, err := pacing.Check(problem, plan)
	if err != nil {
		return view, fmt.Errorf("judge the term of a class: %w", err)
	}
	view.fill(w, plan, breaches)
	return view, view.judge(ctx, w, plan)
}

// fill puts the rungs, loads and breaches into the weeks.
func (v *PacingView) fill(w *pacer, plan pacing.Plan, breaches []pacing.Breach) {
	again := map[string][]int{}
	for _, r := range plan.Rungs {
		again[r.RungID] = r.Again
	}
	for i, week := range plan.Weeks {
		v.Weeks[i].New, v.Weeks[i].Again = week.New, week.Again
		v.Weeks[i].Loads = [3]int{week.Load.New, week.Load.Back, week.Load.Wrists}
	}
	ofRung := map[string][]string{}
	for _, b := range breaches {
		if b.RungID != "" {
			ofRung[b.RungID] = append(ofRung[b.RungID], b.Words)
		}
		if b.Week >= 1 && b.Week <= len(v.Weeks) {
			v.Weeks[b.Week-1].Breaches = append(v.Weeks[b.Week-1].Breaches, b.Words)
		} else {
			v.Breaches = append(v.Breaches, b.Words)
		}
	}
	for _, l := range w.Ladders {
		ladder := PacingLadder{Key: l.Key, Name: l.Name}
		for _, r := range l.Rungs {
			if paced := w.Pacing.Rung(r.Key); paced != nil {
				ladder.Rungs = append(ladder.Rungs, w.rungView(*paced, again[r.Key], ofRung[r.Key]))
			}
		}
		if len(ladder.Rungs) > 0 {
			v.Ladders = append(v.Ladders, ladder)
			v.Rungs = append(v.Rungs, ladder.Rungs...)
		}
	}
}

func (w *pacer) rungView(r studio.PacedRung, again []int, breaches []string) PacingRung {
	e := w.engineRung(r, w.Pacing)
	return PacingRung{Key: r.RungKey, Name: e.Name, Ladder: w.ladder[w.of[r.RungKey]].Name, Week: w.placed(r), Again: again, Earliest: e.Earliest,
		Latest: e.Latest, Pinned: r.Pinned, Focus: r.Focus, Taught: e.Taught > 0, Secure: w.secureNow(r.RungKey),
		Needs: w.namesOf(w.needsIn(r.RungKey, w.Pacing)), Breaches: breaches}
}

// judge says how even the plan is beside the best that there is.
func (v *PacingView) judge(ctx context.Context, w *pacer, plan pacing.Plan) error {
	v.Peak = plan.Peak
	if v.Over {
		v.Words = "No lesson of this term is left."
		return nil
	}
	best, err := w.solve(ctx, w.Pacing)
	var none *pacing.Infeasible
	switch {
	case errors.As(err, &none):
		v.Trouble = whyAndHow(none)
		return nil
	case errors.Is(err, pacing.ErrNoTime):
		return nil
	case err != nil:
		return fmt.Errorf("measure the term of a class: %w", err)
	}
	v.Bound = best.Bound
	v.Words = evenness(plan.Peak, best.Bound, len(v.Breaches)+v.broken() > 0)
	return nil
}

func (v *PacingView) broken() int {
	n := 0
	for _, w := range v.Weeks {
		n += len(w.Breaches)
	}
	return n
}

// evenness compares the heaviest week to come with the lightest that it could be.
func evenness(peak, bound int, broken bool) string {
	words := fmt.Sprintf("The heaviest week to come carries %s of one kind", countOf(peak, "point"))
	switch {
	case peak == 0:
		return "Nothing new is laid out for the weeks to come."
	case broken:
		return words + fmt.Sprintf(", but a rule is broken; a plan that keeps every rule has at least %d.", bound)
	case peak <= bound:
		return words + ". No plan of these rungs has a lighter one: that is proven."
	}
	return words + fmt.Sprintf("; no plan can have less than %d, so this one is within %.0f%% of the best possible.", bound, math.Ceil(100*float64(peak-bound)/float64(bound)))
}

// choice lists every ladder with its rungs; those that the class leans on come first.
func (w *pacer) choice() []ChoiceOf {
	term := w.termLadders()
	var first, rest []ChoiceOf
	for _, l := range w.Ladders {
		c := ChoiceOf{Key: l.Key, Name: l.Name, Term: slices.ContainsFunc(term, func(x studio.Ladder) bool { return x.Key == l.Key })}
		for _, r := range l.Rungs {
			c.Rungs = append(c.Rungs, RungOfChoice{Key: r.Key, Name: r.Name, Chosen: w.Pacing.Rung(r.Key) != nil, Near: w.near(l, r.Key), Secure: w.secureNow(r.Key)})
		}
		if c.Term {
			first = append(first, c)
		} else {
			rest = append(rest, c)
		}
	}
	return append(first, rest...)
}
