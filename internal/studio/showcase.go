package studio

import (
	"slices"
	"time"

	"github.com/google/uuid"
)

// Piece is what a class shows: who does which rungs on which day.
type Piece struct {
	ID      uuid.UUID
	ClassID uuid.UUID
	Version int // 0 before the first save
	Name    string
	OnDay   *time.Time // midnight UTC; nil: the showcase of the term
	Note    string
	Parts   []PiecePart `db:"-"`
	Swaps   []PieceSwap `db:"-"`
}

// PiecePart is a group of children of a piece with the rungs that each of them does. Everybody means all who are in the class, and then
// it has no children of its own.
type PiecePart struct {
	ID        uuid.UUID
	PieceID   uuid.UUID
	Name      string
	Everybody bool
	Rungs     []string
	Children  []uuid.UUID
}

// PieceSwap is what a child does in a piece in place of a rung; InsteadKey nil: it stands in the picture.
type PieceSwap struct {
	PieceID    uuid.UUID
	ChildID    uuid.UUID
	RungKey    string
	InsteadKey *string
	AcceptedAt time.Time
}

// Bounds of a piece.
const (
	MostPieces     = 20 // of a class
	mostParts      = 12
	mostPieceRungs = 30 // of a part
)

// Validate checks a piece by itself, without its parts.
func (p Piece) Validate() []FieldError {
	var c checks
	c.text("name", p.Name, 80)
	if len([]rune(p.Note)) > 500 {
		c.refuse("note", "at most 500 characters")
	}
	if len(p.Parts) > mostParts {
		c.refuse("name", "at most 12 parts in a piece")
	}
	return c.errors
}

// Validate checks a part by itself.
func (p PiecePart) Validate() []FieldError {
	var c checks
	c.text("part", p.Name, 60)
	if len(p.Rungs) > mostPieceRungs {
		c.refuse("rung", "at most 30 in a part")
	}
	if len(p.Rungs) == 0 {
		c.refuse("rung", "at least one rung")
	}
	if !p.Everybody && len(p.Children) == 0 {
		c.refuse("child", "at least one child, or everybody")
	}
	return c.errors
}

// RungsOf are the rungs that a child of the class does in the piece, each once, in the order of the parts.
func (p Piece) RungsOf(child uuid.UUID) []string {
	var keys []string
	for _, part := range p.Parts {
		if !part.Everybody && !slices.Contains(part.Children, child) {
			continue
		}
		for _, key := range part.Rungs {
			if !slices.Contains(keys, key) {
				keys = append(keys, key)
			}
		}
	}
	return keys
}

// Swap is what a child does in place of a rung, nil when it does the rung.
func (p Piece) Swap(child uuid.UUID, rung string) *PieceSwap {
	i := slices.IndexFunc(p.Swaps, func(s PieceSwap) bool { return s.ChildID == child && s.RungKey == rung })
	if i < 0 {
		return nil
	}
	return &p.Swaps[i]
}

// Part is the part of an id, nil when the piece has none such.
func (p *Piece) Part(id uuid.UUID) *PiecePart {
	i := slices.IndexFunc(p.Parts, func(x PiecePart) bool { return x.ID == id })
	if i < 0 {
		return nil
	}
	return &p.Parts[i]
}
