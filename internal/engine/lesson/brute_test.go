package lesson

import (
	"context"
	"errors"
	"fmt"
	"math"
	"slices"
	"testing"
	"time"

	"pgregory.net/rapid"

	"rungbook/internal/engine/load"
)

// brute enumerates every plan of a tiny lesson and gives the fewest turns missing to the floor and, among those plans,
// the greatest worth. It shares nothing with the planner: the rules are judged by Check, the sums are its own.
type brute struct {
	in    Input
	plan  Plan
	found bool
	short int
	worth float64
	best  Plan
}

func bruteForce(in Input) *brute {
	b := &brute{in: in, short: math.MaxInt}
	b.deal(0, make([][]string, in.Groups))
	return b
}

// deal tries every group for every child.
func (b *brute) deal(i int, groups [][]string) {
	if i < len(b.in.Children) {
		for g := range groups {
			next := append([][]string{}, groups...)
			next[g] = append(append([]string{}, groups[g]...), b.in.Children[i].ID)
			b.deal(i+1, next)
		}
		return
	}
	b.plan = Plan{Groups: groups}
	for _, ids := range groups {
		if len(ids) == 0 || b.in.GroupMax > 0 && len(ids) > b.in.GroupMax || b.in.GroupMax == 0 && len(ids) > (len(b.in.Children)+b.in.Groups-1)/b.in.Groups {
			return // saves time only: Check would say the same
		}
	}
	var rotations [][][]Cell
	for r := 1; r <= b.in.Rotations; r++ {
		all := b.rotation(r)
		if len(all) == 0 {
			return
		}
		rotations = append(rotations, all)
	}
	b.combine(rotations, nil)
}

// rotation lists the ways to lay out one rotation that break no rule of a lesson with this rotation alone. Ways with the
// same stations, activities and turns count once.
func (b *brute) rotation(r int) [][]Cell {
	alone := b.in
	alone.Rotations, alone.MaxStations, alone.Pins = 1, len(b.in.Stations), Pins{Groups: b.in.Pins.Groups}
	for _, pin := range b.in.Pins.Duties {
		if pin.Rotation == r {
			pin.Rotation = 1
			alone.Pins.Duties = append(alone.Pins.Duties, pin)
		}
	}
	alone.Children = nil
	for _, c := range b.in.Children {
		c.Caps = load.Load{Back: 1000, Wrists: 1000, Landing: 1000} // who reaches a cap rests: see rest
		alone.Children = append(alone.Children, c)
	}
	var out [][]Cell
	seen := map[string]bool{}
	var cells func(g int, cells []Cell)
	cells = func(g int, sofar []Cell) {
		if g == b.in.Groups {
			one := append([]Cell{}, sofar...)
			key := b.clock(one)
			if !seen[key] && b.led(alone, one, 0) {
				seen[key] = true
				for i := range one {
					one[i].Rotation = r
				}
				out = append(out, one)
			}
			return
		}
		for _, st := range b.in.Stations {
			if g > 0 && sofar[0].StationID == st.ID {
				continue // saves time only, as the next two
			}
			for mask := range 1 << len(b.in.Staff) {
				var spotters []string
				if g > 0 && slices.ContainsFunc(sofar[0].Spotters, func(id string) bool { return mask>>(id[0]-'S')&1 == 1 }) ||
					slices.ContainsFunc(b.in.Staff, func(s Staff) bool { return mask>>(s.ID[0]-'S')&1 == 1 && !s.MaySpot }) {
					continue
				}
				for w, s := range b.in.Staff {
					if mask>>w&1 == 1 {
						spotters = append(spotters, s.ID)
					}
				}
				b.entries(b.plan.Groups[g], st.ID, nil, func(entries []Entry) {
					cells(g+1, append(append([]Cell{}, sofar...), Cell{Rotation: 1, Group: g + 1, StationID: st.ID, Spotters: spotters, Entries: entries}))
				})
			}
		}
	}
	cells(0, nil)
	return out
}

// led tries everybody as the lead of every cell until Check finds nothing. It leaves off when another rule is broken.
func (b *brute) led(alone Input, cells []Cell, from int) bool {
	if from == len(cells) {
		return len(Check(alone, Plan{Groups: b.plan.Groups, Cells: cells})) == 0
	}
	for _, lead := range b.in.Staff {
		cells[from].Lead = lead.ID
		if b.led(alone, cells, from+1) {
			return true
		}
		if from == 0 && slices.ContainsFunc(Check(alone, Plan{Groups: b.plan.Groups, Cells: cells}), func(b Breach) bool {
			return b.Rule != RuleLead && b.Rule != RuleTwoPlaces && b.Rule != RulePin
		}) {
			return false
		}
	}
	return false
}

func (b *brute) entries(ids []string, st string, sofar []Entry, use func([]Entry)) {
	if len(ids) == 0 {
		use(append([]Entry{}, sofar...))
		return
	}
	for _, c := range b.in.Children {
		if c.ID != ids[0] {
			continue
		}
		for _, o := range c.Options {
			if o.StationID == st {
				b.entries(ids[1:], st, append(append([]Entry{}, sofar...), Entry{ChildID: c.ID, ActivityID: o.ActivityID}), use)
			}
		}
	}
}

