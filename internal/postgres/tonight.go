package postgres

import (
	"context"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"
	"rungbook/internal/studio"
)

// Tonight is a shared plan as an assistant may read it: first names and initials, limits as actions, names of the people.
type Tonight struct {
	Lesson   studio.Lesson
	Class    studio.Class
	Blocks   []studio.Block
	Plan     studio.Plan
	Shared   bool // false while no plan is to be seen; the plan, the people and the limits are then empty
	Children []studio.Child
	Staff    []studio.Staff
	Limits   []studio.CareLimit
	OwnID    uuid.UUID // the actor's staff record; Nil when it has none
}

// Tonight reads a lesson with its shared plan, if there is one.
func (t *Tx) Tonight(ctx context.Context, lesson uuid.UUID) (Tonight, error) {
	var n Tonight
	var err error
	if n.Lesson, err = t.Lesson(ctx, lesson); err != nil {
		return n, err
	}
	if n.Class, err = one[studio.Class](ctx, t, classSQL+` where id = $1`, n.Lesson.ClassID); err != nil {
		return n, err
	}
	n.Plan, err = one[studio.Plan](ctx, t, planSQL+` where lesson_id = $1 and shared_at is not null`, lesson)
	if studio.CodeOf(err) == studio.NotFound {
		return n, nil
	}
	if err != nil {
		return n, err
	}
	n.Shared = true
	if err := t.planParts(ctx, &n.Plan); err != nil {
		return n, err
	}
	day := t.DayOf(n.Lesson.StartsAt)
	var own []uuid.UUID
	batch := &pgx.Batch{}
	batch.Queue(`select position, kind, minutes, drills from lesson_block where lesson_id = $1 order by position`, lesson).Query(collect(&n.Blocks))
	batch.Queue(`select c.id, c.given_name, c.initial, c.joined_on, c.left_on from child c
		where c.id = any(array(select m.child_id from plan_member m where m.plan_id = $1)) order by c.given_name, c.initial, c.id`, n.Plan.ID).Query(collect(&n.Children))
	batch.Queue(`select s.id, s.account_id, s.name, s.trainee, s.can_lead, s.left_on from staff s
		where s.id = any(array(select x.staff_id from plan_staff x where x.plan_id = $1)) or s.account_id = $2 order by s.name`, n.Plan.ID, t.Actor.ID).Query(collect(&n.Staff))
	batch.Queue(eveningLimitsSQL, n.Class.ID, day).Query(collect(&n.Limits))
	batch.Queue(`select id from staff where account_id = $1`, t.Actor.ID).Query(func(rows pgx.Rows) error {
		var err error
		own, err = pgx.CollectRows(rows, pgx.RowTo[uuid.UUID])
		return err
	})
	if err := t.tx.SendBatch(ctx, batch).Close(); err != nil {
		return n, err
	}
	if len(own) > 0 {
		n.OwnID = own[0]
	}
	return n, nil
}
