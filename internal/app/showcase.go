package app

import (
	"context"
	"fmt"
	"time"

	"github.com/google/uuid"
	"rungbook/internal/engine/standing"
	"rungbook/internal/postgres"
	"rungbook/internal/studio"
)

// Fit is how a child is placed for a rung of a piece.
type Fit string

// The fits. Likely is LikelyFrom or more by the day; Swapped does something else, which still will do.
const (
	ReadyFit   Fit = "ready"
	LikelyFit  Fit = "likely"
	NotYetFit  Fit = "not yet"
	LimitedFit Fit = "care limit"
	SwappedFit Fit = "another rung"
)

// LikelyFrom is the chance, 0 to 1, from which a rung is likely by the day. Ours; no published figure.
const LikelyFrom = 0.8

// ShowcaseView is what a class shows.
type ShowcaseView struct {
	ID          uuid.UUID
	Class, Term string
	Children    int
	Day         time.Time // of the pieces that have none of their own
	DayIs       string    // "showcase" or "end of the term"
	Pieces      []PieceView
}

// PieceView is one piece with where each child stands for it.
type PieceView struct {
	studio.Piece
	Class, Term string
	Day         time.Time
	DayIs       string // "showcase", "end of the term" or "day of the piece"
	Over        bool   // the day has gone by
	Lessons     int    // left before the day, or on it
	Children    []PieceChild
	Rungs       []PieceRung
	Without     []string // children of the class who have no part
	Loose       []string // rungs that nobody new will meet: not begun by some who do them, and in no week of the term until then
	Spotting    StageSpotting
	Equipment   []StageNeed
	Choice      []ChoiceOf // every ladder, to choose from
	Pupils      []PupilOfChoice
}

// PupilOfChoice is a child of the class who can be put into a part.
type PupilOfChoice struct {
	ID   uuid.UUID
	Name string
}

// PieceChild is a child with what it does.
type PieceChild struct {
	ID          uuid.UUID
	Name, Short string
	Parts       []string // without those of everybody
	Rungs       []ChildRung
	Fit         Fit // the least of its rungs
	Words       string
}

// ChildRung is one rung for one child. Chance is that it is secure by the day, Low to High what it may be.
type ChildRung struct {
	Key, Name         string
	Fit               Fit
	State             string // as on the child's page
	Chance, Low, High float64
	Words             string
	Offer             *Offer     // nil for whoever is ready, or does something else already
	Swap              *ChildSwap // nil when the child does the rung
}

// Offer is the safest rung in place of one. Key "" is to stand in the picture.
type Offer struct {
	Key, Name string
	Why       string
	Lost      string
	Passed    []string // rungs nearer to it that will not do, with the reason
}

// ChildSwap is what was accepted. Broken says why it will no longer do, "" when it does.
type ChildSwap struct {
	Key, Name string
	Broken    string
	Ready     bool // the child has the rung itself by now
}

// PieceRung is a rung of a piece over all who do it.
type PieceRung struct {
	Key, Name, Ladder, Part                 string
	Ready, Likely, NotYet, Limited, Swapped int
	Words                                   string
}

// Count counts the children who are placed so.
func (v PieceView) Count(fit Fit) int {
	n := 0
	for _, c := range v.Children {
		if c.Fit == fit {
			n++
		}
	}
	return n
}

// Showcase lists what a class shows.
func (a *App) Showcase(ctx context.Context, actor studio.Actor, class uuid.UUID) (ShowcaseView, error) {
	var view ShowcaseView
	err := a.onStage(ctx, actor, studio.SeeClass, class, func(_ *postgres.Tx, s *stage) error {
		view = ShowcaseView{ID: class, Class: s.Card.Name, Term: s.Term.Name, Children: len(s.pupils)}
		view.Day, view.DayIs = s.dayOf(studio.Piece{})
		for _, p := range s.show.Pieces {
			v, err := s.view(p)
			if err != nil {
				return err
			}
			view.Pieces = append(view.Pieces, v)
		}
		return nil
	})
	return view, err
}