// clock writes the turns of every cell into its entries and gives a key for stations, activities and turns.
func (b *brute) clock(cells []Cell) string {
	key := ""
	for c := range cells {
		cell := &cells[c]
		places, sum, longest := float64(len(cell.Entries)), 0.0, 0.0
		for _, e := range cell.Entries {
			a := b.activity(e.ActivityID)
			sum, longest = sum+float64(a.TurnSeconds), math.Max(longest, float64(a.TurnSeconds))
			for _, n := range a.Equipment {
				places = math.Min(places, float64(n.Places))
			}
			if a.SpottersNeeded > 0 {
				signed := 0
				for _, s := range b.in.Staff {
					for _, id := range cell.Spotters {
						for _, done := range s.SignedOff {
							if s.ID == id && s.MaySpot && done == a.ID {
								signed++
							}
						}
					}
				}
				places = math.Min(places, float64(signed/a.SpottersNeeded))
			}
		}
		turns := 0
		if places > 0 && sum > 0 {
			turns = int(float64(b.in.WorkSeconds)/math.Max(sum/places, longest) + 1e-9)
		}
		key += fmt.Sprint(cell.StationID, turns)
		for i := range cell.Entries {
			cell.Entries[i].Turns = turns
			key += cell.Entries[i].ActivityID
		}
	}
	return key
}

func (b *brute) activity(id string) Activity {
	for _, a := range b.in.Activities {
		if a.ID == id {
			return a
		}
	}
	panic("no such activity")
}

func (b *brute) combine(rotations [][][]Cell, sofar []Cell) {
	if len(rotations) > 0 {
		for _, way := range rotations[0] {
			b.combine(rotations[1:], append(append([]Cell{}, sofar...), way...))
		}
		return
	}
	cells := make([]Cell, len(sofar))
	for i, c := range sofar {
		cells[i] = c
		cells[i].Entries = append([]Entry{}, c.Entries...)
	}
	short, worth := b.rest(cells)
	if b.found && (short > b.short || short == b.short && worth <= b.worth+1e-9) {
		return
	}
	p := Plan{Groups: b.plan.Groups, Cells: cells}
	if len(Check(b.in, p)) == 0 {
		b.found, b.short, b.worth, b.best = true, short, worth, p
	}
}

// rest lets children rest when a cap is reached, and sums up.
func (b *brute) rest(cells []Cell) (short int, worth float64) {
	q := b.in.Learn
	if q == 0 {
		q = 0.35
	}
	for _, c := range b.in.Children {
		left, total := c.Caps, 0
		for i := range cells {
			for j := range cells[i].Entries {
				e := &cells[i].Entries[j]
				if e.ChildID != c.ID {
					continue
				}
				one := b.activity(e.ActivityID).Load
				turns := 0
				for turns < e.Turns && one.Times(turns+1).Fits(left) {
					turns++
				}
				e.Turns = turns
				done := one.Times(turns)
				left = load.Load{Back: left.Back - done.Back, Wrists: left.Wrists - done.Wrists, Landing: left.Landing - done.Landing}
				total += turns
				for _, o := range c.Options {
					if o.ActivityID == e.ActivityID && o.StationID == cells[i].StationID {
						worth += o.Priority * (1 - math.Pow(1-q, float64(turns)))
					}
				}
			}
		}
		short += max(0, b.in.TurnFloor-total)
	}
	return short, worth
}

