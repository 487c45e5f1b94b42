package demo

import (
	"context"
	"fmt"

	"github.com/google/uuid"
	"rungbook/internal/app"
	"rungbook/internal/studio"
)

// addPieces gives the first class two pieces of which some children have every rung, some will have, and some need another: the rungs are
// chosen by where the class stands. In the first piece one child does what is offered.
func (h *house) addPieces(ctx context.Context) error {
	class := h.classes[terns]
	term, err := h.use.Pacing(ctx, studio.ProgramActor(), class, app.PacingAsk{})
	if err != nil {
		return err
	}
	middling := middlingRungs(term)
	if len(middling) < 3 {
		return fmt.Errorf("%d rungs of the term are secure for some of the class and not for others: too few for its pieces", len(middling))
	}
	quay, err := h.use.AddPiece(ctx, studio.ProgramActor(), studio.Piece{ClassID: class, Name: "Lanterns on the Quay",
		Note: "Two lines that cross at the second bell. The front row turns first."}, middling[:2])
	if err != nil {
		return err
	}
	if err := h.addFrontRow(ctx, class, quay, middling[2]); err != nil {
		return err
	}
	day := h.term.ShowcaseOn.AddDate(0, 0, -7)
	if _, err := h.use.AddPiece(ctx, studio.ProgramActor(), studio.Piece{ClassID: class, Name: "Low Tide", OnDay: &day,
		Note: "An open rehearsal for the families, a week before."}, middling[1:3]); err != nil {
		return err
	}
	return h.acceptOne(ctx, class, quay)
}

// middlingRungs are the rungs on the ladders of a term that most of the class has secure and some have not, one a ladder: the one nearest to
// three of four.
func middlingRungs(term app.PacingView) []string {
	var keys []string
	for _, l := range term.Choice {
		best, key := 4*term.Children, ""
		for _, r := range l.Rungs {
			if off := max(4*r.Secure-3*term.Children, 3*term.Children-4*r.Secure); l.Term && r.Secure > 0 && r.Secure < term.Children && off < best {
				best, key = off, r.Key
			}
		}
		if key != "" {
			keys = append(keys, key)
		}
	}
	return keys
}

// addFrontRow gives the first four children of the piece a part of their own.
func (h *house) addFrontRow(ctx context.Context, class, piece uuid.UUID, rung string) error {
	view, err := h.use.Piece(ctx, studio.ProgramActor(), class, piece)
	if err != nil {
		return err
	}
	part := studio.PiecePart{Name: "Front row", Rungs: []string{rung}}
	for _, c := range view.Pupils[:min(4, len(view.Pupils))] {
		part.Children = append(part.Children, c.ID)
	}
	return h.use.SavePart(ctx, studio.ProgramActor(), app.PieceRef{Class: class, Piece: piece, Version: view.Version}, part)
}

// acceptOne accepts the rung that is offered to the first child whom one rung alone keeps from being ready.
func (h *house) acceptOne(ctx context.Context, class, piece uuid.UUID) error {
	view, err := h.use.Piece(ctx, studio.ProgramActor(), class, piece)
	if err != nil {
		return err
	}
	for _, c := range view.Children {
		var short []app.ChildRung
		for _, r := range c.Rungs {
			if r.Fit != app.ReadyFit {
				short = append(short, r)
			}
		}
		if len(short) == 1 && short[0].Fit == app.NotYetFit && short[0].Offer.Key != "" {
			on := app.PieceRef{Class: class, Piece: piece, Version: view.Version}
			return h.use.AcceptSwap(ctx, studio.ProgramActor(), on, c.ID, short[0].Key, short[0].Offer.Key)
		}
	}
	return nil
}
