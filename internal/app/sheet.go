package app

import (
	"context"
	"slices"
	"time"

	"github.com/google/uuid"
	"rungbook/internal/postgres"
	"rungbook/internal/studio"
)

// SheetState is the class sheet of a lesson as whoever runs it may see it. An assistant sees own stations only, first names with an
// initial, and limits as actions.
type SheetState struct {
	Tag        string // changes when anything here but Now does
	Now        time.Time
	Lesson     studio.Lesson // times in the class's time zone
	Class      string
	Zone       string
	OpenUntil  time.Time // what you send later waits for a teacher's look
	You        uuid.UUID
	YourName   string
	Teacher    bool // takes the class, or the owner: may re-plan, note staff, keep incidents
	Confirm    bool // your marks wait for a teacher's word
	Clock      studio.Clock
	Rotations  int
	Work       time.Duration // of a rotation, after the changeover
	Changeover time.Duration
	Shared     bool // there is a plan to be seen
	Children   []RollChild
	Staff      []RollStaff // for teachers only
	Cells      []RollCell
	Activities []RollActivity
	Marks      []RollMark // in force, oldest first
	Stop       []string   // what to do first when something goes wrong, in order
}

// RollChild is a child of the lesson. Present is nil while nobody has said; Group is 0 for none.
type RollChild struct {
	ID      uuid.UUID
	Name    string
	Present *bool
	Group   int
	Limits  []string
}

// RollStaff is somebody rostered.
type RollStaff struct {
	ID      uuid.UUID
	Name    string
	Present *bool
}

// RollCell is a group at its station in a rotation.
type RollCell struct {
	Rotation, Group int
	Ladder          string
	Lead, Spots     []string
	Yours           bool
	Entries         []RollEntry
}

// RollEntry is what a child does there. Activity is the key of a RollActivity.
type RollEntry struct {
	Child    uuid.UUID
	Activity string
	Turns    int
	Cues     []string
}

// RollActivity is a rung or drill of tonight. Only rungs are marked. MaySpot says that a sign-off of the reader's holds today: that the
// studio has seen it, never that a turn is safe.
type RollActivity struct {
	Key     string // "rung hs-hold" or "drill d-press"
	Name    string
	Rung    string // its key; "" for a drill
	Drill   string
	Start   string
	Finish  string
	Figure  []string // names of poses
	Look    []string
	Sided   bool
	Spot    studio.Spotting
	MaySpot bool
	Caution string
	Faults  []studio.Fault
}

// RollMark is a mark of this lesson that stands. Awaits says that a teacher has not confirmed it yet.
type RollMark struct {
	ID      uuid.UUID
	Child   uuid.UUID
	Rung    string
	Side    studio.Side
	Outcome studio.Outcome
	Faults  []string
	By      string
	Mine    bool
	At      time.Time
	Awaits  bool
}

// StopFirst is what to do first when something goes wrong, in order.
func StopFirst() []string {
	return []string{
		"Stop the station. Send the group to sit where somebody watches it.",
		emergency(nil),
		"Do not move a child whose neck or back may be hurt, unless it lies in danger.",
		"A knock to the head: no more sport today, even if it seems well; somebody stays with the child. Emergency services for vomiting, drowsiness, a seizure or worsening headache; else medical advice within 24 hours.",
		"The studio's own first-aider and rules come first. Tell the parents today, whatever it was.",
	}
}

// Sheet is the class sheet of a lesson.
func (a *App) Sheet(ctx context.Context, actor studio.Actor, lesson uuid.UUID) (SheetState, error) {
	state, _, err := a.SheetSince(ctx, actor, lesson, "")
	return state, err
}

// SheetSince is the class sheet unless it is still as at a tag: changed is false then, and of the state only Now and Tag are filled.
func (a *App) SheetSince(ctx context.Context, actor studio.Actor, lesson uuid.UUID, tag string) (state SheetState, changed bool, err error) {
	err = a.db.InTx(ctx, actor, func(t *postgres.Tx) error {
		if err := a.may(ctx, t, studio.RunSheet, Target{Lesson: lesson}); err != nil {
			return err
		}
		state.Now = t.Now
		if state.Tag, err = t.SheetTag(ctx, lesson); err != nil || state.Tag == tag {
			return err
		}
		changed = true
		roll, err := t.SheetRoll(ctx, lesson)
		if err != nil {
			return err
		}
		l, err := readLadders(ctx, t)
		if err != nil {
			return err
		}
		marks, err := marksBehindCues(ctx, t, roll.Names())
		if err != nil {
			return err
		}
		s := sheet{SheetRoll: roll, ladders: l, past: marks, teacher: t.Scope.Owner || t.Scope.Takes(roll.Class.ID), t: t}
		return s.fill(&state)
	})
	return state, changed, err
}

// sheet is what a state is made from.
type sheet struct {
	postgres.SheetRoll
	*ladders
	past    []postgres.SeenMark
	teacher bool
	t       *postgres.Tx
}

