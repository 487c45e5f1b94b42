package app

import (
	"time"

	"github.com/google/uuid"
	"rungbook/internal/engine/cover"
	"rungbook/internal/engine/load"
	"rungbook/internal/postgres"
	"rungbook/internal/studio"
)

// What belongs beside counts of adults, and beside caps of load, wherever people see them.
const (
	CoverCaution = cover.Caution
	LoadCaution  = load.CapsNote
)

// LessonCautions are the usual cautions of a plan and of its printout.
func LessonCautions() []string {
	return []string{
		CoverCaution,
		emergency(nil),
		"The studio's rules, its insurer, its governing body, local law and licensed professionals come first.",
	}
}

// LessonSheet is a lesson as its page shows it. Times are in the class's time zone.
type LessonSheet struct {
	Lesson       studio.Lesson
	Class        studio.Class
	Blocks       []SheetBlock
	Children     []SheetChild
	Staff        []SheetStaff
	Cover        cover.Verdict   // before anybody spots
	Plan         *SheetPlan      // nil while there is none
	Ladders      []studio.Ladder // where a group may be sent
	CanBePlanned bool            // somebody is here and the stations have time
	Earlier      *time.Time      // the day of the last plan of the class before, nil when there is none
	Effort       LessonEffort
	Term         string // what the class's term has in this week, "new: ..."; "" when nothing
}

// SheetBlock is a part of the lesson with its times.
type SheetBlock struct {
	studio.Block
	From, To time.Time
	Named    []studio.Drill
}

// SheetChild is a child of the lesson. Group is 0 when it is in no group of the plan.
type SheetChild struct {
	ID        uuid.UUID
	Name      string // short
	FullName  string
	Age       int
	Present   bool
	Noted     bool // somebody said so
	Limits    []string
	Group     int
	Pinned    bool
	Turns     int
	WaitShare float64
	Load      studio.Load
	LoadLeft  studio.Load // what the lesson may ask, after the other lessons of the week
}

// SheetStaff is somebody rostered. Expired counts sign-offs that have run out.
type SheetStaff struct {
	ID       uuid.UUID
	Name     string
	Duty     studio.Duty
	Adult    bool
	MaySpot  bool
	Trainee  bool
	Present  bool
	SignOffs int
	Expired  int
}

// SheetPlan is the plan as its board shows it.
type SheetPlan struct {
	studio.Plan
	Words    string
	Stations []studio.Ladder // the columns
	Rows     []SheetRotation
	Breaches []string      // those that belong to no cell
	Broken   int           // all breaches
	Asked    []SheetChoice // what a teacher may ask about
	CanUndo  bool          // there is a plan from before the last change
	Changes  []string      // what the last change did, a sentence each
	Held     []string      // where a cap of load took turns or an activity away, a sentence each
	Without  []string      // a sentence for each person of the plan: what is lost when that person stays away
}

// SheetRotation is a row of the board.
type SheetRotation struct {
	No       int
	From, To time.Time
	Cells    []SheetCell
}

// SheetCell is a group at its station.
type SheetCell struct {
	Rotation int
	Group    int
	Ladder   studio.Ladder
	Pinned   bool
	Lead     *SheetStaff
	Spotters []SheetStaff
	Children []SheetEntry
	Turns    int // fewest of a child here
	Wait     time.Duration
	Breaches []string
}

// SheetEntry is a child in a cell.
type SheetEntry struct {
	Child    SheetChild
	Activity string // as in SetActivity
	Name     string
	Drill    bool
	State    string // of the rung; "" for a drill
	Turns    int
	Why      string
	Say      string // the first correction, "" for none
	Pinned   bool   // stays when the lesson is proposed again
	Choices  []SheetChoice
	Breaches []string
}

// SheetChoice is something that a child may do at a station.
type SheetChoice struct {
	Activity string
	Name     string
}

