package app

import (
	"context"
	"slices"
	"strings"

	"github.com/google/uuid"
	"rungbook/internal/postgres"
	"rungbook/internal/studio"
)

// AddPiece adds a piece to what a class shows, with its first part: rungs that everybody does.
func (a *App) AddPiece(ctx context.Context, actor studio.Actor, p studio.Piece, rungs []string) (uuid.UUID, error) {
	var id uuid.UUID
	err := a.onStage(ctx, actor, studio.KeepPacing, p.ClassID, func(t *postgres.Tx, s *stage) error {
		p.Name, p.Note = strings.TrimSpace(p.Name), strings.TrimSpace(p.Note)
		p.Parts = []studio.PiecePart{{Name: "Everybody", Everybody: true, Rungs: rungs}}
		problems := append(s.pieceProblems(p), p.Parts[0].Validate()...)
		if len(s.show.Pieces) >= studio.MostPieces {
			problems = append(problems, studio.FieldError{Field: "name", Problem: "at most 20 pieces of a class"})
		}
		if err := studio.Refuse(nothingSaved, problems); err != nil {
			return err
		}
		if err := s.known(p.Parts[0]); err != nil {
			return err
		}
		var err error
		id, err = t.AddPiece(ctx, p)
		return err
	})
	return id, err
}

// pieceProblems are what is wrong with the name, day and note of a piece.
func (s *stage) pieceProblems(p studio.Piece) []studio.FieldError {
	problems := p.Validate()
	if p.OnDay != nil && (p.OnDay.Before(s.Term.StartsOn) || p.OnDay.After(s.Term.EndsOn)) {
		problems = append(problems, studio.FieldError{Field: "on_day", Problem: "a day of the term, from " + s.Term.StartsOn.Format("2 January") + " to " + s.Term.EndsOn.Format("2 January 2006")})
	}
	if slices.ContainsFunc(s.show.Pieces, func(x studio.Piece) bool { return x.ID != p.ID && strings.EqualFold(x.Name, p.Name) }) {
		problems = append(problems, studio.FieldError{Field: "name", Problem: "another piece of this class has this name"})
	}
	return problems
}

// known refuses rungs that are not in the library and children who are not in the class.
func (s *stage) known(p studio.PiecePart) error {
	for _, key := range p.Rungs {
		if _, ok := s.rungs[key]; !ok {
			return studio.Missing()
		}
	}
	for _, child := range p.Children {
		if !slices.Contains(idsOf(s.pupils), child) {
			return studio.Missing()
		}
	}
	return nil
}

// changePiece changes a piece in one transaction; version is the one that the change was made on. change gets a copy to alter, and does
// what else there is to write once the piece itself is.
func (a *App) changePiece(ctx context.Context, actor studio.Actor, on PieceRef, change func(*stage, *studio.Piece) (func(*postgres.Tx) error, error)) error {
	return a.onStage(ctx, actor, studio.KeepPacing, on.Class, func(t *postgres.Tx, s *stage) error {
		kept := s.piece(on.Piece)
		if kept == nil {
			return studio.Missing()
		}
		p := *kept
		p.Version = on.Version
		then, err := change(s, &p)
		if err != nil {
			return err
		}
		if err := t.SavePiece(ctx, p); err != nil {
			return err
		}
		return then(t)
	})
}

// PieceRef is a piece of a class as somebody last saw it.
type PieceRef struct {
	Class, Piece uuid.UUID
	Version      int
}

// SavePiece changes the name, day and note of a piece.
func (a *App) SavePiece(ctx context.Context, actor studio.Actor, on PieceRef, to studio.Piece) error {
	return a.changePiece(ctx, actor, on, func(s *stage, p *studio.Piece) (func(*postgres.Tx) error, error) {
		p.Name, p.OnDay, p.Note = strings.TrimSpace(to.Name), to.OnDay, strings.TrimSpace(to.Note)
		return func(*postgres.Tx) error { return nil }, studio.Refuse(nothingSaved, s.pieceProblems(*p))
	})
}

