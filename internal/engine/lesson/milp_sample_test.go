package lesson

import (
	"fmt"
	"math/rand/v2"
	"time"

	"rungbook/internal/engine/load"
)

// fair makes a lesson in which a child rests for the load of one station alone, so that the model needs no order of
// rests: each kind of load is at one station with narrow limits, or (wide) anywhere with wide limits and hard work.
func fair(seed uint64, children, stations, rotations, activities int) Input {
	rng := rand.New(rand.NewPCG(seed, 11))
	wide := seed%2 == 0
	in := Input{Seed: int64(seed), Budget: 3 * time.Second, Rotations: rotations, WorkSeconds: 120 + 60*rng.IntN(4), Groups: stations, Learn: 0.2 + 0.05*float64(rng.IntN(6)),
		TurnFloor: rng.IntN(3 * rotations), AdultsFreeNeeded: rng.IntN(2), MaxActivities: 1 + rng.IntN(3), StationsPerLead: 1 + rng.IntN(2), HardFrom: 1 + rng.IntN(3),
		AllowRepeatStation: wide && rng.IntN(4) == 0, Stock: []Stock{{Key: "mat", Count: stations + rng.IntN(stations+2)}}}
	for s := range stations + rng.IntN(2) {
		st := string(rune('p' + s))
		in.Stations = append(in.Stations, Station{ID: st})
		for a := range activities {
			act := Activity{ID: fmt.Sprint(st, a), TurnSeconds: 10 + 5*rng.IntN(6), SpottersNeeded: []int{0, rng.IntN(2), 1 + rng.IntN(2)}[a]}
			l := []*int{&act.Load.Back, &act.Load.Wrists, &act.Load.Landing}
			*l[s%3] = one(wide || s < 3) * rng.IntN(3)
			if wide {
				*l[rng.IntN(3)] = rng.IntN(4)
			}
			if rng.IntN(3) > 0 {
				act.Equipment = []Need{{"mat", 1 + rng.IntN(2), 1 + rng.IntN(3)}}
			}
			in.Activities = append(in.Activities, act)
		}
	}
	for i := range children {
		in.Children = append(in.Children, fairChild(rng, in, i, wide))
	}
	for i := range stations + rng.IntN(2) {
		s := Staff{ID: fmt.Sprintf("w%d", i), Adult: i < 2 || rng.IntN(2) == 0, MaySpot: i == 0 || rng.IntN(4) > 0, CanLead: i < 3 || rng.IntN(2) > 0}
		for _, a := range in.Activities {
			if rng.IntN(3) > 0 {
				s.SignedOff = append(s.SignedOff, a.ID)
			}
		}
		in.Staff = append(in.Staff, s)
	}
	fairWishes(rng, &in)
	if children > 8 { // keeps the model small enough for general solvers
		in.MaxActivities, in.GroupMin, in.GroupMax = 1, 0, 0
	}
	return in
}

func fairChild(rng *rand.Rand, in Input, i int, wide bool) Child {
	c := Child{ID: string(rune('a' + i)), Caps: load.Load{Back: 2 + rng.IntN(8), Wrists: 2 + rng.IntN(8), Landing: 2 + rng.IntN(8)}, AvoidLanding: rng.IntN(9) == 0}
	if wide {
		c.Caps = load.Load{Back: 500, Wrists: 500, Landing: 500}
	}
	for _, a := range in.Activities {
		if a.SpottersNeeded == 0 || rng.IntN(3) > 0 {
			c.Options = append(c.Options, Option{a.ID, a.ID[:1], 0.5 + float64(a.SpottersNeeded) + float64(rng.IntN(16))/8})
		}
	}
	return c
}

func fairWishes(rng *rand.Rand, in *Input) {
	if rng.IntN(3) == 0 {
		in.KeepApart = []Pair{{"a", "b"}}
	}
	if rng.IntN(3) == 0 {
		in.KeepTogether = []Pair{{"b", "c"}}
	}
	if rng.IntN(4) == 0 {
		in.GroupMin, in.GroupMax = 1, (len(in.Children)+in.Groups-1)/in.Groups+1
	}
	if rng.IntN(4) == 0 {
		in.Pins.Groups = []GroupPin{{"a", 1}, {"d", 1 + rng.IntN(2)}}
	}
	if rng.IntN(4) == 0 {
		in.Pins.Activities = []ActivityPin{{1, "c", "p0"}}
	}
	if rng.IntN(4) == 0 {
		in.Pins.Duties = []DutyPin{{1, "w0", "q", []Duty{LeadDuty, SpotDuty}[rng.IntN(2)]}}
	}
}
