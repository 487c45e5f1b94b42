package postgres

import (
	"context"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"
	"rungbook/internal/studio"
)

// CalendarLesson is a lesson as the calendar sees it. Touched means that something hangs on it already: a plan, marks, attendance,
// soreness, a note, or that it was called off.
type CalendarLesson struct {
	studio.Lesson
	Touched bool
}

// CalendarOf lists all lessons of a class by time.
func (t *Tx) CalendarOf(ctx context.Context, class uuid.UUID) ([]CalendarLesson, error) {
	return many[CalendarLesson](ctx, t, `select l.id, l.class_id, l.starts_at, l.minutes, coalesce(n.note, '') as note, l.cancelled_at,
		coalesce(n.note, '') <> '' or l.cancelled_at is not null or exists (select from plan p where p.lesson_id = l.id) or exists (select from mark m where m.lesson_id = l.id)
		or exists (select from attendance a where a.lesson_id = l.id) or exists (select from staff_attendance s where s.lesson_id = l.id)
		or exists (select from lesson_block b where b.lesson_id = l.id and b.drills <> '{}')
		or exists (select from sheet_item i where i.lesson_id = l.id) or exists (select from sheet_note h where h.lesson_id = l.id)
		or exists (select from incident x where x.lesson_id = l.id) as touched
		from lesson l left join lesson_note n on n.lesson_id = l.id where l.class_id = $1 order by l.starts_at`, class)
}

// AddLessons writes new lessons, each with the same blocks. Each must have its id.
func (t *Tx) AddLessons(ctx context.Context, lessons []studio.Lesson, blocks []studio.Block) error {
	batch := &pgx.Batch{}
	for _, l := range lessons {
		batch.Queue(`insert into lesson (id, class_id, starts_at, minutes) values ($1, $2, $3, $4)`, l.ID, l.ClassID, l.StartsAt, l.Minutes)
		for _, b := range blocks {
			batch.Queue(`insert into lesson_block (lesson_id, position, kind, minutes, drills) values ($1, $2, $3, $4, $5)`,
				l.ID, b.Position, b.Kind, b.Minutes, filled(b.Drills))
		}
	}
	return t.tx.SendBatch(ctx, batch).Close()
}

// DeleteLessons removes lessons on which nothing hangs.
func (t *Tx) DeleteLessons(ctx context.Context, ids []uuid.UUID) error {
	_, err := t.tx.Exec(ctx, `delete from lesson where id = any($1)`, ids)
	return err
}

// ClassesWithoutLessons lists the classes of a term that have no lesson at all.
func (t *Tx) ClassesWithoutLessons(ctx context.Context, term uuid.UUID) ([]uuid.UUID, error) {
	return column[uuid.UUID](ctx, t, `select id from class where term_id = $1 and not exists (select from lesson l where l.class_id = class.id)`, term)
}