func (s sheet) fill(state *SheetState) error {
	state.Lesson, state.Class, state.Zone = s.Lesson, s.Class.Name, s.Class.TimeZone
	state.Lesson.StartsAt = inZone(s.Lesson.StartsAt, s.Class.TimeZone)
	state.OpenUntil = sheetOpenUntil(s.Lesson, s.teacher)
	state.You, state.YourName, state.Teacher = s.t.Actor.ID, s.t.Actor.Name, s.teacher
	state.Confirm = s.t.Settings.Confirm && !s.teacher
	state.Clock, state.Rotations = s.Clock, s.rotations()
	state.Work, state.Changeover = time.Duration(s.Plan.WorkSeconds)*time.Second, changeover
	state.Shared, state.Stop = len(s.Plan.Cells) > 0, StopFirst()
	for _, c := range s.Children {
		child := RollChild{ID: c.ID, Name: c.ShortName(), Present: c.Present, Group: s.Plan.GroupOf(c.ID)}
		for _, l := range s.Limits {
			if l.ChildID == c.ID {
				child.Limits = append(child.Limits, l.Action)
			}
		}
		state.Children = append(state.Children, child)
	}
	if s.teacher {
		for _, p := range s.Staff {
			state.Staff = append(state.Staff, RollStaff{p.ID, p.Name, p.Present})
		}
	}
	if err := s.cells(state); err != nil {
		return err
	}
	for _, m := range s.Marks {
		mine := m.MarkedBy != nil && *m.MarkedBy == s.t.Actor.ID
		if !s.teacher && !mine && !state.works(m.ChildID) {
			continue
		}
		state.Marks = append(state.Marks, RollMark{ID: m.ID, Child: m.ChildID, Rung: m.RungKey, Side: m.Side, Outcome: m.Outcome, Faults: m.Faults,
			By: m.MarkedByName, Mine: mine, At: m.MarkedAt, Awaits: m.Awaits})
	}
	return nil
}

// works reports whether the child is at a station that the reader sees.
func (s *SheetState) works(child uuid.UUID) bool {
	return slices.ContainsFunc(s.Cells, func(c RollCell) bool {
		return slices.ContainsFunc(c.Entries, func(e RollEntry) bool { return e.Child == child })
	})
}

// sheetOpenUntil is until when what somebody sends of a lesson counts at once.
func sheetOpenUntil(l studio.Lesson, teacher bool) time.Time {
	if teacher {
		return l.EndsAt().Add(studio.SheetTakesTeacher)
	}
	return l.EndsAt().Add(studio.SheetClosesAfter)
}

// rotations is how many the plan has, else how many the class usually has.
func (s sheet) rotations() int {
	if s.Plan.Rotations > 0 {
		return s.Plan.Rotations
	}
	return s.Class.Rotations
}

// cells are the stations that the reader may see, with what is done there.
func (s sheet) cells(state *SheetState) error {
	for _, c := range s.Plan.Cells {
		cell := RollCell{Rotation: c.Rotation, Group: c.GroupNo, Ladder: s.ladder[c.LadderKey].Name}
		for _, p := range c.Staff {
			cell.Yours = cell.Yours || p.StaffID == s.OwnID
			if p.Duty == studio.Leads {
				cell.Lead = append(cell.Lead, s.person(p.StaffID))
			} else {
				cell.Spots = append(cell.Spots, s.person(p.StaffID))
			}
		}
		if !cell.Yours && !s.teacher {
			continue
		}
		for _, child := range s.Children {
			entry := s.Plan.Entry(c.Rotation, child.ID)
			if entry == nil || s.Plan.GroupOf(child.ID) != c.GroupNo {
				continue
			}
			id := activityOf(*entry)
			row := RollEntry{Child: child.ID, Activity: string(id), Turns: entry.Turns}
			corrections, err := s.corrections(entry.RungKey, at(s.past, child.ID, entry.RungKey))
			if err != nil {
				return err
			}
			for _, c := range corrections {
				row.Cues = append(row.Cues, c.Cue)
			}
			cell.Entries = append(cell.Entries, row)
			if !slices.ContainsFunc(state.Activities, func(a RollActivity) bool { return a.Key == row.Activity }) {
				state.Activities = append(state.Activities, s.activity(id))
			}
		}
		state.Cells = append(state.Cells, cell)
	}
	return nil
}

func (s sheet) person(id uuid.UUID) string {
	if i := slices.IndexFunc(s.Staff, func(p postgres.RollStaff) bool { return p.ID == id }); i >= 0 {
		return s.Staff[i].Name
	}
	return "somebody"
}

func (s sheet) activity(id activityID) RollActivity {
	if id.isDrill() {
		d := s.drills[id.key()]
		return RollActivity{Key: string(id), Name: d.Name, Drill: d.Key, Figure: d.Figure, Look: d.Steps, Spot: d.Spotting, Caution: d.Caution, Sided: d.TwoSided}
	}
	r := s.rungs[id.key()]
	return RollActivity{Key: string(id), Name: r.Name, Rung: r.Key, Start: r.Start, Finish: r.Finish, Figure: r.Figure, Look: r.Look, Sided: r.TwoSided, Spot: r.Spotting,
		MaySpot: slices.Contains(s.SignedOff, r.Key), Caution: r.Caution, Faults: r.Faults}
}
