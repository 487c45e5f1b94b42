package lesson

import (
	"cmp"
	"math"
	"math/bits"
	"slices"

	"rungbook/internal/engine/load"
)

// unit is the worth of one whole priority point: inside, worth is counted in whole millionths, so that sums are exact.
const unit = 1e6

// problem is an Input by number, sorted by id, with the defaults filled in and what is never allowed taken out.
// Sets of children and of staff are bit masks. Contradictions that need no search are in faults.
type problem struct {
	in                                Input
	n, groups, rots, seconds          int
	least, most, variety, maxStations int
	perLead                           int

	children []Child
	stations []Station
	acts     []activity
	staff    []Staff
	childNo  map[string]int
	placeNo  map[string]int
	actNo    map[string]int
	staffNo  map[string]int
	stock    []int // pieces by key, sorted; keys that the hall does not have come last

	gain    []float64    // gain[k] is the share of the priority that k turns are worth
	options [][][]option // by child and station

	adults, leads uint32
	spare         int // adults who may spot at the same time

	together []uint64 // by child: who stays with them, themselves included
	apart    []uint64
	last     []int // group of the last lesson, or -1

	groupPin   []int      // by child, or -1
	stationPin [][]int    // by rotation and group, or -1
	actPin     [][]int    // by rotation and child, or -1
	leadPin    [][]int    // by rotation and station, or -1
	spotPin    [][]uint32 // by rotation and station
	busy       []uint32   // by rotation: staff with a pinned duty
	labelled   bool       // groups are told apart by pins
	faults     []Conflict
}

// activity is an Activity by number. A turn is hard for the back or wrists from the studio's threshold on.
type activity struct {
	Activity
	needs     []need
	places    int    // children at once, by equipment alone
	signed    uint32 // who may spot it
	backHard  bool
	wristHard bool
}

type need struct{ key, count int }

// option is an activity that a child may do at a station. worth[k] is what k turns on the clock are worth, with the
// child resting after the turns that their caps allow for this cell alone.
type option struct {
	act   int
	prio  float64
	worth []int64
}

func newProblem(in Input) *problem {
	p := &problem{in: in, n: len(in.Children), groups: in.Groups, rots: in.Rotations, seconds: in.WorkSeconds}
	p.children = sorted(in.Children, func(c Child) string { return c.ID })
	p.stations = sorted(in.Stations, func(s Station) string { return s.ID })
	p.staff = sorted(in.Staff, func(s Staff) string { return s.ID })
	p.childNo = numbers(p.children, func(c Child) string { return c.ID })
	p.placeNo = numbers(p.stations, func(s Station) string { return s.ID })
	p.staffNo = numbers(p.staff, func(s Staff) string { return s.ID })
	p.defaults()
	p.setStaff()
	p.setActivities()
	p.setOptions()
	p.setPairs()
	p.setPins()
	return p
}

func sorted[T any](list []T, id func(T) string) []T {
	out := slices.Clone(list)
	slices.SortFunc(out, func(a, b T) int { return cmp.Compare(id(a), id(b)) })
	return out
}

func numbers[T any](list []T, id func(T) string) map[string]int {
	out := make(map[string]int, len(list))
	for i, x := range list {
		out[id(x)] = i
	}
	return out
}

func (p *problem) defaults() {
	p.variety = cmp.Or(p.in.MaxActivities, 2)
	p.maxStations = cmp.Or(p.in.MaxStations, max(p.groups, p.rots))
	p.perLead = cmp.Or(p.in.StationsPerLead, 1)
	p.least, p.most = p.in.GroupMin, p.in.GroupMax
	if p.least == 0 {
		p.least = p.n / p.groups
		if p.most > 0 {
			p.least = min(p.least, p.most)
		}
	}
	if p.most == 0 {
		p.most = max(p.least, (p.n+p.groups-1)/p.groups)
	}
	q := cmp.Or(p.in.Learn, DefaultLearn)
	p.gain = make([]float64, p.seconds+1)
	for k := range p.gain {
		p.gain[k] = 1 - math.Pow(1-q, float64(k))
	}
}

