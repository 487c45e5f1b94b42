// Package pacing lays the rungs of a class over the weeks of a term.
//
// It solves the balanced curriculum problem (CSPLib problem 030: courses to periods, prerequisites earlier, the greatest
// load of a period least) with what a term adds: needs with a lag in weeks, holidays, weeks without new rungs, pins,
// earliest and latest weeks, weeks in which a rung is seen again, a showcase, and weeks that are over.
//
// Three loads are balanced: new material, back and wrists. Each is multiplied by its weight; the peak is the greatest
// weighted load of one kind in one week that is still to come. Solve makes the peak as small as can be and proves a bound
// on it. Among the plans of that peak it looks for a small spread, among those for focus rungs as early as can be, and among
// those for the fewest rungs moved from the plan there is; these three are sought and not proven.
//
// Check judges any plan, also one changed by hand, and shares no code with the solver. Weeks are calendar weeks of the
// term, from 1. The order of the lists in a Problem changes nothing; the same Problem and Seed give the same Plan unless
// time ran out. The plan helps a teacher and clears nobody for anything: who is ready is decided in the hall.
package pacing

import "time"

// Problem is a class, its term and what is to be met in it.
type Problem struct {
	Weeks    int   // 1 to 60
	Done     int   // weeks 1 to Done are over: nothing is put there any more
	Holidays []int // weeks without a lesson
	Quiet    []int // weeks with a lesson and nothing new, as before a showcase
	Rungs    []Rung
	Limits   Limits
	Showcase Showcase
	Weights  Load // what a point of each kind counts, 0 to 100; all 0 means 1 each; a kind of 0 is not balanced
}

// Rung is a rung to meet in this term. A week of 0 means none.
type Rung struct {
	ID    string
	Name  string // for sentences; the ID when empty
	Load  Load   // of the week in which it is new, 0 to 1000 of each kind
	Needs []Need

	Earliest int  // not before this week
	Latest   int  // not after this week
	Pin      int  // in this week
	Taught   int  // was taught in this week: stays there, whatever else holds
	Focus    bool // sooner is better
	Was      int  // the week that it has in the plan there is: better not moved

	Again     []int // seen again so many weeks after it was new, each once; see AgainWeeks
	AgainLoad Load  // of each week in which it is seen again
}

// Need is a rung that comes first, at least Lag weeks before; a Lag of 0 means 1.
type Need struct {
	ID  string
	Lag int
}

// Limits hold for every week that is still to come and has a lesson. Load limits are not weighted.
type Limits struct {
	MinNew   int  // least new rungs a week; quiet weeks have none
	MaxNew   int  // most new rungs a week; 0 means no limit
	MinLoad  Load // least load of a week; 0 means no limit
	MaxLoad  Load // most load of a week; 0 means no limit
	Revisits int  // every rung is seen again so often within the term, or as often as its Again says if that is less
}

// Showcase is the week by which rungs must be in and seen again so often, or as often as their Again says if that is less.
// A Week of 0 means no showcase.
type Showcase struct {
	Week     int
	Rungs    []string
	Revisits int
}

// Load is an amount of each kind.
type Load struct {
	New    int // new material
	Back   int
	Wrists int
}

// Plan is a term laid out. Peak, Spread, Late and Moved are over the weeks that are still to come.
type Plan struct {
	Rungs []Placed // by id
	Weeks []Week   // week 1 first

	Peak   int     // greatest weighted load of one kind in one week
	Spread float64 // root of the mean squared distance of a week's weighted load from its kind's mean, kinds added up
	Late   int     // sum of the weeks of the focus rungs that were not taught yet
	Moved  int     // rungs not taught yet that have another week than they had

	Bound   int     // no plan has a lower peak
	Gap     float64 // (Peak - Bound) / Peak; 0 when Peak is 0
	Optimal bool    // the peak is proven to be the lowest
	Words   string  // for people
}

// Placed is a rung, its week and the weeks in which it is seen again.
type Placed struct {
	RungID string
	Week   int
	Again  []int
}

// Week is one week of a plan.
type Week struct {
	Number int
	Lesson bool
	New    []string // rung ids
	Again  []string // rung ids
	Load   Load     // not weighted
}

// Options say how to search. Seed changes which of several equally good plans comes out.
type Options struct {
	Seed uint64
	Time time.Duration // longest time to search; 0 means DefaultTime
}

// DefaultTime is the longest time that Solve searches when Options name none.
const DefaultTime = 2 * time.Second
