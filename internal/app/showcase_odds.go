package app

import (
	"context"
	"fmt"
	"slices"
	"time"

	"github.com/google/uuid"
	"rungbook/internal/engine/pacing"
	"rungbook/internal/engine/standing"
	"rungbook/internal/postgres"
	"rungbook/internal/studio"
)

// Spread is the distribution of a number of children: it is Low to High with 8 chances in 10.
type Spread struct {
	Chances   []float64 // of 0, 1, 2 ... children
	Mean      float64
	Low, High int
}

// Sharing is how much the children of a class fare alike: 0 each for itself, 1 all alike. Past is what its own past says by itself, from
// so many Groups of children who were working at the same rung; Usual is what it is drawn to while they are few.
type Sharing struct {
	Shared, Past, Usual float64
	Groups              int
}

// ClassOdds is how many of a class will be ready for what it shows, each child for itself and with what the class shares.
type ClassOdds struct {
	Sharing Sharing
	Pieces  []PieceOdds
}

// PieceOdds is how many children will be ready for one piece by its day.
type PieceOdds struct {
	ID       uuid.UUID
	Name     string
	Day      time.Time
	DayIs    string
	Lessons  int
	Children int
	Apart    int    // of them, who do another rung in place of one, or stand in the picture
	Alone    Spread // each for itself
	Together Spread // with what the class shares
	Rungs    []RungOdds
}

// RungOdds is how many of the children who do a rung will have it secure.
type RungOdds struct {
	Key, Name       string
	Children        int
	Ready           int
	Alone, Together Spread
}

// oddsSeed makes the simulation repeatable: the same class gives the same answer.
const oddsSeed = 1

// odds works out how many will be ready for each piece whose day is not over.
func (s *stage) odds(ctx context.Context) (ClassOdds, error) {
	var out ClassOdds
	past, err := s.turnedOut()
	if err != nil {
		return out, err
	}
	alike, err := pacing.EstimateShared(past)
	if err != nil {
		return out, fmt.Errorf("work out what a class shares: %w", err)
	}
	out.Sharing = Sharing{Shared: alike.Shared, Past: alike.Alone, Usual: pacing.UsualShared, Groups: alike.Groups}
	for _, p := range s.show.Pieces {
		v, err := s.view(p)
		if err != nil {
			return out, err
		}
		if v.Over || len(v.Children) == 0 {
			continue
		}
		odds, err := s.pieceOdds(ctx, v, out.Sharing.Shared)
		if err != nil {
			return out, err
		}
		out.Pieces = append(out.Pieces, odds)
	}
	return out, nil
}

func (s *stage) pieceOdds(ctx context.Context, v PieceView, shared float64) (PieceOdds, error) {
	out := PieceOdds{ID: v.ID, Name: v.Name, Day: v.Day, DayIs: v.DayIs, Lessons: v.Lessons, Children: len(v.Children)}
	ready := make([]float64, len(v.Children))
	for i, c := range v.Children {
		ready[i] = s.readyFor(c)
		if slices.ContainsFunc(c.Rungs, func(r ChildRung) bool { return r.Fit == SwappedFit }) {
			out.Apart++
		}
	}
	var err error
	if out.Alone, out.Together, err = counts(ctx, ready, shared); err != nil {
		return out, err
	}
	for _, r := range v.Rungs {
		line := RungOdds{Key: r.Key, Name: r.Name, Ready: r.Ready}
		var chances []float64
		for _, c := range v.Children {
			for _, x := range c.Rungs {
				if x.Key == r.Key && x.Fit != SwappedFit {
					chances = append(chances, x.Chance)
				}
			}
		}
		line.Children = len(chances)
		if line.Alone, line.Together, err = counts(ctx, chances, shared); err != nil {
			return out, err
		}
		out.Rungs = append(out.Rungs, line)
	}
	return out, nil
}

// readyFor is the chance that a child has all its rungs of a piece, or another in their place. Rungs are taken as independent, but for one
// that a less likely one needs: that one speaks for both.
func (s *stage) readyFor(c PieceChild) float64 {
	chance := 1.0
	for _, r := range c.Rungs {
		spoken := slices.ContainsFunc(c.Rungs, func(x ChildRung) bool {
			return x.Fit != SwappedFit && x.Chance <= r.Chance && slices.Contains(s.graph.Before(x.Key), r.Key)
		})
		if r.Fit != SwappedFit && !spoken {
			chance *= r.Chance
		}
	}
	return chance
}

// counts is the distribution of how many come true, each for itself and with what they share.
func counts(ctx context.Context, chances []float64, shared float64) (alone, together Spread, err error) {
	c := pacing.Crowd{Rungs: []string{"it"}, Seed: oddsSeed}
	of := map[string]float64{}
	for i, p := range chances {
		id := fmt.Sprint(i)
		c.Children, of[id] = append(c.Children, id), p
	}
	c.Chance = func(child, _ string) float64 { return of[child] }
	one, err := pacing.Ready(ctx, c)
	if err != nil {
		return alone, together, fmt.Errorf("count who is likely to be ready: %w", err)
	}
	c.Shared = shared
	both, err := pacing.Ready(ctx, c)
	if err != nil {
		return alone, together, fmt.Errorf("draw who is likely to be ready: %w", err)
	}
	return spreadOf(one.Class), spreadOf(both.Class), nil
}