// Piece shows one piece; without an id it is a new one, with nothing in it but what can be chosen.
func (a *App) Piece(ctx context.Context, actor studio.Actor, class, piece uuid.UUID) (PieceView, error) {
	var view PieceView
	err := a.onStage(ctx, actor, studio.SeeClass, class, func(_ *postgres.Tx, s *stage) error {
		p := studio.Piece{ClassID: class}
		if piece != uuid.Nil {
			kept := s.piece(piece)
			if kept == nil {
				return studio.Missing()
			}
			p = *kept
		}
		var err error
		if view, err = s.view(p); err != nil {
			return err
		}
		view.Choice = s.choice()
		for _, c := range s.pupils {
			view.Pupils = append(view.Pupils, PupilOfChoice{c.ID, c.FullName()})
		}
		return nil
	})
	return view, err
}

// onStage reads a class's term with what it shows, for whoever may do the action.
func (a *App) onStage(ctx context.Context, actor studio.Actor, action studio.Action, class uuid.UUID, do func(*postgres.Tx, *stage) error) error {
	return a.db.InTx(ctx, actor, func(t *postgres.Tx) error {
		if err := a.may(ctx, t, action, Target{Class: class}); err != nil {
			return err
		}
		s, err := readStage(ctx, t, class)
		if err != nil {
			return err
		}
		return do(t, s)
	})
}

// stage is a class's term with what the class shows.
type stage struct {
	*foreseer
	show  postgres.Showcase
	today time.Time
}

func readStage(ctx context.Context, t *postgres.Tx, class uuid.UUID) (*stage, error) {
	w, err := readPacer(ctx, t, class)
	if err != nil {
		return nil, err
	}
	return newStage(ctx, t, w)
}

func newStage(ctx context.Context, t *postgres.Tx, w *pacer) (*stage, error) {
	if len(w.weeks) == 0 {
		w.Pacing.Rungs = nil // no week, so none of them has one
	}
	f, err := w.foreseer(ctx, t)
	if err != nil {
		return nil, err
	}
	show, err := t.Showcase(ctx, w.Card.ID)
	if err != nil {
		return nil, fmt.Errorf("read what a class shows: %w", err)
	}
	return &stage{foreseer: f, show: show, today: t.Today}, nil
}

func (s *stage) piece(id uuid.UUID) *studio.Piece {
	for i := range s.show.Pieces {
		if s.show.Pieces[i].ID == id {
			return &s.show.Pieces[i]
		}
	}
	return nil
}

// dayOf is the day of a piece: its own, else the showcase of the term, else the end of the term.
func (s *stage) dayOf(p studio.Piece) (time.Time, string) {
	switch {
	case p.OnDay != nil:
		return *p.OnDay, "day of the piece"
	case s.Term.ShowcaseOn != nil:
		return *s.Term.ShowcaseOn, "showcase"
	}
	return s.Term.EndsOn, "end of the term"
}

// until has the forecast look ahead to the lessons up to a day.
func (s *stage) until(day time.Time) {
	s.last = 0
	for _, w := range s.weeks {
		if !w.Day.After(day) {
			s.last = w.No
		}
	}
}

// limits are the care limits of a child that hold today or on the day: what either forbids is not shown.
func (s *stage) limits(child uuid.UUID, day time.Time) []studio.CareLimit {
	var all []studio.CareLimit
	for _, l := range s.show.Limits {
		if l.ChildID == child && (l.HoldsOn(s.today) || l.HoldsOn(day)) {
			all = append(all, l.CareLimit)
		}
	}
	return all
}

func asks(r studio.Rung) standing.Asks {
	return standing.Asks{Back: r.Load.Back, Wrists: r.Load.Wrists, Landing: r.Load.Landing, Spotters: r.Spotting.People,
		Inverted: r.Inverted, BackBend: r.BackBend, Flights: r.Flight}
}
