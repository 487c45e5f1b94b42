package postgres

import (
	"bytes"
	"cmp"
	"context"
	"encoding/json"
	"fmt"
	"slices"

	"github.com/google/uuid"
	"rungbook/internal/studio"
)

// PlanUndo reads a plan as it was before its last change; nil when it never changed or is not for the actor to see. What it names may
// be gone since.
func (t *Tx) PlanUndo(ctx context.Context, plan uuid.UUID) (*studio.Plan, error) {
	text, err := value[string](ctx, t, `select parts::text from plan_before where plan_id = $1`, plan)
	if studio.CodeOf(err) == studio.NotFound {
		return nil, nil
	}
	if err != nil {
		return nil, err
	}
	var p studio.Plan
	if err := json.Unmarshal([]byte(text), &p); err != nil {
		return nil, fmt.Errorf("read the plan before the last change: %w", err)
	}
	return &p, nil
}

// keepBefore keeps a plan that is about to be replaced, unless the new one holds the same. A plan that was not there (zero) is not kept.
func (t *Tx) keepBefore(ctx context.Context, was, next studio.Plan) error {
	if was.ID == uuid.Nil {
		return nil
	}
	parts, err := partsOf(was, was)
	if err != nil {
		return err
	}
	is, err := partsOf(next, was)
	if err != nil || bytes.Equal(parts, is) {
		return err
	}
	return exec(ctx, t, `insert into plan_before (plan_id, parts) values ($1, $2) on conflict (plan_id) do update set parts = $2`, was.ID, string(parts))
}

// partsOf is what a plan holds, in an order that depends on nothing else, with the worth of a given plan.
func partsOf(p, worth studio.Plan) ([]byte, error) {
	out := studio.Plan{Rotations: p.Rotations, WorkSeconds: p.WorkSeconds, Worth: worth.Worth, Bound: worth.Bound, Optimal: worth.Optimal,
		Members: slices.Clone(p.Members), Cells: slices.Clone(p.Cells), Entries: slices.Clone(p.Entries)}
	slices.SortFunc(out.Members, func(a, b studio.PlanMember) int { return bytes.Compare(a.ChildID[:], b.ChildID[:]) })
	slices.SortFunc(out.Entries, func(a, b studio.PlanEntry) int {
		return cmp.Or(cmp.Compare(a.Rotation, b.Rotation), bytes.Compare(a.ChildID[:], b.ChildID[:]))
	})
	slices.SortFunc(out.Cells, func(a, b studio.PlanCell) int {
		return cmp.Or(cmp.Compare(a.Rotation, b.Rotation), cmp.Compare(a.GroupNo, b.GroupNo))
	})
	for i, c := range out.Cells {
		staff := append([]studio.PlanStaff{}, c.Staff...)
		slices.SortFunc(staff, func(a, b studio.PlanStaff) int {
			return cmp.Or(cmp.Compare(a.Duty, b.Duty), bytes.Compare(a.StaffID[:], b.StaffID[:]))
		})
		out.Cells[i].Staff = staff
	}
	return json.Marshal(out)
}