func (p *problem) setStaff() {
	for i, s := range p.staff {
		if s.Adult {
			p.adults |= 1 << i
		}
		if s.CanLead {
			p.leads |= 1 << i
		}
	}
	p.spare = bits.OnesCount32(p.adults) - max(1, p.in.AdultsFreeNeeded)
}

func (p *problem) setActivities() {
	list := sorted(p.in.Activities, func(a Activity) string { return a.ID })
	p.actNo = numbers(list, func(a Activity) string { return a.ID })
	stock := sorted(p.in.Stock, func(s Stock) string { return s.Key })
	keyNo := numbers(stock, func(s Stock) string { return s.Key })
	for _, s := range stock {
		p.stock = append(p.stock, s.Count)
	}
	hard := cmp.Or(p.in.HardFrom, 2)
	for _, a := range list {
		act := activity{Activity: a, places: p.n, backHard: a.Load.Back >= hard && !p.in.AllowBackInRow,
			wristHard: a.Load.Wrists >= hard && !p.in.AllowWristsInRow}
		for _, e := range a.Equipment {
			no, known := keyNo[e.Key]
			if !known {
				no = len(p.stock)
				keyNo[e.Key] = no
				p.stock = append(p.stock, 0)
			}
			act.needs = append(act.needs, need{no, e.Count})
			act.places = min(act.places, e.Places)
		}
		for i, s := range p.staff {
			if s.MaySpot && slices.Contains(s.SignedOff, a.ID) {
				act.signed |= 1 << i
			}
		}
		p.acts = append(p.acts, act)
	}
}

func (p *problem) setOptions() {
	p.options = make([][][]option, p.n)
	for i, c := range p.children {
		p.options[i] = make([][]option, len(p.stations))
		for _, o := range c.Options {
			act, st := p.actNo[o.ActivityID], p.placeNo[o.StationID]
			if p.forbids(c, act) == "" {
				p.options[i][st] = append(p.options[i][st], p.newOption(c, act, o.Priority))
			}
		}
		for st := range p.options[i] {
			slices.SortFunc(p.options[i][st], func(a, b option) int { return a.act - b.act })
		}
	}
}

// forbids says which rule keeps a child from an activity wherever and whenever, or nothing.
func (p *problem) forbids(c Child, act int) Rule {
	a := &p.acts[act]
	switch {
	case c.AvoidBack && a.Load.Back > 0, c.AvoidWrists && a.Load.Wrists > 0, c.AvoidLanding && a.Load.Landing > 0,
		c.AvoidInverted && a.Inverted:
		return RuleCare
	case !a.Load.Fits(c.Caps):
		return RuleLoad
	case a.TurnSeconds > p.seconds:
		return RuleTurn
	case bits.OnesCount32(a.signed) < a.SpottersNeeded || a.SpottersNeeded > 0 && !p.canSpare(a):
		return RuleSpotting
	}
	for _, n := range a.needs {
		if p.stock[n.key] < n.count {
			return RuleEquipment
		}
	}
	return ""
}

// canSpare reports whether enough people signed off for an activity can spot it without leaving too few adults free.
func (p *problem) canSpare(a *activity) bool {
	helpers := bits.OnesCount32(a.signed &^ p.adults)
	adults := min(bits.OnesCount32(a.signed&p.adults), max(0, p.spare))
	return helpers+adults >= a.SpottersNeeded
}

func (p *problem) newOption(c Child, act int, prio float64) option {
	a := &p.acts[act]
	limit := turnsWithin(c.Caps, a.Load)
	worth := make([]int64, p.seconds/a.TurnSeconds+1)
	for k := range worth {
		worth[k] = int64(math.Round(prio * p.gain[min(k, limit)] * unit))
	}
	return option{act: act, prio: prio, worth: worth}
}

