package app

import (
	"context"
	"slices"
	"time"

	"github.com/google/uuid"
	"rungbook/internal/postgres"
	"rungbook/internal/studio"
)

// Stations is tonight's plan as an assistant reads it: own stations only. Times are in the class's time zone.
type Stations struct {
	Class    string
	StartsAt time.Time
	EndsAt   time.Time
	Name     string // of who reads
	Turns    []StationTurn
	Blocks   []SheetBlock
	Shared   bool // false while the teacher has not saved the plan for the assistants; there are no turns then
}

// StationTurn is one rotation at which the reader runs a station or spots.
type StationTurn struct {
	Rotation int
	From, To time.Time
	Group    int
	Ladder   string
	Runs     bool // runs the station
	Spots    bool
	With     []string // who else is there, with what they do
	Children []StationChild
	Work     []StationWork
}

// StationChild is a child at the station: first name and initial, what to do, limits as actions.
type StationChild struct {
	Name     string
	Activity string
	Turns    int
	Limits   []string
	Stop     string   // the limit that forbids the activity, since the plan was made; "" when none does
	Cues     []string // what to say to this child, two at most by the studio's setting
}

// StationWork is what to know of one activity at the station.
type StationWork struct {
	Name     string
	Start    string
	Finish   string
	Figure   []string // names of poses
	Look     []string // what to look for, or the steps of a drill
	Cues     []string // at most two
	Spotting studio.Spotting
	Caution  string
	TwoSided bool
	Drill    bool
}

// mostCues is how many corrections a child is given at once. Common practice, no source.
const mostCues = 2

// Stations is what the actor has to know of tonight's lesson. Somebody who is on no station gets no turns. An owner or teacher sees
// it as the assistants do, with every station.
func (a *App) Stations(ctx context.Context, actor studio.Actor, id uuid.UUID) (Stations, error) {
	var out Stations
	err := a.db.InTx(ctx, actor, func(t *postgres.Tx) error {
		if err := a.may(ctx, t, studio.SeeStations, Target{Lesson: id}); err != nil {
			return err
		}
		n, err := t.Tonight(ctx, id)
		if err != nil {
			return err
		}
		l, err := readLadders(ctx, t)
		if err != nil {
			return err
		}
		night := night{Tonight: n, ladders: l, all: t.Scope.Takes(n.Class.ID) || t.Scope.Owner}
		if night.marks, err = marksBehindCues(ctx, t, n.Children); err != nil {
			return err
		}
		out, err = night.stations(actor)
		return err
	})
	return out, err
}

type night struct {
	postgres.Tonight
	*ladders
	marks []postgres.SeenMark
	all   bool
}

// marksBehindCues reads the marks of children as the program: an assistant may not see them, and of them only the cues leave.
func marksBehindCues(ctx context.Context, t *postgres.Tx, children []studio.Child) (marks []postgres.SeenMark, err error) {
	var ids []uuid.UUID
	for _, c := range children {
		ids = append(ids, c.ID)
	}
	err = t.AsProgram(ctx, func() error {
		marks, err = t.MarksOf(ctx, ids)
		return err
	})
	return marks, err
}

func (n night) stations(actor studio.Actor) (Stations, error) {
	e := evening{Evening: postgres.Evening{Lesson: n.Lesson, Class: n.Class, Blocks: n.Blocks}, ladders: n.ladders}
	sheet := e.sheet(nil)
	out := Stations{Class: n.Class.Name, StartsAt: sheet.Lesson.StartsAt, EndsAt: sheet.Lesson.EndsAt(), Name: actor.Name, Blocks: sheet.Blocks, Shared: n.Shared}
	length := time.Duration(n.Plan.WorkSeconds)*time.Second + changeover
	for _, c := range n.Plan.Cells {
		turn := StationTurn{Rotation: c.Rotation, Group: c.GroupNo, Ladder: n.ladder[c.LadderKey].Name}
		for _, s := range c.Staff {
			switch {
			case s.StaffID == n.OwnID && s.Duty == studio.Leads:
				turn.Runs = true
			case s.StaffID == n.OwnID:
				turn.Spots = true
			default:
				turn.With = append(turn.With, n.person(s))
			}
		}
		if !turn.Runs && !turn.Spots && !n.all {
			continue
		}
		turn.From = sheet.stationsStart().Add(time.Duration(c.Rotation-1) * length)
		turn.To = turn.From.Add(length - changeover)
		if err := n.fill(&turn, c); err != nil {
			return out, err
		}
		out.Turns = append(out.Turns, turn)
	}
	return out, nil
}

func (n night) person(s studio.PlanStaff) string {
	i := slices.IndexFunc(n.Staff, func(x studio.Staff) bool { return x.ID == s.StaffID })
	switch {
	case i < 0:
		return "somebody"
	case s.Duty == studio.Leads:
		return n.Staff[i].Name + " runs it"
	}
	return n.Staff[i].Name + " spots"
}

// fill puts the children of a cell and what they work at into a turn.
func (n night) fill(turn *StationTurn, c studio.PlanCell) error {
	var seen []activityID
	for _, child := range n.Children {
		entry := n.Plan.Entry(c.Rotation, child.ID)
		if n.Plan.GroupOf(child.ID) != c.GroupNo || entry == nil {
			continue
		}
		id := activityOf(*entry)
		work := n.work(id)
		row := StationChild{Name: child.ShortName(), Activity: work.Name, Turns: entry.Turns}
		own := slices.DeleteFunc(slices.Clone(n.Limits), func(l studio.CareLimit) bool { return l.ChildID != child.ID })
		row.Limits, row.Stop = actions(own), n.forbids(own, id)
		var err error
		if row.Cues, err = n.cuesAt(n.marks, child.ID, entry.RungKey); err != nil {
			return err
		}
		turn.Children = append(turn.Children, row)
		if !slices.Contains(seen, id) {
			seen = append(seen, id)
			turn.Work = append(turn.Work, work)
		}
	}
	return nil
}

// forbids is the first of a child's limits that forbids an activity, "" when none does.
func (l *ladders) forbids(limits []studio.CareLimit, id activityID) string {
	if id.isDrill() {
		d := l.drills[id.key()]
		return forbidden(limits, d.Load, d.Inverted)
	}
	r := l.rungs[id.key()]
	return forbidden(limits, r.Load, r.Inverted)
}

func (n night) work(id activityID) StationWork {
	if id.isDrill() {
		d := n.drills[id.key()]
		return StationWork{Name: d.Name, Figure: d.Figure, Look: d.Steps, Spotting: d.Spotting, Caution: d.Caution, TwoSided: d.TwoSided, Drill: true}
	}
	r := n.rungs[id.key()]
	w := StationWork{Name: r.Name, Start: r.Start, Finish: r.Finish, Figure: r.Figure, Look: r.Look, Spotting: r.Spotting, Caution: r.Caution, TwoSided: r.TwoSided}
	for _, f := range r.Faults {
		if len(f.Causes) > 0 && len(w.Cues) < mostCues && !slices.Contains(w.Cues, f.Causes[0].Cue) {
			w.Cues = append(w.Cues, f.Causes[0].Cue)
		}
	}
	return w
}
