// Package lesson plans one meeting of one class: groups, stations, staff and what each child works at.
//
// Propose gives a plan that keeps every hard rule, what it is worth, and a proven bound on what any plan could be worth.
// Check judges any plan, also one changed by hand, and shares no code with the planner. Evaluate does the sums of a plan
// that people have changed. The result helps to plan and clears nothing: the teacher present decides.
//
// Ids are strings that the caller chooses. Rotations and groups are numbered from 1. The order of the lists in Input
// changes nothing; the same Input and Seed give the same Plan unless time ran out.
package lesson

import (
	"time"

	"rungbook/internal/engine/load"
)

// Input is everything the planner knows about the lesson.
type Input struct {
	Seed   int64
	Budget time.Duration // longest time to search once there is a plan; 0 means DefaultBudget

	Rotations   int // 1 to 8
	WorkSeconds int // working time of a rotation, after the changeover
	Groups      int // 1 to 8; fixed for the lesson
	GroupMin    int // fewest children in a group; 0 means as even as can be
	GroupMax    int // most children in a group; 0 means as even as can be

	MaxActivities   int // different activities at once in a cell; 0 means 2
	MaxStations     int // stations set up over the whole lesson; 0 means the greater of Groups and Rotations
	TurnFloor       int // fewest turns a child should get in the lesson
	StationsPerLead int // stations that one person who is not spotting may run at once; 0 means 1

	AllowRepeatStation bool // a group may come to a station twice
	HardFrom           int  // load of a turn from which it counts as hard (1 to 3); 0 means 2
	AllowBackInRow     bool // lets a child work the back hard in two rotations in a row
	AllowWristsInRow   bool // lets a child work the wrists hard in two rotations in a row

	AdultsFreeNeeded int     // adults who must be free of spotting in every rotation (cover.AdultsNeeded)
	Learn            float64 // share of what is left to gain that one turn gives, 0 < Learn < 1; 0 means 0.35

	Children   []Child
	Stations   []Station
	Activities []Activity
	Staff      []Staff
	Stock      []Stock

	LastGroups   [][]string // child ids of the last lesson's groups; children who are not here are ignored
	KeepTogether []Pair
	KeepApart    []Pair
	Pins         Pins
}

// Child is a child who is present. Caps is what load is left for this lesson after the week's other classes.
type Child struct {
	ID            string
	Name          string // for sentences; the ID when empty
	Caps          load.Load
	AvoidBack     bool // care limits: nothing that loads this part at all
	AvoidWrists   bool
	AvoidLanding  bool
	AvoidInverted bool
	Options       []Option
}

// Option is an activity that a child may do at a station, and how much it matters now (above 0).
type Option struct {
	ActivityID string
	StationID  string
	Priority   float64
}

// Station is a ladder or a conditioning theme that may be set up. It holds one group at a time.
type Station struct {
	ID   string
	Name string
}

// Activity is a rung or a drill. Load is that of one turn, 0 to 3 of each kind.
type Activity struct {
	ID             string
	Name           string
	TurnSeconds    int
	Load           load.Load
	SpottersNeeded int // 0 to 2 for each child who is working
	TwoSided       bool
	Inverted       bool
	Equipment      []Need
}

// Need is equipment of one cell: Count pieces, on which Places children can work at once. Activities of one cell share.
type Need struct {
	Key    string
	Count  int
	Places int
}

// Stock is how many pieces of an equipment the hall has.
type Stock struct {
	Key   string
	Name  string
	Count int
}

// Staff is a grown-up or helper who is present. MaySpot means old enough and no trainee. SignedOff holds the activities
// that the person may spot today.
type Staff struct {
	ID        string
	Name      string
	Adult     bool
	MaySpot   bool
	CanLead   bool
	SignedOff []string
}

// Pair is two children, in any order.
type Pair struct{ A, B string }

// Pins are the parts of a plan that must stay.
type Pins struct {
	Groups     []GroupPin
	Stations   []StationPin
	Activities []ActivityPin
	Duties     []DutyPin
}

// GroupPin keeps a child in a group.
type GroupPin struct {
	ChildID string
	Group   int
}

// StationPin keeps a group at a station in a rotation.
type StationPin struct {
	Rotation  int
	Group     int
	StationID string
}

