// Package home chooses drills a child may practise at home: what is allowed at all, what this child may do now, and what
// answers most of what was seen.
//
// There is no published ban on inversions or back-bends at home; the rule here is the cautious one drawn from reports of
// spinal cord injury after back-bends in young children (Guo et al. 2023, doi 10.3389/fped.2023.1263280) and from school
// limits. Doses and weights are the teacher's settings.
//
// For one child and one drill a teacher may make an exception from the rule that a drill is safe alone, with an adult in the room. It
// lifts that rule and no other: a drill that needs a spotter, equipment that is not listed, a care limit and the week's load refuse as ever.
package home

// Caution belongs beside every home drill that people see.
const Caution = "Clear space, a floor that does not slip, and stop if it hurts. Back or leg pain, numbness, weakness or odd " +
	"walking during or in the hours after any back-bend: stop, lie still and call emergency services, even if it eases."

// Load is what one turn asks of a body, 0 to 3 of each kind; of a week it is a sum.
type Load struct {
	Back    int
	Wrists  int
	Landing int
}

func (l Load) times(n int) Load { return Load{l.Back * n, l.Wrists * n, l.Landing * n} }

func (l Load) minus(m Load) Load {
	return Load{l.Back - m.Back, l.Wrists - m.Wrists, l.Landing - m.Landing}
}

func (l Load) sum() int { return l.Back + l.Wrists + l.Landing }

// over names the first kind in which l is above a limit, "" when it fits.
func (l Load) over(limit Load) string {
	switch {
	case l.Back > limit.Back:
		return "back"
	case l.Wrists > limit.Wrists:
		return "wrists"
	case l.Landing > limit.Landing:
		return "landings"
	}
	return ""
}

// Dose is how much: Sets of Repeats on DaysAWeek days, each held for HoldSeconds (0 when nothing is held).
type Dose struct {
	Sets        int
	Repeats     int
	HoldSeconds int
	DaysAWeek   int
}

// Drill is an exercise as the library describes it. HomeReason says why it is safe alone, or why not. Spotters is how
// many people a turn needs. Answers are keys of causes of faults, Prepares ids of rungs.
type Drill struct {
	ID         string
	Name       string
	HomeSafe   bool
	HomeReason string
	Adult      bool
	Inverted   bool
	BackBend   bool
	Flight     bool
	Partner    bool
	TwoSided   bool
	Spotters   int
	Equipment  []string
	Load       Load
	Answers    []string
	Prepares   []string
	Dose       Dose
}

// WeekLoad is what the whole dose asks in a week, both sides of a two-sided drill.
func (d Drill) WeekLoad() Load {
	turns := d.Dose.Sets * d.Dose.Repeats * d.Dose.DaysAWeek
	if d.TwoSided {
		turns *= 2
	}
	return d.Load.times(turns)
}

// Limits is what a child must not do for now.
type Limits struct {
	AvoidBack     bool
	AvoidWrists   bool
	AvoidLanding  bool
	AvoidInverted bool
}

// Seen is the cause of a fault seen lately: how often, by its key and its name for people.
type Seen struct {
	Cause string
	Name  string
	Times int
}

// Goal is a rung that is open or being worked at.
type Goal struct {
	Rung string
	Name string
}

// Child is the one the drills are for. Left is what the week's cap still allows; Equipment lists what may be used at
// home; Has are the drills already sent home, Excepted those that a live exception lets go home although they are not safe alone.
type Child struct {
	Limits    Limits
	Seen      []Seen
	Goals     []Goal
	Left      Load
	Equipment []string
	Has       []string
	Excepted  []string
}