func (e *evening) sheet(plan *studio.Plan) LessonSheet {
	zone := e.zone()
	s := LessonSheet{Lesson: e.Lesson, Class: e.Class, Ladders: e.Ladders}
	s.Lesson.StartsAt = e.Lesson.StartsAt.In(zone)
	at := s.Lesson.StartsAt
	for _, b := range e.Blocks {
		block := SheetBlock{Block: b, From: at, To: at.Add(time.Duration(b.Minutes) * time.Minute)}
		at = block.To
		for _, key := range b.Drills {
			if d, ok := e.drills[key]; ok {
				block.Named = append(block.Named, d)
			}
		}
		s.Blocks = append(s.Blocks, block)
	}
	for _, c := range e.Children {
		s.Children = append(s.Children, e.sheetChild(c, plan))
	}
	for _, p := range e.Staff {
		s.Staff = append(s.Staff, e.sheetStaff(p))
	}
	s.Cover = e.cover()
	s.CanBePlanned = len(e.present()) > 0 && e.workSeconds() >= 60
	if e.last != nil {
		s.Earlier = &e.last.day
	}
	s.Term = e.termWords()
	if plan != nil {
		s.Plan = e.sheetPlan(*plan, s)
	}
	return s
}

func (e *evening) zone() *time.Location {
	zone, err := time.LoadLocation(e.Class.TimeZone)
	if err != nil {
		return time.UTC
	}
	return zone
}

func (e *evening) cover() cover.Verdict {
	room := cover.Room{}
	for _, c := range e.present() {
		room.Ages = append(room.Ages, studio.AgeOn(c.BirthDate, e.day))
	}
	for _, s := range e.staffHere() {
		if e.sheetStaff(s).Adult {
			room.Adults++
		}
	}
	return cover.Check(room, ratios(e.settings.Cover))
}

func (e *evening) sheetChild(c postgres.EveningChild, plan *studio.Plan) SheetChild {
	child := SheetChild{ID: c.ID, Name: c.ShortName(), FullName: c.GivenName + " " + c.FamilyName, Age: studio.AgeOn(c.BirthDate, e.day),
		Present: c.Present == nil || *c.Present, Noted: c.Present != nil}
	for _, l := range e.Limits {
		if l.ChildID == c.ID {
			child.Limits = append(child.Limits, l.Action)
		}
	}
	left := e.child(c, nil).Caps
	child.LoadLeft = studio.Load{Back: left.Back, Wrists: left.Wrists, Landing: left.Landing}
	if plan == nil {
		return child
	}
	child.Group, child.Pinned = plan.GroupOf(c.ID), plan.PinnedMember(c.ID)
	entries := 0
	for _, entry := range plan.Entries {
		if entry.ChildID != c.ID {
			continue
		}
		one := e.activity(activityOf(entry)).Load
		child.Turns += entry.Turns
		child.WaitShare += entry.WaitShare
		child.Load.Back += one.Back * entry.Turns
		child.Load.Wrists += one.Wrists * entry.Turns
		child.Load.Landing += one.Landing * entry.Turns
		entries++
	}
	if entries > 0 {
		child.WaitShare /= float64(entries)
	}
	return child
}

func (e *evening) sheetStaff(p postgres.EveningStaff) SheetStaff {
	helper := e.helper(p, nil)
	s := SheetStaff{ID: p.ID, Name: p.Name, Duty: p.Duty, Adult: helper.Adult, MaySpot: helper.MaySpot, Trainee: p.Trainee, Present: p.Present == nil || *p.Present}
	held := map[string]bool{}
	for _, o := range e.SignOffs {
		if o.StaffID == p.ID && o.HoldsOn(e.day) {
			held[o.RungKey] = true
		}
	}
	lapsed := map[string]bool{}
	for _, o := range e.SignOffs {
		if o.StaffID == p.ID && !held[o.RungKey] && o.ExpiresOn.Before(e.day) {
			lapsed[o.RungKey] = true
		}
	}
	s.SignOffs, s.Expired = len(held), len(lapsed)
	return s
}
