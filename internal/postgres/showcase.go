package postgres

import (
	"context"
	"time"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"
	"rungbook/internal/studio"
)

// StagePerson is somebody of the staff who has not left. Here says that the person is on the class today.
type StagePerson struct {
	StaffID   uuid.UUID
	Name      string
	BirthDate time.Time
	Trainee   bool
	Here      bool
}

// Showcase is what a class shows, with what it is judged by beside the children's marks.
type Showcase struct {
	Pieces   []studio.Piece // by name
	Limits   []KeptLimit    // of the children in the class today
	SignOffs []studio.SignOff
	People   []StagePerson
	Stock    []studio.Equipment
}

const (
	piecesSQL     = `select id, class_id, version, name, on_day, note from piece where class_id = $1 order by lower(name), id`
	pieceRungsSQL = `array(select x.rung_key from piece_part_rung x join rung r on r.key = x.rung_key join ladder l on l.key = r.ladder_key where x.part_id = q.id order by l.position, r.position)`
	piecePartsSQL = `select q.id, q.piece_id, q.name, q.everybody, ` + pieceRungsSQL + ` as rungs, array(select c.child_id from piece_part_child c where c.part_id = q.id) as children
		from piece_part q join piece p on p.id = q.piece_id where p.class_id = $1 order by not q.everybody, lower(q.name), q.id`
	pieceSwapsSQL  = `select s.piece_id, s.child_id, s.rung_key, s.instead_key, s.accepted_at from piece_swap s join piece p on p.id = s.piece_id where p.class_id = $1`
	stagePeopleSQL = `select s.id as staff_id, s.name, d.birth_date, s.trainee, exists (select from class_staff k where k.staff_id = s.id and k.class_id = $1
			and k.from_on <= $2 and coalesce(k.until_on, 'infinity') >= $2) as here
		from staff s join staff_detail d on d.staff_id = s.id where coalesce(s.left_on, 'infinity') > $2 order by lower(s.name), s.id`
)

// Showcase reads what a class shows in one round trip. Ask first whether the actor may see the class.
func (t *Tx) Showcase(ctx context.Context, class uuid.UUID) (Showcase, error) {
	var s Showcase
	var parts []studio.PiecePart
	var swaps []studio.PieceSwap
	batch := &pgx.Batch{}
	batch.Queue(piecesSQL, class).Query(collect(&s.Pieces))
	batch.Queue(piecePartsSQL, class).Query(collect(&parts))
	batch.Queue(pieceSwapsSQL, class).Query(collect(&swaps))
	batch.Queue(careLimitsSQL+classPupils+careLimitsOrder, class, t.Today).Query(collect(&s.Limits))
	batch.Queue(signOffSQL+`where o.revoked_at is null and (s.left_on is null or s.left_on > $1) order by lower(s.name), s.id, o.expires_on`, t.Today).Query(collect(&s.SignOffs))
	batch.Queue(stagePeopleSQL, class, t.Today).Query(collect(&s.People))
	batch.Queue(`select key, name, stock from equipment`).Query(collect(&s.Stock))
	if err := t.tx.SendBatch(ctx, batch).Close(); err != nil {
		return s, err
	}
	for i := range s.Pieces {
		p := &s.Pieces[i]
		for _, part := range parts {
			if part.PieceID == p.ID {
				p.Parts = append(p.Parts, part)
			}
		}
		for _, swap := range swaps {
			if swap.PieceID == p.ID {
				p.Swaps = append(p.Swaps, swap)
			}
		}
	}
	return s, nil
}

// AddPiece writes a new piece with its parts.
func (t *Tx) AddPiece(ctx context.Context, p studio.Piece) (uuid.UUID, error) {
	id, err := value[uuid.UUID](ctx, t, `insert into piece (class_id, name, on_day, note, saved_by, saved_at) values ($1, $2, $3, $4, $5, $6) returning id`,
		p.ClassID, p.Name, p.OnDay, p.Note, t.savedBy(), t.Now)
	if err != nil {
		return id, err
	}
	for _, part := range p.Parts {
		part.PieceID = id
		if err := t.addPart(ctx, part); err != nil {
			return id, err
		}
	}
	return id, nil
}