// tiny draws a lesson small enough to enumerate, in which every kind of rule can bite.
func tiny(t *rapid.T) Input {
	in := Input{Budget: time.Minute, Rotations: rapid.IntRange(1, 2).Draw(t, "rotations"), WorkSeconds: rapid.SampledFrom([]int{60, 120, 200}).Draw(t, "seconds"),
		Groups: rapid.IntRange(1, 2).Draw(t, "groups"), TurnFloor: rapid.IntRange(0, 8).Draw(t, "floor"),
		AdultsFreeNeeded: rapid.IntRange(0, 1).Draw(t, "adults free"), MaxActivities: rapid.IntRange(1, 2).Draw(t, "variety"),
		StationsPerLead: rapid.IntRange(1, 2).Draw(t, "per lead"), AllowRepeatStation: rapid.Bool().Draw(t, "repeat"),
		HardFrom: rapid.IntRange(1, 3).Draw(t, "hard"), Stations: []Station{{ID: "x"}, {ID: "y"}},
		Stock: []Stock{{Key: "mat", Count: rapid.IntRange(1, 3).Draw(t, "mats")}}}
	n := rapid.IntRange(in.Groups, 4).Draw(t, "children")
	if rapid.Bool().Draw(t, "free sizes") {
		in.GroupMin, in.GroupMax = 1, 3
	}
	for _, id := range []string{"x1", "x2", "y1", "y2"} {
		a := Activity{ID: id, TurnSeconds: rapid.SampledFrom([]int{10, 15, 25, 40}).Draw(t, "turn"), Inverted: rapid.Bool().Draw(t, "inverted"),
			SpottersNeeded: rapid.SampledFrom([]int{0, 0, 1, 1, 2}).Draw(t, "spotters"),
			Load:           load.Load{Back: rapid.IntRange(0, 3).Draw(t, "back"), Wrists: rapid.IntRange(0, 2).Draw(t, "wrists")}}
		if rapid.Bool().Draw(t, "equipment") {
			a.Equipment = []Need{{Key: "mat", Count: rapid.IntRange(1, 2).Draw(t, "count"), Places: rapid.IntRange(1, 2).Draw(t, "places")}}
		}
		in.Activities = append(in.Activities, a)
	}
	for i := range n {
		c := Child{ID: string(rune('a' + i)), Caps: load.Load{Back: rapid.IntRange(2, 25).Draw(t, "cap"), Wrists: rapid.IntRange(5, 25).Draw(t, "cap"), Landing: 9},
			AvoidInverted: rapid.IntRange(0, 5).Draw(t, "avoid") == 0}
		for _, id := range []string{"x1", "x2", "y1", "y2"} {
			if rapid.IntRange(0, 3).Draw(t, "open") > 0 {
				c.Options = append(c.Options, Option{id, id[:1], float64(rapid.IntRange(1, 40).Draw(t, "priority")) / 8})
			}
		}
		in.Children = append(in.Children, c)
	}
	for i := range rapid.SampledFrom([]int{1, 2, 2, 3}).Draw(t, "staff") {
		s := Staff{ID: string(rune('S' + i)), Adult: i == 0 || rapid.Bool().Draw(t, "adult"), MaySpot: rapid.Bool().Draw(t, "may spot"), CanLead: i == 0 || rapid.Bool().Draw(t, "can lead")}
		for _, a := range in.Activities {
			if rapid.Bool().Draw(t, "signed off") {
				s.SignedOff = append(s.SignedOff, a.ID)
			}
		}
		in.Staff = append(in.Staff, s)
	}
	drawPins(t, &in)
	return in
}

func drawPins(t *rapid.T, in *Input) {
	pick := func(label string) bool { return rapid.IntRange(0, 5).Draw(t, label) == 0 }
	if pick("pin group") {
		in.Pins.Groups = append(in.Pins.Groups, GroupPin{"a", rapid.IntRange(1, in.Groups).Draw(t, "group")})
	}
	if pick("pin station") {
		in.Pins.Stations = append(in.Pins.Stations, StationPin{1, rapid.IntRange(1, in.Groups).Draw(t, "group"), "x"})
	}
	if pick("pin activity") {
		in.Pins.Activities = append(in.Pins.Activities, ActivityPin{in.Rotations, "a", "y1"})
	}
	if pick("pin duty") {
		in.Pins.Duties = append(in.Pins.Duties, DutyPin{1, "S", "x", rapid.SampledFrom([]Duty{LeadDuty, SpotDuty}).Draw(t, "duty")})
	}
	if len(in.Children) > 1 && pick("together") {
		in.KeepTogether = []Pair{{"a", "b"}}
	}
	if len(in.Children) > 2 && pick("apart") {
		in.KeepApart = []Pair{{"b", "c"}}
	}
}

// Source: none needed, every plan is enumerated.
func TestBestPlanOfTinyLessonsAgainstEveryPlan(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := tiny(t)
		truth := bruteForce(in)
		res, err := Propose(context.Background(), in)
		var none *Infeasible
		if errors.As(err, &none) {
			if truth.found {
				t.Fatalf("called infeasible (%v), yet there is a plan worth %g: %+v", err, truth.worth, truth.best)
			}
			return
		}
		if err != nil {
			t.Fatal(err)
		}
		if broken := Check(in, res.Plan); len(broken) > 0 {
			t.Fatalf("plan breaks a rule: %+v", broken)
		}
		if !truth.found {
			t.Fatalf("a plan where enumeration finds none: %+v", res.Plan)
		}
		const close = 1e-4 // worth is counted in millionths
		if res.Plan.Short < truth.short || res.Plan.Short == truth.short && res.Plan.Worth > truth.worth+close {
			t.Fatalf("better than the best of all plans: %d, %g against %d, %g", res.Plan.Short, res.Plan.Worth, truth.short, truth.worth)
		}
		if res.Plan.Short == truth.short && truth.worth > res.Bound+close {
			t.Fatalf("bound %g is below the best worth %g", res.Bound, truth.worth)
		}
		if res.Optimal && (res.Plan.Short != truth.short || math.Abs(res.Plan.Worth-truth.worth) > close) {
			t.Fatalf("called optimal: %d, %g; the best is %d, %g: %+v", res.Plan.Short, res.Plan.Worth, truth.short, truth.worth, truth.best)
		}
		if !res.Optimal && res.Complete && res.Plan.Short == truth.short && math.Abs(res.Plan.Worth-truth.worth) > close {
			t.Fatalf("a tiny lesson is not solved: %g, the best is %g", res.Plan.Worth, truth.worth)
		}
	})
}
