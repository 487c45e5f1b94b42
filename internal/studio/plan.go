package studio

import (
	"slices"
	"time"

	"github.com/google/uuid"
)

// PlanDuty is what somebody does at a station in a rotation.
type PlanDuty string

// The duties at a station.
const (
	Leads PlanDuty = "lead"
	Spots PlanDuty = "spot"
)

// Plan is the stations part of a lesson: who is where with what, in each rotation. Rotations and groups count from 1. Worth and
// Bound are in the planner's units: no plan for the same evening is worth more than Bound.
type Plan struct {
	ID          uuid.UUID
	LessonID    uuid.UUID
	Version     int
	SharedAt    *time.Time
	Rotations   int
	WorkSeconds int // of a rotation, after the changeover
	Worth       float64
	Bound       float64
	Optimal     bool
	SavedAt     time.Time
	Members     []PlanMember
	Cells       []PlanCell
	Entries     []PlanEntry
}

// PlanMember puts a child into a group for the whole lesson.
type PlanMember struct {
	ChildID uuid.UUID
	GroupNo int
	Pinned  bool
}

// PlanCell puts a group at a station, which is a ladder, with the people there.
type PlanCell struct {
	Rotation  int
	GroupNo   int
	LadderKey string
	Pinned    bool
	Staff     []PlanStaff `db:"-"`
}

// PlanStaff is somebody's duty in a cell.
type PlanStaff struct {
	StaffID uuid.UUID
	Duty    PlanDuty
}

// PlanEntry is what a child does in a rotation: a rung, or a drill for one.
type PlanEntry struct {
	Rotation  int
	ChildID   uuid.UUID
	RungKey   string
	DrillKey  string
	Turns     int
	WaitShare float64
	Why       string
	Pinned    bool
}

// Activity is the key of the rung or of the drill.
func (e PlanEntry) Activity() string {
	if e.RungKey != "" {
		return e.RungKey
	}
	return e.DrillKey
}

// GroupOf is the group of a child, 0 when it is in none.
func (p Plan) GroupOf(child uuid.UUID) int {
	for _, m := range p.Members {
		if m.ChildID == child {
			return m.GroupNo
		}
	}
	return 0
}

// Cell is the cell of a rotation and group, nil when the group rests.
func (p *Plan) Cell(rotation, group int) *PlanCell {
	i := slices.IndexFunc(p.Cells, func(c PlanCell) bool { return c.Rotation == rotation && c.GroupNo == group })
	if i < 0 {
		return nil
	}
	return &p.Cells[i]
}

// Entry is what a child does in a rotation, nil when nothing.
func (p *Plan) Entry(rotation int, child uuid.UUID) *PlanEntry {
	i := slices.IndexFunc(p.Entries, func(e PlanEntry) bool { return e.Rotation == rotation && e.ChildID == child })
	if i < 0 {
		return nil
	}
	return &p.Entries[i]
}

// Gap is how far the plan may be from the best possible, 0 to 1.
func (p Plan) Gap() float64 {
	if p.Optimal || p.Bound <= 0 || p.Worth >= p.Bound {
		return 0
	}
	return 1 - p.Worth/p.Bound
}

// PinnedMember reports whether a child is pinned to its group.
func (p Plan) PinnedMember(child uuid.UUID) bool {
	return slices.ContainsFunc(p.Members, func(m PlanMember) bool { return m.ChildID == child && m.Pinned })
}

// PinnedCell reports whether the station and the people of a cell are pinned.
func (p *Plan) PinnedCell(rotation, group int) bool {
	c := p.Cell(rotation, group)
	return c != nil && c.Pinned
}
