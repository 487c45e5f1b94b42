package postgres

import (
	"context"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"
	"rungbook/internal/studio"
)

const planSQL = `select id, lesson_id, version, shared_at, rotations, work_seconds, worth, bound, optimal, saved_at from plan`

// PlanOf reads the plan of a lesson; studio.Missing when there is none to be seen.
func (t *Tx) PlanOf(ctx context.Context, lesson uuid.UUID) (studio.Plan, error) {
	p, err := one[studio.Plan](ctx, t, planSQL+` where lesson_id = $1`, lesson)
	if err != nil {
		return p, err
	}
	return p, t.planParts(ctx, &p)
}

func (t *Tx) planParts(ctx context.Context, p *studio.Plan) error {
	batch := &pgx.Batch{}
	batch.Queue(`select child_id, group_no, pinned from plan_member where plan_id = $1 order by group_no, child_id`, p.ID).Query(collect(&p.Members))
	batch.Queue(`select rotation, group_no, ladder_key, pinned from plan_cell where plan_id = $1 order by rotation, group_no`, p.ID).Query(collect(&p.Cells))
	batch.Queue(`select rotation, child_id, coalesce(rung_key, '') as rung_key, coalesce(drill_key, '') as drill_key, turns, wait_share, why, pinned
		from plan_entry where plan_id = $1 order by rotation, child_id`, p.ID).Query(collect(&p.Entries))
	batch.Queue(`select rotation, group_no, staff_id, duty from plan_staff where plan_id = $1 order by rotation, group_no, duty, staff_id`, p.ID).Query(
		eachRow(func(rows pgx.Rows) error {
			var rotation, group int
			var s studio.PlanStaff
			if err := rows.Scan(&rotation, &group, &s.StaffID, &s.Duty); err != nil {
				return err
			}
			cell := p.Cell(rotation, group)
			cell.Staff = append(cell.Staff, s)
			return nil
		}))
	return t.tx.SendBatch(ctx, batch).Close()
}

// collect scans all rows of a query into a list.
func collect[T any](into *[]T) func(pgx.Rows) error {
	return func(rows pgx.Rows) error {
		var err error
		*into, err = pgx.CollectRows(rows, pgx.RowToStructByNameLax[T])
		return err
	}
}

// SavePlan writes a plan over the one of its lesson. p.Version is the version that the plan started from, 0 when there was none:
// when another was saved meanwhile nothing is written and the error is a studio.Conflict. The new version comes back. What it changes is
// kept for PlanUndo.
func (t *Tx) SavePlan(ctx context.Context, p studio.Plan) (int, error) {
	was, err := t.PlanOf(ctx, p.LessonID)
	if err != nil && studio.CodeOf(err) != studio.NotFound {
		return 0, err
	}
	saved, err := one[studio.Plan](ctx, t, `insert into plan as old (lesson_id, version, shared_at, rotations, work_seconds, worth, bound, optimal, saved_by, saved_at)
		values ($1, $2 + 1, $3, $4, $5, $6, $7, $8, $9, $10)
		on conflict (lesson_id) do update set version = $2 + 1, shared_at = $3, rotations = $4, work_seconds = $5, worth = $6, bound = $7,
			optimal = $8, saved_by = $9, saved_at = $10 where old.version = $2
		returning id, version`, p.LessonID, p.Version, p.SharedAt, p.Rotations, p.WorkSeconds, p.Worth, p.Bound, p.Optimal, t.savedBy(), t.Now)
	if studio.CodeOf(err) == studio.NotFound {
		return 0, &studio.Error{Code: studio.Conflict, Text: "Somebody else saved this plan meanwhile. Yours was not written over it: open the lesson again to see theirs."}
	}
	if err != nil {
		return 0, err
	}
	if err := t.keepBefore(ctx, was, p); err != nil {
		return 0, err
	}
	batch := &pgx.Batch{}
	batch.Queue(`delete from plan_cell where plan_id = $1`, saved.ID)
	batch.Queue(`delete from plan_member where plan_id = $1`, saved.ID)
	for _, m := range p.Members {
		batch.Queue(`insert into plan_member (plan_id, child_id, group_no, pinned) values ($1, $2, $3, $4)`, saved.ID, m.ChildID, m.GroupNo, m.Pinned)
	}
	for _, c := range p.Cells {
		batch.Queue(`insert into plan_cell (plan_id, rotation, group_no, ladder_key, pinned) values ($1, $2, $3, $4, $5)`, saved.ID, c.Rotation, c.GroupNo, c.LadderKey, c.Pinned)
		for _, s := range c.Staff {
			batch.Queue(`insert into plan_staff (plan_id, rotation, group_no, staff_id, duty) values ($1, $2, $3, $4, $5)`, saved.ID, c.Rotation, c.GroupNo, s.StaffID, s.Duty)
		}
	}
	for _, e := range p.Entries {
		batch.Queue(`insert into plan_entry (plan_id, rotation, child_id, rung_key, drill_key, turns, wait_share, why, pinned)
			values ($1, $2, $3, nullif($4, ''), nullif($5, ''), $6, $7, $8, $9)`,
			saved.ID, e.Rotation, e.ChildID, e.RungKey, e.DrillKey, e.Turns, e.WaitShare, e.Why, e.Pinned)
	}
	return saved.Version, t.tx.SendBatch(ctx, batch).Close()
}

// savedBy is the acting account, null for the program.
func (t *Tx) savedBy() *uuid.UUID {
	if !t.Actor.SignedIn() {
		return nil
	}
	return &t.Actor.ID
}

// PlanBefore reads the plan of the last lesson of the class before this one that has a plan and was not cancelled; studio.Missing when
// there is none.
func (t *Tx) PlanBefore(ctx context.Context, lesson uuid.UUID) (studio.Plan, error) {
	p, err := one[studio.Plan](ctx, t, planSQL+` where lesson_id = (
		select l.id from lesson l join plan p on p.lesson_id = l.id join lesson now on now.id = $1
		where l.class_id = now.class_id and l.starts_at < now.starts_at and l.cancelled_at is null order by l.starts_at desc limit 1)`, lesson)
	if err != nil {
		return p, err
	}
	return p, t.planParts(ctx, &p)
}