func spreadOf(c pacing.Count) Spread { return Spread{c.Chances, c.Mean, c.Low, c.High} }

// The spans over which the past of a class is looked at: so many of so many days, the last ending today.
const (
	pastSpans = 3
	spanDays  = 28
)

// turnedOut forecasts from days that have gone by and says what became of it: for each span and rung, the children who were working at it
// at the start. The lessons counted are those in which the class did work at the rung, since what will be worked at stands in the weeks of
// the term; how often a child comes is that of now.
func (s *stage) turnedOut() ([][]pacing.Past, error) {
	marks := map[uuid.UUID][]standing.Mark{}
	for _, m := range s.marks {
		marks[m.ChildID] = append(marks[m.ChildID], standingMark(m))
	}
	var groups [][]pacing.Past
	then := s.boards
	for n := range pastSpans {
		end := s.today.AddDate(0, 0, -n*spanDays)
		start := end.AddDate(0, 0, -spanDays)
		before := map[uuid.UUID]standing.Board{}
		for _, p := range s.pupils {
			board, err := s.graph.Board(marks[p.ID], judging(s.settings), start)
			if err != nil {
				return nil, fmt.Errorf("look back at where a child stood: %w", err)
			}
			before[p.ID] = board
		}
		span, err := s.spanOf(before, then, s.lessonsAt(start, end))
		if err != nil {
			return nil, err
		}
		groups, then = append(groups, span...), before
	}
	return groups, nil
}

// lessonsAt counts, by rung, the lessons of the class after one day and up to another in which somebody was marked at it.
func (s *stage) lessonsAt(start, end time.Time) map[string]int {
	seen := map[string]map[uuid.UUID]bool{}
	for _, m := range s.marks {
		day := dayIn(m.MarkedAt, s.Card.TimeZone)
		own := m.LessonID != nil && slices.ContainsFunc(s.Lessons, func(l studio.Lesson) bool { return l.ID == *m.LessonID })
		if !own || !day.After(start) || day.After(end) {
			continue
		}
		if seen[m.RungKey] == nil {
			seen[m.RungKey] = map[uuid.UUID]bool{}
		}
		seen[m.RungKey][*m.LessonID] = true
	}
	n := map[string]int{}
	for key, lessons := range seen {
		n[key] = len(lessons)
	}
	return n
}

// spanOf are the groups of one span, in the order of the library.
func (s *stage) spanOf(before, after map[uuid.UUID]standing.Board, lessons map[string]int) ([][]pacing.Past, error) {
	var groups [][]pacing.Past
	for _, rung := range s.graph.Rungs() {
		var group []pacing.Past
		for _, p := range s.pupils {
			if st, _ := before[p.ID].On(rung.ID); st.State != standing.Working || lessons[rung.ID] == 0 {
				continue
			}
			f, err := before[p.ID].Forecast(rung.ID, s.learning(rung.ID, outlook{learn: 1}), s.lessonsHeld(p.ID, rung.TwoSided, lessons[rung.ID]))
			if err != nil {
				return nil, fmt.Errorf("look back at the rung %s: %w", rung.ID, err)
			}
			is, _ := after[p.ID].On(rung.ID)
			group = append(group, pacing.Past{Chance: f.Secure, Happened: is.Met()})
		}
		if len(group) > 1 {
			groups = append(groups, group)
		}
	}
	return groups, nil
}

// lessonsHeld are so many lessons at a rung, each with the chance that the child comes.
func (s *stage) lessonsHeld(child uuid.UUID, twoSided bool, lessons int) standing.Ahead {
	p := postgres.Prospect{Present: s.pace.Present[child], Noted: s.pace.Noted[child], Lessons: lessons, Turns: s.pace.Turns, TwoSidedTurns: s.pace.TwoSidedTurns}
	a := lessonsAhead([]postgres.Prospect{p}, twoSided)
	for i := range a.Lessons {
		a.Lessons[i] = comes(p)
	}
	return a
}

// addOdds adds what a class shares: how many will be ready for its pieces, and to each rung of the term how its number spreads then.
func (v *PacingForecast) addOdds(ctx context.Context, t *postgres.Tx, w *pacer) error {
	s, err := newStage(ctx, t, w)
	if err != nil {
		return err
	}
	if v.Odds, err = s.odds(ctx); err != nil {
		return err
	}
	for i := range v.Rungs {
		if _, v.Rungs[i].Together, err = counts(ctx, v.chances[v.Rungs[i].Key], v.Odds.Sharing.Shared); err != nil {
			return err
		}
	}
	return nil
}
