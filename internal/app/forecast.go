package app

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"time"

	"rungbook/internal/engine/standing"
	"rungbook/internal/postgres"
)

// What a forecast goes by while a class has nothing to go by. Ours; no published figures.
const (
	usualTurns  = 4.0
	usualVisits = 0.5
)

// RungForecast is how likely a rung that a child may work at is secure by the day of the forecast.
type RungForecast struct {
	Key, Name, Ladder string
	State             string
	Secure            float64 // 0 to 1
	Error             float64 // the standard error of Secure; 0 when it is exact
	Known             float64 // that the rung is known now, by the model
	Turns             float64 // marked turns to be expected until then
	Own               bool    // by what the studio's own marks say about the rung; false is the defaults
}

// WaitingRung is a rung that waits, with the way to it: all that must become secure first, in an order in which it can, and those of
// them that may be begun now.
type WaitingRung struct {
	Key, Name, Ladder string
	First             []string // names
	Begin             []string // names
}

// ChildForecast is what is ahead of a child until a day. Why says why there is none, "" when there is one.
type ChildForecast struct {
	By      time.Time      // midnight UTC
	What    string         // "showcase" or "end of the term"
	Lessons int            // left in all classes of the child
	Comes   float64        // the share of them that the child may be expected at, 0 to 1
	Rungs   []RungForecast // likeliest first
	Waiting []WaitingRung
	Why     string
}

// forecast looks ahead from a child's board.
func (l *ladders) forecast(page postgres.AheadPage, board standing.Board) (ChildForecast, error) {
	view, err := ChildForecast{By: page.Ahead.Day, What: page.Ahead.What, Waiting: l.waiting(board)}, error(nil)
	for _, p := range page.Prospects {
		view.Lessons += p.Lessons
		view.Comes += comes(p) * float64(p.Lessons)
	}
	switch {
	case page.Ahead.What == "":
		view.Why = "No term is on or ahead, so there are no lessons to look ahead to."
	case view.Lessons == 0:
		view.Why = "No lessons of this child's classes are on the calendar until then."
	default:
		view.Comes /= float64(view.Lessons)
		view.Rungs, err = l.foresee(board, page.Prospects, page.Fits)
	}
	return view, err
}

// foresee forecasts each rung that is open or begun.
func (l *ladders) foresee(board standing.Board, prospects []postgres.Prospect, fits []postgres.RungFit) ([]RungForecast, error) {
	own := map[string]standing.Learning{}
	for _, f := range fits {
		if f.Used {
			own[f.RungKey] = learningOf(f)
		}
	}
	var all []RungForecast
	for _, s := range board.Rungs {
		if s.State != standing.Open && s.State != standing.Working {
			continue
		}
		learning, fitted := own[s.RungID]
		if !fitted {
			learning = standing.DefaultLearning()
		}
		rung := l.rungs[s.RungID]
		f, err := board.Forecast(s.RungID, learning, lessonsAhead(prospects, rung.TwoSided))
		if err != nil {
			return nil, fmt.Errorf("forecast the rung %s: %w", s.RungID, err)
		}
		all = append(all, RungForecast{Key: s.RungID, Name: rung.Name, Ladder: l.ladder[l.of[s.RungID]].Name, State: string(s.State),
			Secure: f.Secure, Error: f.Error, Known: f.Known, Turns: f.Turns, Own: fitted})
	}
	slices.SortStableFunc(all, func(a, b RungForecast) int { return cmp.Compare(b.Secure, a.Secure) })
	return all, nil
}

// lessonsAhead puts the lessons of all classes in one row. A lesson counts with the chance that the child comes and that a class works
// again at a rung once begun; the turns are the classes' mean, weighted by their lessons.
func lessonsAhead(prospects []postgres.Prospect, twoSided bool) standing.Ahead {
	var a standing.Ahead
	turns, weight := 0.0, 0.0
	for _, p := range prospects {
		chance := comes(p) * visits(p)
		for range p.Lessons {
			a.Lessons = append(a.Lessons, chance)
		}
		pace := p.Turns
		if twoSided {
			pace = p.TwoSidedTurns
		}
		turns += float64(p.Lessons) * cmp.Or(pace, usualTurns)
		weight += float64(p.Lessons)
	}
	a.Turns = int(min(max(math.Round(turns/weight), 1), 60))
	return a
}

// comes is the chance that a child comes to a lesson: its own share so far, drawn a little to a half while few were noted.
func comes(p postgres.Prospect) float64 {
	return (float64(p.Present) + 0.5) / (float64(p.Noted) + 1)
}

// visits is the chance that a lesson works again at a rung that was begun: the class's share so far, begun from the usual one.
func visits(p postgres.Prospect) float64 {
	const weight = 4
	return (float64(p.Visits) + weight*usualVisits) / (float64(max(p.Visits, p.Chances)) + weight)
}

// waiting lists the rungs that wait for others, nearest first.
func (l *ladders) waiting(board standing.Board) []WaitingRung {
	var all []WaitingRung
	for _, s := range board.Rungs {
		if s.State != standing.Waiting {
			continue
		}
		all = append(all, WaitingRung{Key: s.RungID, Name: l.rungs[s.RungID].Name, Ladder: l.ladder[l.of[s.RungID]].Name,
			First: l.namesOf(s.Missing), Begin: l.namesOf(s.Begin)})
	}
	slices.SortStableFunc(all, func(a, b WaitingRung) int { return cmp.Compare(len(a.First), len(b.First)) })
	return all
}

func (l *ladders) namesOf(rungs []string) []string {
	names := make([]string, len(rungs))
	for i, key := range rungs {
		names[i] = l.rungs[key].Name
	}
	return names
}
