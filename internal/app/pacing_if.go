package app

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"

	"rungbook/internal/engine/pacing"
	"rungbook/internal/postgres"
)

// PacingAsk tries something out. The zero value asks nothing.
type PacingAsk struct {
	Lose     int  // a week to come that has no lesson after all
	Showcase int  // the last week before the showcase
	Child    bool // one child more
}

// WhatIf is what would change. Nothing is saved.
type WhatIf struct {
	Title   string
	Words   []string
	Trouble string       // why no plan would keep every rule
	Weeks   []IfWeek     // side by side; empty for one child more
	Rungs   []IfExpected // for one child more
}

// IfWeek is a week with the new rungs that it has now, and would have.
type IfWeek struct {
	No        int
	Now, Then []string
	Changed   bool
	NoLesson  bool // it would have none
}

// IfExpected is how many children are likely to have a rung secure, with the class as it is and with one child more.
type IfExpected struct {
	Name      string
	Now, Then float64
}

func (w *pacer) whatIf(ctx context.Context, t *postgres.Tx, ask PacingAsk) (*WhatIf, error) {
	problem := w.problem(w.Pacing)
	last := len(w.weeks)
	switch {
	case ask.Lose > w.done && w.has(ask.Lose):
		after := pacing.LoseWeek(problem, ask.Lose)
		return w.compare(ctx, fmt.Sprintf("If week %d has no lesson", ask.Lose), problem, after, ask.Lose)
	case ask.Showcase > w.done && ask.Showcase <= last:
		after := pacing.MoveShowcase(problem, ask.Showcase)
		if problem.Showcase.Week == 0 {
			after = w.withShowcase(problem, ask.Showcase)
			after.Showcase.Rungs = w.inFocus()
		}
		return w.compare(ctx, fmt.Sprintf("If the showcase follows week %d", ask.Showcase), problem, after, 0)
	case ask.Child && len(w.pupils) > 0 && w.has(last):
		return w.oneMore(ctx, t)
	}
	return nil, nil
}

// inFocus are the rungs in focus that are not taught yet.
func (w *pacer) inFocus() []string {
	var keys []string
	for _, r := range w.Pacing.Rungs {
		if r.Focus && w.engineRung(r, w.Pacing).Taught == 0 {
			keys = append(keys, r.RungKey)
		}
	}
	return keys
}

// compare lays the changed term out with as little change as can be: first with every rung held that is not in the way, then freely.
func (w *pacer) compare(ctx context.Context, title string, before, after pacing.Problem, lost int) (*WhatIf, error) {
	now := pacing.Evaluate(before, w.places(w.Pacing))
	after = stayNear(after, w.places(w.Pacing))
	out := &WhatIf{Title: title}
	then, err := pacing.Solve(ctx, w.held(after, now), pacing.Options{Time: searchTime})
	if isInfeasible(err) {
		then, err = pacing.Solve(ctx, after, pacing.Options{Time: searchTime})
	}
	var none *pacing.Infeasible
	switch {
	case errors.As(err, &none):
		out.Trouble = whyAndHow(none)
		return out, nil
	case errors.Is(err, pacing.ErrNoTime):
		out.Trouble = "No plan was found in the time that there is."
		return out, nil
	case err != nil:
		return nil, fmt.Errorf("try a change of a term: %w", err)
	}
	out.Words = append(w.moves(pacing.Moves(now, then)), fmt.Sprintf("The heaviest week to come would carry %s; it carries %d now.", countOf(then.Peak, "point"), now.Peak))
	for i := range then.Weeks {
		was, is := now.Weeks[i].New, then.Weeks[i].New
		out.Weeks = append(out.Weeks, IfWeek{No: i + 1, Now: w.namesOf(was), Then: w.namesOf(is), Changed: !slices.Equal(was, is), NoLesson: i+1 == lost})
	}
	return out, nil
}

// held pins every rung to the week that it has, unless that week cannot be: what stands in the way moves alone.
func (w *pacer) held(p pacing.Problem, now pacing.Plan) pacing.Problem {
	breaches, err := pacing.Check(p, now)
	if err != nil {
		return p // the search says what is wrong
	}
	p.Rungs = slices.Clone(p.Rungs)
	for i, r := range p.Rungs {
		free := slices.ContainsFunc(breaches, func(b pacing.Breach) bool { return b.RungID == r.ID || b.NeedID == r.ID })
		at := slices.IndexFunc(now.Rungs, func(x pacing.Placed) bool { return x.RungID == r.ID })
		if r.Taught == 0 && !free && at >= 0 {
			p.Rungs[i].Pin = now.Rungs[at].Week
		}
	}
	return p
}

// moves says which rungs have another week, a sentence each.
func (w *pacer) moves(moves []pacing.Move) []string {
	if len(moves) == 0 {
		return []string{"Every rung stays in its week."}
	}
	var words []string
	for _, m := range moves {
		switch name := w.rungs[m.RungID].Name; {
		case m.From == 0:
			words = append(words, fmt.Sprintf("%s comes into week %d.", name, m.To))
		default:
			words = append(words, fmt.Sprintf("%s moves from week %d to week %d.", name, m.From, m.To))
		}
	}
	return words
}

// oneMore counts a child as average: it has each rung as likely as the others do, and everybody has so much fewer turns.
func (w *pacer) oneMore(ctx context.Context, t *postgres.Tx) (*WhatIf, error) {
	f, err := w.foreseer(ctx, t)
	if err != nil {
		return nil, err
	}
	n := float64(len(w.pupils))
	now, err := f.chances(1)
	if err != nil {
		return nil, err
	}
	then, err := f.chances(n / (n + 1))
	if err != nil {
		return nil, err
	}
	out := &WhatIf{Title: "If one child more comes", Words: []string{
		fmt.Sprintf("The weeks stay as they are. The new child is counted as average; with %d in the class in place of %d, each has about %.0f%% fewer turns.", len(w.pupils)+1, len(w.pupils), 100/(n+1)),
	}}
	var fewer []string
	for _, r := range w.Pacing.Rungs {
		e := IfExpected{Name: w.rungs[r.RungKey].Name, Now: sumOf(now[r.RungKey]), Then: sumOf(then[r.RungKey]) * (n + 1) / n}
		if e.Now-e.Then >= 0.05 { // as the page rounds
			fewer = append(fewer, e.Name)
		}
		out.Rungs = append(out.Rungs, e)
	}
	if len(fewer) > 0 {
		out.Words = append(out.Words, "Fewer children would have these secure, although there is one more: "+strings.Join(fewer, ", ")+".")
	}
	return out, nil
}

func sumOf(chances []float64) float64 {
	sum := 0.0
	for _, c := range chances {
		sum += c
	}
	return sum
}