// SavePiece writes the name, day and note of a piece and counts its version up. p.Version is the version it started from: when another was
// saved meanwhile nothing is written and the error is a studio.Conflict. Every change of a piece goes through it.
func (t *Tx) SavePiece(ctx context.Context, p studio.Piece) error {
	err := exec(ctx, t, `update piece set version = version + 1, name = $3, on_day = $4, note = $5, saved_by = $6, saved_at = $7 where id = $1 and version = $2`,
		p.ID, p.Version, p.Name, p.OnDay, p.Note, t.savedBy(), t.Now)
	if studio.CodeOf(err) == studio.NotFound {
		return &studio.Error{Code: studio.Conflict, Text: "Somebody else changed this piece meanwhile. Yours was not written over it: open the page again to see theirs."}
	}
	return err
}

// RemovePiece takes a piece away.
func (t *Tx) RemovePiece(ctx context.Context, piece uuid.UUID) error {
	return exec(ctx, t, `delete from piece where id = $1`, piece)
}

func (t *Tx) addPart(ctx context.Context, p studio.PiecePart) error {
	id, err := value[uuid.UUID](ctx, t, `insert into piece_part (piece_id, name, everybody) values ($1, $2, $3) returning id`, p.PieceID, p.Name, p.Everybody)
	if err != nil {
		return err
	}
	p.ID = id
	return t.fillPart(ctx, p)
}

func (t *Tx) fillPart(ctx context.Context, p studio.PiecePart) error {
	batch := &pgx.Batch{}
	for _, key := range p.Rungs {
		batch.Queue(`insert into piece_part_rung (part_id, rung_key) values ($1, $2)`, p.ID, key)
	}
	for _, child := range p.Children {
		batch.Queue(`insert into piece_part_child (part_id, child_id) values ($1, $2)`, p.ID, child)
	}
	return t.tx.SendBatch(ctx, batch).Close()
}

// SavePart writes a part of a piece: a new one when it has no id, else over the one that it has. Save the piece first.
func (t *Tx) SavePart(ctx context.Context, p studio.PiecePart) error {
	if p.ID == uuid.Nil {
		return t.addPart(ctx, p)
	}
	if err := exec(ctx, t, `update piece_part set name = $3, everybody = $4 where id = $1 and piece_id = $2`, p.ID, p.PieceID, p.Name, p.Everybody); err != nil {
		return err
	}
	batch := &pgx.Batch{}
	batch.Queue(`delete from piece_part_rung where part_id = $1`, p.ID)
	batch.Queue(`delete from piece_part_child where part_id = $1`, p.ID)
	if err := t.tx.SendBatch(ctx, batch).Close(); err != nil {
		return err
	}
	return t.fillPart(ctx, p)
}

// RemovePart takes a part out of a piece. Save the piece first.
func (t *Tx) RemovePart(ctx context.Context, piece, part uuid.UUID) error {
	return exec(ctx, t, `delete from piece_part where id = $1 and piece_id = $2`, part, piece)
}

// SaveSwap keeps what a child does in place of a rung, over what was kept before. Save the piece first.
func (t *Tx) SaveSwap(ctx context.Context, s studio.PieceSwap) error {
	return exec(ctx, t, `insert into piece_swap (piece_id, child_id, rung_key, instead_key, accepted_by, accepted_at) values ($1, $2, $3, $4, $5, $6)
		on conflict (piece_id, child_id, rung_key) do update set instead_key = $4, accepted_by = $5, accepted_at = $6`,
		s.PieceID, s.ChildID, s.RungKey, s.InsteadKey, t.savedBy(), t.Now)
}

// RemoveSwap has a child do the rung after all. Save the piece first.
func (t *Tx) RemoveSwap(ctx context.Context, piece, child uuid.UUID, rung string) error {
	return exec(ctx, t, `delete from piece_swap where piece_id = $1 and child_id = $2 and rung_key = $3`, piece, child, rung)
}