// turnsWithin is how many turns of a load fit into what is left of a cap.
func turnsWithin(left, turn load.Load) int {
	most := math.MaxInt
	for _, k := range load.Kinds() {
		if t := turn.Of(k); t > 0 {
			most = min(most, max(0, left.Of(k))/t)
		}
	}
	return most
}

func (p *problem) setPairs() {
	p.together, p.apart, p.last = make([]uint64, p.n), make([]uint64, p.n), make([]int, p.n)
	for i := range p.n {
		p.together[i], p.last[i] = 1<<i, -1
	}
	for _, pair := range p.in.KeepTogether {
		joined := p.together[p.childNo[pair.A]] | p.together[p.childNo[pair.B]]
		for m := joined; m != 0; m &= m - 1 {
			p.together[bits.TrailingZeros64(m)] = joined
		}
	}
	for _, pair := range p.in.KeepApart {
		a, b := p.childNo[pair.A], p.childNo[pair.B]
		p.apart[a] |= 1 << b
		p.apart[b] |= 1 << a
	}
	for g, ids := range p.in.LastGroups {
		for _, id := range ids {
			if i, here := p.childNo[id]; here {
				p.last[i] = g
			}
		}
	}
}

// filled is a table of rows by columns that holds v everywhere.
func filled[T any](rows, columns int, v T) [][]T {
	out := make([][]T, rows)
	for r := range out {
		out[r] = slices.Repeat([]T{v}, columns)
	}
	return out
}

func (p *problem) setPins() {
	p.groupPin = slices.Repeat([]int{-1}, p.n)
	p.stationPin, p.actPin = filled(p.rots, p.groups, -1), filled(p.rots, p.n, -1)
	p.leadPin, p.spotPin = filled(p.rots, len(p.stations), -1), filled(p.rots, len(p.stations), uint32(0))
	p.busy = make([]uint32, p.rots)
	pins := p.in.Pins
	p.labelled = len(pins.Groups)+len(pins.Stations) > 0
	for _, pin := range pins.Groups {
		p.pin(&p.groupPin[p.childNo[pin.ChildID]], pin.Group-1, "A child is pinned to two groups.")
	}
	for _, pin := range pins.Stations {
		p.pin(&p.stationPin[pin.Rotation-1][pin.Group-1], p.placeNo[pin.StationID], "A group is pinned to two stations at once.")
	}
	for _, pin := range pins.Activities {
		p.pin(&p.actPin[pin.Rotation-1][p.childNo[pin.ChildID]], p.actNo[pin.ActivityID], "A child is pinned to two activities at once.")
	}
	for _, pin := range pins.Duties {
		who, at := p.staffNo[pin.StaffID], p.placeNo[pin.StationID]
		p.busy[pin.Rotation-1] |= 1 << who
		if pin.Duty == SpotDuty && !p.staff[who].MaySpot {
			p.faults = append(p.faults, Conflict{RulePin, named(p.staff[who].Name, p.staff[who].ID) + " is pinned to spot and may not spot.",
				[]string{"Release the pin."}})
		}
		if pin.Duty == SpotDuty {
			p.spotPin[pin.Rotation-1][at] |= 1 << who
		} else {
			p.pin(&p.leadPin[pin.Rotation-1][at], who, "Two people are pinned to run one station at once.")
		}
	}
}

func (p *problem) pin(slot *int, v int, contradiction string) {
	if *slot >= 0 && *slot != v {
		p.faults = append(p.faults, Conflict{RulePin, contradiction, []string{"Release one of the two pins."}})
	}
	*slot = v
}

// open lists what a child may do at a station in a rotation: only the pinned activity where there is a pin.
func (p *problem) open(r, child, st int) []option {
	list := p.options[child][st]
	pin := p.actPin[r][child]
	if pin == none {
		return list
	}
	for i := range list {
		if list[i].act == pin {
			return list[i : i+1]
		}
	}
	return nil
}

// members lists the numbers in a set of children.
func members(set uint64) []int {
	out := make([]int, 0, bits.OnesCount64(set))
	for ; set != 0; set &= set - 1 {
		out = append(out, bits.TrailingZeros64(set))
	}
	return out
}