// RemovePiece takes a piece away, with what was accepted in it.
func (a *App) RemovePiece(ctx context.Context, actor studio.Actor, on PieceRef) error {
	return a.changePiece(ctx, actor, on, func(_ *stage, p *studio.Piece) (func(*postgres.Tx) error, error) {
		return func(t *postgres.Tx) error { return t.RemovePiece(ctx, p.ID) }, nil
	})
}

// SavePart keeps a part of a piece: a new one when it has no id.
func (a *App) SavePart(ctx context.Context, actor studio.Actor, on PieceRef, part studio.PiecePart) error {
	return a.changePiece(ctx, actor, on, func(s *stage, p *studio.Piece) (func(*postgres.Tx) error, error) {
		part.PieceID, part.Name = p.ID, strings.TrimSpace(part.Name)
		if part.ID != uuid.Nil && p.Part(part.ID) == nil {
			return nil, studio.Missing()
		}
		if part.Everybody {
			part.Children = nil
		}
		problems := part.Validate()
		if slices.ContainsFunc(p.Parts, func(x studio.PiecePart) bool { return x.ID != part.ID && strings.EqualFold(x.Name, part.Name) }) {
			problems = append(problems, studio.FieldError{Field: "part", Problem: "another part of this piece has this name"})
		}
		if part.ID == uuid.Nil {
			p.Parts = append(slices.Clone(p.Parts), part)
			problems = append(problems, p.Validate()...)
		}
		if err := studio.Refuse(nothingSaved, problems); err != nil {
			return nil, err
		}
		return func(t *postgres.Tx) error { return t.SavePart(ctx, part) }, s.known(part)
	})
}

// RemovePart takes a part out of a piece.
func (a *App) RemovePart(ctx context.Context, actor studio.Actor, on PieceRef, part uuid.UUID) error {
	return a.changePiece(ctx, actor, on, func(_ *stage, p *studio.Piece) (func(*postgres.Tx) error, error) {
		return func(t *postgres.Tx) error { return t.RemovePart(ctx, p.ID, part) }, nil
	})
}

// AcceptSwap has a child do what is offered in place of a rung, or with "" stand in the picture. Anything else is not offered, and a
// Conflict: where the child stands may have changed since the page was read.
func (a *App) AcceptSwap(ctx context.Context, actor studio.Actor, on PieceRef, child uuid.UUID, rung, instead string) error {
	return a.changePiece(ctx, actor, on, func(s *stage, p *studio.Piece) (func(*postgres.Tx) error, error) {
		if !slices.Contains(idsOf(s.pupils), child) || !slices.Contains(p.RungsOf(child), rung) {
			return nil, studio.Missing()
		}
		day, _ := s.dayOf(*p)
		offer := s.offer(child, rung, s.limits(child, day))
		swap := studio.PieceSwap{PieceID: p.ID, ChildID: child, RungKey: rung}
		if instead != "" {
			if instead != offer.Key {
				return nil, &studio.Error{Code: studio.Conflict, Text: "What may stand in for the rung has changed since this page was read. Nothing was changed: look at it below."}
			}
			swap.InsteadKey = &instead
		}
		return func(t *postgres.Tx) error { return t.SaveSwap(ctx, swap) }, nil
	})
}

// UndoSwap has a child do the rung after all.
func (a *App) UndoSwap(ctx context.Context, actor studio.Actor, on PieceRef, child uuid.UUID, rung string) error {
	return a.changePiece(ctx, actor, on, func(_ *stage, p *studio.Piece) (func(*postgres.Tx) error, error) {
		if p.Swap(child, rung) == nil {
			return nil, studio.Missing()
		}
		return func(t *postgres.Tx) error { return t.RemoveSwap(ctx, p.ID, child, rung) }, nil
	})
}