// ActivityPin keeps a child at an activity in a rotation.
type ActivityPin struct {
	Rotation   int
	ChildID    string
	ActivityID string
}

// DutyPin keeps a person at a station in a rotation.
type DutyPin struct {
	Rotation  int
	StaffID   string
	StationID string
	Duty      Duty
}

// Duty is what a person does at a station.
type Duty string

// The duties. A lead may spot at the same station and is then not free to supervise.
const (
	LeadDuty Duty = "lead"
	SpotDuty Duty = "spot"
)

// Plan is a lesson laid out. Worth, Wait, Short and Split are what plans are compared by; see Evaluate.
type Plan struct {
	Groups [][]string // Groups[0] is group 1
	Cells  []Cell     // by rotation, then group
	Totals []Total    // by child id

	Short int     // turns missing to the floor, over all children
	Worth float64 // sum over the entries
	Wait  float64 // mean share of the working time that a child waits or rests, 0 to 1
	Split int     // pairs of children who were in one group in the last lesson and now are not
}

// Cell is one group in one rotation.
type Cell struct {
	Rotation  int
	Group     int
	StationID string
	Lead      string   // staff id
	Spotters  []string // staff ids; may hold the lead
	Turns     int      // turns that the clock of this cell gives each child
	Places    int      // children who can work at once, never more than there are
	Entries   []Entry  // by child id
}

// Entry is what a child does in a cell. Turns is less than the cell's when a load cap is reached: the child then rests.
type Entry struct {
	ChildID    string
	ActivityID string
	Turns      int
	WaitShare  float64 // share of the working time spent waiting or resting, 0 to 1
	Load       load.Load
	Worth      float64
	Why        string
}

// Total is a child's lesson.
type Total struct {
	ChildID   string
	Turns     int
	Short     int // turns missing to the floor
	WaitShare float64
	Load      load.Load
	Worth     float64
}

// Result is a plan that keeps every hard rule, and how good it is.
//
// No plan that keeps the rules and misses no more turns is worth more than Bound. Optimal means that no plan misses fewer
// turns and none that misses as few is worth more; less waiting and fewer changes of groups are sought among equals, not
// proven. Gap is (Bound - Worth) / Bound.
type Result struct {
	Plan     Plan
	Bound    float64
	Gap      float64
	Optimal  bool
	Complete bool   // the search ended by itself and not by the clock
	Words    string // for people: "No better plan exists." or "Within 1.4% of the best possible."
}

// Rule is a hard rule.
type Rule string

// The hard rules.
const (
	RuleShape       Rule = "shape"       // every child, group and rotation is there once, and every id is known
	RuleGroupSize   Rule = "group size"  // between GroupMin and GroupMax children
	RuleTogether    Rule = "together"    // KeepTogether
	RuleApart       Rule = "apart"       // KeepApart
	RuleStation     Rule = "station"     // one group at a station, no repeat, at most MaxStations
	RuleEligible    Rule = "eligible"    // the activity is among the child's options at that station
	RuleCare        Rule = "care"        // care limits
	RuleLoad        Rule = "load"        // load caps
	RuleHardInRow   Rule = "hard in row" // back or wrists hard in two rotations in a row
	RuleTurn        Rule = "turn"        // at least one turn in every cell, and no more than the clock gives
	RuleActivities  Rule = "activities"  // at most MaxActivities at once in a cell
	RuleEquipment   Rule = "equipment"   // never over stock
	RuleSpotting    Rule = "spotting"    // enough people signed off
	RuleLead        Rule = "lead"        // every station is run by somebody who may
	RuleTwoPlaces   Rule = "two places"  // nobody in two places
	RuleSupervision Rule = "supervision" // adults free of spotting
	RulePin         Rule = "pin"         // pins hold
)

// Breach is a hard rule that a plan breaks, and where. Fields that do not apply are zero.
type Breach struct {
	Rule      Rule
	Rotation  int
	Group     int
	StationID string
	ChildID   string
	StaffID   string
	Sentence  string
}

// DefaultBudget is the longest time that Propose searches when Input names none.
const DefaultBudget = 1200 * time.Millisecond

// DefaultLearn is the share of what is left to gain that one turn gives. Ours: no published figure exists.
const DefaultLearn = 0.35
