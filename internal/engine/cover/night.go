package cover

import (
	"fmt"
	"slices"
	"strings"
	"time"
)

// DefaultSpotterAge is the least age in years of a spotter. It is a studio setting: no published figure was found.
const DefaultSpotterAge = 16

// Person is someone who helps. Age is in years on the night.
type Person struct {
	ID   string
	Name string
	Age  int
}

// Rung is a step to be run; Spotters is how many signed-off people one turn needs.
type Rung struct {
	ID       string
	Name     string
	Spotters int
}

// Night is one meeting: the day, who helps, their sign-offs, and the ages in years of the children.
// SpotterAge 0 means DefaultSpotterAge.
type Night struct {
	Date       time.Time
	Present    []Person
	SignOffs   []SignOff
	Ages       []int
	Ratios     Ratios
	SpotterAge int
}

// Run says of one rung whether it can be run at all on the night, while nothing else in the room is spotted.
// May lists the people present who may spot it, sorted by id.
type Run struct {
	Rung   string
	OK     bool
	May    []string
	Reason string
}

// Runnable judges each rung by itself, in the order given: enough signed-off people present, and enough adults left
// to watch the room while they spot. Young helpers spot first, since only adults count towards supervision.
func (n Night) Runnable(rungs []Rung) []Run {
	out := make([]Run, len(rungs))
	for i, r := range rungs {
		out[i] = n.run(r)
	}
	return out
}

func (n Night) run(r Rung) Run {
	may, young := n.spotters(r.ID)
	run := Run{Rung: r.ID}
	for _, p := range may {
		run.May = append(run.May, p.ID)
	}
	slices.Sort(run.May)
	if len(may) < r.Spotters {
		run.Reason = fmt.Sprintf("%s needs %s, and %s here.%s", r.Name, count(r.Spotters, "signed-off spotter", "signed-off spotters"),
			count(len(may), "is", "are"), n.almost(r.ID))
		return run
	}
	room := Room{Ages: n.Ages, Adults: n.adults(), Spotting: max(0, r.Spotters-young)}
	v := Check(room, n.Ratios)
	run.OK = v.Enough
	run.Reason = v.Reason
	if run.OK && r.Spotters > 0 {
		run.Reason = fmt.Sprintf("Signed off and here: %s.", names(may))
	}
	return run
}

func (n Night) adults() int {
	adults := 0
	for _, p := range n.Present {
		if p.Age >= AdultAge {
			adults++
		}
	}
	return adults
}

// spotters returns the people present who may spot the rung, and how many of them are under age as supervisors.
func (n Night) spotters(rung string) (may []Person, young int) {
	signed := SignedOff(n.SignOffs, rung, n.Date)
	for _, p := range n.Present {
		if _, ok := slices.BinarySearch(signed, p.ID); !ok || p.Age < n.spotterAge() {
			continue
		}
		may = append(may, p)
		if p.Age < AdultAge {
			young++
		}
	}
	return may, young
}

func (n Night) spotterAge() int {
	if n.SpotterAge == 0 {
		return DefaultSpotterAge
	}
	return n.SpotterAge
}

// almost names the people present whose sign-off for the rung does not count on the night, and why.
func (n Night) almost(rung string) string {
	signed := SignedOff(n.SignOffs, rung, n.Date)
	var b strings.Builder
	for _, p := range n.Present {
		_, counts := slices.BinarySearch(signed, p.ID)
		switch {
		case counts && p.Age < n.spotterAge():
			fmt.Fprintf(&b, " %s is under %d.", p.Name, n.spotterAge())
		case !counts:
			if s, ok := n.latest(p.ID, rung); ok {
				b.WriteString(s.excuse(p.Name, n.Date))
			}
		}
	}
	return b.String()
}

func (n Night) latest(person, rung string) (SignOff, bool) {
	var last SignOff
	found := false
	for _, s := range n.SignOffs {
		if s.Person == person && slices.Contains(s.Rungs, rung) && (!found || dayNumber(s.Until) > dayNumber(last.Until)) {
			last, found = s, true
		}
	}
	return last, found
}

func (s SignOff) excuse(name string, day time.Time) string {
	switch {
	case s.On(day, -1) == NotYet:
		return fmt.Sprintf(" %s is signed off from %s.", name, s.From.Format("2 January 2006"))
	case s.Until.IsZero():
		return fmt.Sprintf(" The sign-off of %s has no end date.", name)
	}
	return fmt.Sprintf(" The sign-off of %s ended on %s.", name, s.Until.Format("2 January 2006"))
}

func names(people []Person) string {
	out := make([]string, len(people))
	for i, p := range people {
		out[i] = p.Name
	}
	return strings.Join(out, ", ")
}
